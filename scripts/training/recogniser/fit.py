"""Fits the changes: what is said in lessons is learned from its text, what is general is held to what the model wrote
of it before.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path
from random import Random

import numpy as np
import torch
from tokenizers import Tokenizer
from torch import Tensor
from torch.nn.functional import cross_entropy
from torch.nn.utils import clip_grad_norm_

from training.recogniser.clips import IGNORED, Clip, Texts, batches, clips
from training.recogniser.mel import filters, log_mel, masked
from training.recogniser.network import Network
from training.recogniser.plan import Plan
from training.recogniser.rooms import Rooms

_TEXT, _OLD = 0.3, 0.7  # of a general sentence: the weight of its text, and of what the model was before
_WARM, _LEAST = 60, 0.01  # steps in which the rate grows; the share of it that is left in the end
_TOLD = 50  # steps between lines about how it goes


def fit(plan: Plan, folder: Path, model: Path) -> dict[str, np.ndarray]:
    """The changes of the `model`, a folder, that the sounds in `folder` teach, on a GPU where there is one. Raises
    FileNotFoundError where either is missing."""
    torch.manual_seed(plan.seed)
    torch.backends.cuda.matmul.allow_tf32 = True
    device, random = torch.device("cuda" if torch.cuda.is_available() else "cpu"), Random(plan.seed)
    tokenizer = Tokenizer.from_str((model / "tokenizer.json").read_text("utf-8"))
    learned = clips(folder, tokenizer)
    print(f"{len(learned)} sounds, {sum(clip.general for clip in learned)} of them general", flush=True)
    network = Network((model / "model.bin").read_bytes(), plan.rank, plan.parts).to(device)
    steps = Steps(network, learned, Texts(learned, tokenizer, random), random)
    optimiser = torch.optim.AdamW(network.parameters(), lr=plan.rate, weight_decay=0.01)
    mean, began = 0.0, time.monotonic()
    for step, batch in enumerate(batches([len(clip.samples) for clip in learned], plan.size, random)):
        gone = (time.monotonic() - began) / plan.seconds
        if gone >= 1:
            break
        optimiser.param_groups[0]["lr"] = plan.rate * min((step + 1) / _WARM, max(_LEAST, 1 - gone))
        lost = steps.lost(batch)
        optimiser.zero_grad(set_to_none=True)
        lost.backward()
        clip_grad_norm_(network.parameters(), 1.0)
        optimiser.step()
        if step % 10 == 0:
            mean += (float(lost.detach()) - mean) / min(step // 10 + 1, 20)
        if step % _TOLD == 0:
            print(f"{step} {mean:.3f} {gone * plan.seconds:.0f} s", flush=True)
    return network.changes()


class Steps:
    """What is lost on batches of clips, each time in another room."""

    def __init__(self, network: Network, learned: Sequence[Clip], texts: Texts, random: Random) -> None:
        self._network, self._texts, self._random = network, texts, random
        self._device = next(network.parameters()).device
        self._rooms = Rooms([clip.samples for clip in learned], self._device, random)
        self._filters = filters().to(self._device)
        self._general = torch.tensor([clip.general for clip in learned])

    def lost(self, batch: Sequence[int]) -> Tensor:
        """A number: the cross entropy with the texts, and how far general sentences are from before."""
        given, following = (each.to(self._device) for each in self._texts.of(batch))
        general = self._general[list(batch)]
        mel = masked(log_mel(self._rooms.heard(batch), self._filters), self._random)
        logits = self._logits(given, mel)
        counts = following != IGNORED
        weights = torch.where(general, _TEXT, 1.0).to(self._device)[:, None] * counts
        entropy = cross_entropy(logits.flatten(0, 1), following.flatten(), ignore_index=IGNORED, reduction="none")
        lost = (entropy.view_as(weights) * weights).sum() / weights.sum()
        if general.any():
            at = general.nonzero()[:, 0].to(self._device)
            with torch.no_grad(), self._network.unchanged():
                old = self._logits(given[at], mel[at])
            apart = _divergence(old.log_softmax(-1), logits[at].log_softmax(-1)) * counts[at]
            lost = lost + _OLD * apart.sum() / counts[at].sum()
        return lost

    def _logits(self, given: Tensor, mel: Tensor) -> Tensor:
        with torch.autocast(self._device.type, torch.bfloat16, enabled=self._device.type == "cuda"):
            return self._network.decode(given, self._network.encode(mel)).float()


def _divergence(old: Tensor, new: Tensor) -> Tensor:
    """Kullback and Leibler's, of log probabilities; the last dimension goes."""
    return (old.exp() * (old - new)).sum(-1)
