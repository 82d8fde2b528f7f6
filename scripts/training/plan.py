"""How long and how fast the network is fitted."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Plan:
    """`rows` answers in batches of `size`, the share `people` of them said by people; `rate` at its highest; the
    embeddings and the lowest `kept` layers stay as they are (0: only the words' embeddings)."""

    seed: int = 1
    rows: int = 7_000_000
    people: float = 0.1
    size: int = 256
    rate: float = 3e-4
    kept: int = 0
