"""Fits the network: batches of like length, the loss over what is allowed, generated answers mixed with what people
said, none of them seen twice in the same form.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from itertools import islice
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import torch
from safetensors.numpy import load_file
from tokenizers import Tokenizer
from torch import Tensor
from torch.optim.swa_utils import AveragedModel, get_ema_multi_avg_fn

from coach.language.en.reader.heads import CLASSES, HEAD, HEADS, NOTHING, TAGS
from training.examples import Example, generated
from training.network import Network
from training.noise import Beside, heard, mirrored
from training.plan import Plan

LONGEST = 96  # pieces
IGNORED = -100
_CHUNK = 5_000  # rows that a process makes at a time
_EVERY = 4  # steps after which the mean of the weights takes a little of the present ones
_MEAN, _WARM = 800, 1000  # steps that the mean goes over, and those in which the rate grows: at most
_MEAN_SHARE, _WARM_SHARE = 0.1, 0.05  # of all steps, where these are few
_AT_ONCE = 40  # so many of these are learned from in one round


@dataclass(frozen=True)
class Rows:
    """Examples as numbers, one row each: pieces and kinds (filled up with 0), allowed classes (packed bits), tags."""

    pieces: np.ndarray  # n x LONGEST, int16
    lengths: np.ndarray  # n, int16
    kinds: np.ndarray  # n, int16: so many pieces belong to the moment
    allowed: np.ndarray  # n x bytes, uint8
    turns: np.ndarray  # n x LONGEST, int8

    def __len__(self) -> int:
        return len(self.pieces)


def joined(parts: Sequence[Rows]) -> Rows:
    """Several as one."""
    names = ("pieces", "lengths", "kinds", "allowed", "turns")
    return Rows(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))


def numbered(examples: Sequence[Example], tokenizer: Tokenizer) -> Rows:
    """The examples as numbers."""
    count = len(examples)
    pieces = np.zeros((count, LONGEST), np.int16)
    lengths, kinds = np.zeros(count, np.int16), np.zeros(count, np.int16)
    allowed = np.zeros((count, CLASSES), bool)
    turns = np.full((count, LONGEST), IGNORED, np.int8)
    pairs = [(example.context.split(), list(example.words)) for example in examples]
    every = tokenizer.encode_batch(pairs, is_pretokenized=True)
    for at, (example, coded) in enumerate(zip(examples, every, strict=True)):
        ids = coded.ids[:LONGEST]
        pieces[at, : len(ids)] = ids
        lengths[at] = len(ids)
        kinds[at] = coded.type_ids.index(1)
        allowed[at, list(example.allowed)] = True
        for place, word in _firsts(coded, len(ids)):
            turns[at, place] = TAGS.index(example.turns[word])
    return Rows(pieces, lengths, kinds, np.packbits(allowed, 1), turns)


def _firsts(coded: Any, length: int) -> list[tuple[int, int]]:
    """The first piece of each word of the answer, with the word's number."""
    found, before = [], None
    for place in range(length):
        word = coded.word_ids[place] if coded.type_ids[place] == 1 else None
        if word is not None and word != before:
            found.append((place, word))
        before = word
    return found


@dataclass(frozen=True)
class Sources:
    """What rows are made of: lines of people, words that say nothing, and the tokenizer's file."""

    people: tuple[Example, ...]
    strange: tuple[str, ...]
    tokenizer: str

    @property
    def beside(self) -> Beside:
        """What can be put beside an answer."""
        nothing = HEAD["command"].at(NOTHING)
        only = [example.words for example in self.people if nothing in example.allowed and not example.mirrors]
        return Beside(self.strange, only)


_SOURCES: dict[str, Sources] = {}  # of this process: made once, not sent with every piece of work


def _take(sources: Sources) -> None:
    _SOURCES["all"] = sources


def some_rows(seed: int, count: int, share: float) -> Rows:
    """Answers as numbers, typed or written down by a recogniser; `share` of them of people, half of these mirrored."""
    random, sources = Random(seed), _SOURCES["all"]
    beside = sources.beside
    examples: list[Example] = []
    while len(examples) < count:
        if random.random() < share:
            example = random.choice(sources.people)
            example = (random.random() < 0.5 and mirrored(example)) or example
        else:
            example = generated(random)
        examples.append(heard(random, beside.added(random, example)))
    return numbered(examples, Tokenizer.from_file(sources.tokenizer))


