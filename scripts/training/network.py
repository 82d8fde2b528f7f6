"""The network: the encoder, a layer of classes for the whole answer, and one of tags for each word."""

from __future__ import annotations

from typing import Any

import torch
from torch import Tensor, nn
from transformers import BertConfig, BertModel

from coach.language.en.reader.heads import CLASSES, TAGS

LAYERS, WIDTH, BROAD, PARTS, PLACES = 6, 384, 1536, 12, 512


class Network(nn.Module):
    """Numbers of pieces (batch, length) to logits: classes (batch, CLASSES) and tags (batch, length, TAGS)."""

    def __init__(self, vocabulary: int, dropout: float = 0.1) -> None:
        super().__init__()
        config = BertConfig(
            vocab_size=vocabulary, hidden_size=WIDTH, num_hidden_layers=LAYERS, num_attention_heads=PARTS,
            intermediate_size=BROAD, max_position_embeddings=PLACES, hidden_dropout_prob=dropout,
            attention_probs_dropout_prob=dropout,
        )  # fmt: skip
        self.encoder = BertModel(config, add_pooling_layer=False)
        self.pooled = nn.Sequential(nn.Linear(2 * WIDTH, 2 * WIDTH), nn.GELU(), nn.Dropout(dropout))
        self.classes = nn.Linear(2 * WIDTH, CLASSES)
        self.tags = nn.Linear(WIDTH, len(TAGS))

    def load_encoder(self, weights: dict[str, Any]) -> None:
        """The pretrained weights, by their usual names."""
        state = {name: torch.from_numpy(array).float() for name, array in weights.items()}
        missing, unexpected = self.encoder.load_state_dict(state, strict=False)
        assert not unexpected and not missing, (missing, unexpected)
        # Words that the data lacks keep their sense.
        self.encoder.embeddings.word_embeddings.weight.requires_grad = False

    def keep(self, layers: int) -> None:
        """Leave the embeddings and so many of the lowest layers as they are."""
        for part in (self.encoder.embeddings, *self.encoder.encoder.layer[:layers]) if layers else ():
            part.requires_grad_(False)

    def forward(self, pieces: Tensor, mask: Tensor, kinds: Tensor) -> tuple[Tensor, Tensor]:
        """`mask` is 1 for pieces and 0 for what fills up; `kinds` 0 for the moment, 1 for the answer."""
        hidden = self.encoder(input_ids=pieces, attention_mask=mask, token_type_ids=kinds).last_hidden_state
        weight = mask.unsqueeze(-1).to(hidden.dtype)
        mean = (hidden * weight).sum(1) / weight.sum(1)
        both = torch.cat((hidden[:, 0], mean), -1)
        return self.classes(self.pooled(both)), self.tags(hidden)
