"""Whisper as model.bin has it, in torch: its own weights stay, low-rank changes of its linear layers are fitted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import numpy as np
import torch
import torch.nn.functional as F  # noqa: N812 (its usual name)
from torch import Tensor, nn

from coach.speech.ears.adapted import arrays

_HEAD = 64  # values of a head, in every Whisper


class Network(nn.Module):
    """Encoder and decoder. The changes begin with nothing: `narrow` (rank x in) at random, `wide` (out x rank) 0."""

    def __init__(self, model: bytes, rank: int, parts: Sequence[str]) -> None:
        super().__init__()
        self.narrow, self.wide = nn.ParameterDict(), nn.ParameterDict()
        for stored in arrays(model):
            name = stored.name
            self.register_buffer(name, torch.from_numpy(stored.of(model).astype(np.float32)))
            if name.split("/")[0] in parts and "linear" in name and name.endswith("/weight"):
                out, width = stored.shape
                self.narrow[name] = nn.Parameter(torch.randn(rank, width) / width**0.5)
                self.wide[name] = nn.Parameter(torch.zeros(out, rank))
        names = {"/".join(name.split("/")[:2]) for name, _ in self.named_buffers() if "/layer_" in name}
        self._layers = sorted(name for name in names if not name.endswith("layer_norm"))
        self._changed = True

    def encode(self, mel: Tensor) -> Tensor:
        """batch x 80 x frames (10 ms) to batch x frames / 2 x width."""
        x = F.gelu(F.conv1d(mel, self._of("encoder/conv1/weight"), self._of("encoder/conv1/bias"), padding=1))
        x = F.gelu(F.conv1d(x, self._of("encoder/conv2/weight"), self._of("encoder/conv2/bias"), stride=2, padding=1))
        x = x.transpose(1, 2)
        x = x + self._of("encoder/position_encodings/encodings")[: x.shape[1]]
        for layer in self._of_part("encoder"):
            x = self._itself(x, f"{layer}/self_attention", causal=False)
            x = self._forward(x, f"{layer}/ffn")
        return self._norm(x, "encoder/layer_norm")

    def decode(self, tokens: Tensor, encoded: Tensor) -> Tensor:
        """Tokens (batch x length) and what was encoded to logits of the token after each, batch x length x tokens."""
        embeddings = self._of("decoder/embeddings/weight")
        x = F.embedding(tokens, embeddings) + self._of("decoder/position_encodings/encodings")[: tokens.shape[1]]
        for layer in self._of_part("decoder"):
            x = self._itself(x, f"{layer}/self_attention", causal=True)
            x = self._across(x, encoded, f"{layer}/attention")
            x = self._forward(x, f"{layer}/ffn")
        return F.linear(self._norm(x, "decoder/layer_norm"), embeddings)

    @contextmanager
    def unchanged(self) -> Iterator[None]:
        """Within it the network is what it was before."""
        self._changed = False
        try:
            yield
        finally:
            self._changed = True

    def changes(self) -> dict[str, np.ndarray]:
        """NAME@a (rank x in) and NAME@b (out x rank) of each changed weight, as `speech.ears.adapted` adds them."""
        pairs = [(f"{name}@a", value) for name, value in self.narrow.items()]
        pairs += [(f"{name}@b", value) for name, value in self.wide.items()]
        return {name: value.detach().cpu().numpy().astype(np.float16) for name, value in pairs}

    def _of(self, name: str) -> Tensor:
        return self.get_buffer(name)

    def _of_part(self, part: str) -> list[str]:
        return [layer for layer in self._layers if layer.startswith(part)]

    def _linear(self, x: Tensor, name: str) -> Tensor:
        weight = f"{name}/weight"
        y = F.linear(x, self._of(weight), self._of(f"{name}/bias"))
        if self._changed and weight in self.narrow:
            y = y + F.linear(F.linear(x, self.narrow[weight]), self.wide[weight])
        return y

    def _norm(self, x: Tensor, name: str) -> Tensor:
        return F.layer_norm(x, x.shape[-1:], self._of(f"{name}/gamma"), self._of(f"{name}/beta"))

    def _itself(self, x: Tensor, name: str, causal: bool) -> Tensor:
        asked, keys, values = self._linear(self._norm(x, f"{name}/layer_norm"), f"{name}/linear_0").chunk(3, -1)
        return x + self._linear(_attended(asked, keys, values, causal), f"{name}/linear_1")

    def _across(self, x: Tensor, encoded: Tensor, name: str) -> Tensor:
        asked = self._linear(self._norm(x, f"{name}/layer_norm"), f"{name}/linear_0")
        keys, values = self._linear(encoded, f"{name}/linear_1").chunk(2, -1)
        return x + self._linear(_attended(asked, keys, values, causal=False), f"{name}/linear_2")

    def _forward(self, x: Tensor, name: str) -> Tensor:
        wide = F.gelu(self._linear(self._norm(x, f"{name}/layer_norm"), f"{name}/linear_0"))
        return x + self._linear(wide, f"{name}/linear_1")


def _attended(asked: Tensor, keys: Tensor, values: Tensor, causal: bool) -> Tensor:
    """batch x length x width each, and so is what comes of it."""
    heads = (each.unflatten(-1, (-1, _HEAD)).transpose(1, 2) for each in (asked, keys, values))
    return F.scaled_dot_product_attention(*heads, is_causal=causal).transpose(1, 2).flatten(2)