def rounds(plan: Plan, sources: Sources) -> Iterator[Rows]:
    """All rows, some at a time: other cores make the next while these are learned from."""
    cores = os.cpu_count() or 1
    with ProcessPoolExecutor(cores, initializer=_take, initargs=(sources,)) as pool:
        seeds = iter(range(plan.seed * 1_000_003, plan.seed * 1_000_003 + plan.rows // _CHUNK))
        waiting = [pool.submit(some_rows, seed, _CHUNK, plan.people) for seed in islice(seeds, 6 * cores)]
        while waiting:
            ready, waiting = waiting[:_AT_ONCE], waiting[_AT_ONCE:]
            rows = joined([one.result() for one in ready])
            waiting += [pool.submit(some_rows, seed, _CHUNK, plan.people) for seed in islice(seeds, len(ready))]
            yield rows


def batches(rows: Rows, size: int, random: np.random.Generator) -> Iterator[np.ndarray]:
    """Numbers of rows, those of like length together, in random order."""
    order = random.permutation(len(rows))
    pools = np.array_split(order, max(1, len(rows) // (size * 64)))
    for pool in pools:
        pool = pool[np.argsort(rows.lengths[pool], kind="stable")]
        parts = np.array_split(pool, max(1, len(pool) // size))
        random.shuffle(parts)  # type: ignore[arg-type]
        yield from parts


class Loss:
    """The cross entropy with all allowed classes of a head together, the mean over heads and words that matter."""

    def __init__(self, device: torch.device) -> None:
        member = torch.zeros(CLASSES, dtype=torch.long)
        for at, head in enumerate(HEADS):
            member[head.span] = at
        self._member = member.to(device)

    def __call__(self, classes: Tensor, tags: Tensor, allowed: Tensor, turns: Tensor) -> Tensor:
        """`allowed` batch x CLASSES, `turns` batch x length."""
        of_tags = torch.nn.functional.cross_entropy(tags.float().flatten(0, 1), turns.flatten(), ignore_index=IGNORED)
        return self.of_classes(classes.float(), allowed).sum(1).mean() + of_tags

    def of_classes(self, logits: Tensor, allowed: Tensor) -> Tensor:
        """batch x heads: minus the log of the probability that a head says something allowed."""
        size = (len(logits), len(HEADS))
        index = self._member.expand(len(logits), -1)
        lowest = torch.full(size, -torch.inf, device=logits.device)
        highest = lowest.scatter_reduce(1, index, logits.detach(), "amax")
        odds = (logits - highest.gather(1, index)).exp()
        whole = torch.zeros(size, device=logits.device).scatter_add(1, index, odds)
        right = torch.zeros(size, device=logits.device).scatter_add(1, index, odds * allowed)
        return whole.log() - (right + 1e-20).log()


def fit(
    plan: Plan, people: Sequence[Example], folder: Path, before: dict[str, Tensor] | None = None
) -> torch.nn.Module:
    """A fitted network from the encoder in `folder`, on a GPU where there is one: the mean of its late states.
    `before` are the weights to go on from, where there are any."""
    torch.manual_seed(plan.seed)
    torch.backends.cuda.matmul.allow_tf32 = True
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    tokenizer = str(folder / "tokenizer.json")
    network = Network(Tokenizer.from_file(tokenizer).get_vocab_size())
    network.load_encoder(load_file(folder / "encoder.safetensors"))
    if before:
        network.load_state_dict(before)
    network.keep(plan.kept)
    network.to(device).train()
    steps = plan.rows // plan.size
    warm = max(1.0, min(_WARM, _WARM_SHARE * steps))
    kept = 1 - _EVERY / max(_EVERY, min(_MEAN, _MEAN_SHARE * steps))
    mean_of = AveragedModel(network, multi_avg_fn=get_ema_multi_avg_fn(kept))
    loss = Loss(device)
    fitted = [each for each in network.parameters() if each.requires_grad]
    optimiser = torch.optim.AdamW(fitted, lr=plan.rate, weight_decay=0.01, fused=device.type == "cuda")
    schedule = torch.optim.lr_scheduler.LambdaLR(optimiser, lambda step: min(step / warm, max(0.0, 1 - step / steps)))
    sources = Sources(tuple(people), tuple((folder / "strange.txt").read_text("utf-8").split()), tokenizer)
    step, mean, began = 0, torch.zeros((), device=device), time.monotonic()
    order = np.random.default_rng(plan.seed)
    for rows in rounds(plan, sources):
        held = _on(rows, device)
        for batch in batches(rows, plan.size, order):
            with torch.autocast(device.type, torch.bfloat16):
                lost = loss(*_run(network, held, batch, rows))
            optimiser.zero_grad(set_to_none=True)
            lost.backward()
            torch.nn.utils.clip_grad_norm_(fitted, 1.0)
            optimiser.step()
            schedule.step()
            if step % _EVERY == 0:
                mean_of.update_parameters(network)
            step, mean = step + 1, mean + (lost.detach() - mean) / 200
            if step % 100 == 0:
                print(f"{step}/{steps} {float(mean):.3f} {time.monotonic() - began:.0f} s", flush=True)
    return mean_of.module.eval()


def _on(rows: Rows, device: torch.device) -> dict[str, Tensor]:
    names = ("pieces", "lengths", "kinds", "allowed", "turns")
    return {name: torch.from_numpy(getattr(rows, name)).to(device) for name in names}


def _run(
    network: Network, held: dict[str, Tensor], batch: np.ndarray, rows: Rows
) -> tuple[Tensor, Tensor, Tensor, Tensor]:
    """The network's logits for a batch, what is allowed there, and the turns that are said."""
    longest = int(rows.lengths[batch].max())
    at = torch.from_numpy(batch).to(held["pieces"].device)
    place = torch.arange(longest, device=at.device)
    pieces = held["pieces"][at, :longest].long()
    mask = (place < held["lengths"][at, None]).long()
    kinds = (place >= held["kinds"][at, None]).long() * mask
    bits = held["allowed"][at]
    shifts = torch.arange(7, -1, -1, device=at.device, dtype=torch.uint8)
    allowed = ((bits[..., None] >> shifts) & 1).flatten(1)[:, :CLASSES].float()
    return *network(pieces, mask, kinds), allowed, held["turns"][at, :longest].long()


def written(plan: Plan) -> str:
    """The plan as it stands in the model's card."""
    return json.dumps(asdict(plan))


