"""How long, how fast and where the recogniser is changed."""

from dataclasses import dataclass

PARTS = ("encoder", "decoder")


@dataclass(frozen=True)
class Plan:
    """Changes of `rank` in the linear layers of `parts`; for `seconds` of learning in batches of `size` sounds, `rate`
    at its highest."""

    rank: int = 32
    parts: tuple[str, ...] = PARTS
    seconds: float = 340
    rate: float = 1.2e-3
    seed: int = 2
    size: int = 64
