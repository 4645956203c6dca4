"""Fits the weights of borders on the tuned programmes: `python -m tests.bench.fit_borders` prints what goes into `sitegen/intake/borders.py`, and
with `--leave-one-out` how well each programme is divided by weights fitted on the others.

Logistic regression with a penalty, by Newton's method. Rundowns and `>>>` are left out, so that the speech alone is learnt; each programme is read a second
time without marks of speakers, at half the weight. The programmes that were kept apart are never read.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from sitegen.intake.borders import (
    BOLDNESS,
    FEATURES,
    closing_start,
    division,
    features,
    is_closing,
    is_opening,
)
from sitegen.intake.captions import read_any_captions
from sitegen.intake.lexicon import known_names
from sitegen.intake.records import Sentence
from sitegen.intake.sentences import sentences
from sitegen.intake.speech import spoken_words
from tests.samples.intake_measures import NEAR, demonstration_newsroom
from tests.samples.programmes import programmes

PENALTY = 1.5
UNMARKED = 0.5
"""What a sentence of a programme without marks of speakers counts."""
PRIOR = {"sign_off": 3.0, "handed_on": -3.0, "answer": -2.5, "opener": 2.2, "promise_before": 1.8, "anaphora": -1.0, "pronoun": -1.2, "thanks": 1.0, "new_guest": 1.0, "same_guest": -1.5, "amid_guest": -2.5, "tease": -2.0, "stay_before": 1.0, "chains_across": -1.0, "call": -2.0, "promise_goes_on": -1.0}  # fmt: skip
"""What the trade takes for granted, which few examples must not overturn: weights are drawn towards these, the others towards 0."""


@dataclass(frozen=True, slots=True)
class Example:
    name: str
    counts: float
    spoken: Sequence[Sentence]
    borders: tuple[float, ...]
    """Seconds of the captions."""
    signs: npt.NDArray[np.float64]
    """A row for each sentence, a column for each feature, and 1 in the last."""
    truth: npt.NDArray[np.float64]


def examples() -> list[Example]:
    newsroom = demonstration_newsroom()
    names = known_names(newsroom)
    towns = {town.name for county in newsroom.station.counties for town in county.towns}
    towns |= {county.name for county in newsroom.station.counties}
    made: list[Example] = []
    for programme in programmes():
        if programme.group != "tuned":
            continue
        spoken = [
            replace(each, story=False)
            for each in sentences(spoken_words(read_any_captions(programme.captions)[0]), names)
        ]
        unmarked = [replace(each, turn=False, speaker="") for each in spoken]
        marked = any(each.turn or each.speaker for each in spoken)
        for counts, said in ((1.0, spoken), (UNMARKED, unmarked))[: 2 if marked else 1]:
            signs = np.array([[each[name] for name in FEATURES] + [1.0] for each in features(said, towns)])
            truth = np.zeros(len(said))
            for border in programme.marked.borders:
                truth[min(range(len(said)), key=lambda at: abs(said[at].start / 1000 - border))] = 1.0
            made.append(Example(programme.name, counts, said, programme.marked.borders, signs, truth))
    return made


def fitted(every: Sequence[Example]) -> npt.NDArray[np.float64]:
    """Weights in the order of FEATURES, the bias last. A programme's first sentence is left out: a stretch begins there anyhow."""
    x = np.vstack([each.signs[1:] for each in every])
    y = np.concatenate([each.truth[1:] for each in every])
    counts = np.concatenate([np.full(len(each.truth) - 1, each.counts) for each in every])
    prior = np.array([PRIOR.get(name, 0.0) for name in FEATURES] + [0.0])
    weights = prior.copy()
    penalty = np.eye(x.shape[1]) * PENALTY
    penalty[-1, -1] = 0.01
    for _ in range(30):
        chance = 1 / (1 + np.exp(-x @ weights))
        gradient = x.T @ (counts * (chance - y)) + penalty @ (weights - prior)
        curve = (x * (counts * chance * (1 - chance))[:, None]).T @ x + penalty
        weights -= np.linalg.solve(curve, gradient)
    return weights


def divided(example: Example, weights: npt.NDArray[np.float64]) -> tuple[int, int]:
    """(borders found, borders right) by those weights."""
    spoken = example.spoken
    starts = division(spoken, [float(each) for each in example.signs @ weights + BOLDNESS])
    stretches = list(zip(starts, [*starts[1:], len(spoken)], strict=True))
    if is_opening(spoken[: stretches[0][1]]):
        stretches = stretches[1:]
    last = spoken[stretches[-1][0] :]
    if is_closing(last) or closing_start(last, -1) == 0:
        stretches = stretches[:-1]
    left = [spoken[start].start / 1000 for start, _ in stretches]
    found = len(left)
    for border in example.borders:
        near = min(left, key=lambda each: abs(each - border), default=None)
        if near is not None and abs(near - border) <= NEAR:
            left.remove(near)
    return found, found - len(left)


def leave_one_out() -> None:
    every = examples()
    totals: dict[float, list[int]] = {}
    for each in every:
        weights = fitted([other for other in every if other.name != each.name])
        found, right = divided(each, weights)
        total = totals.setdefault(each.counts, [0, 0, 0])
        for at, number in enumerate((len(each.borders), found, right)):
            total[at] += number
        print(
            f"{each.name:18} {'as captioned' if each.counts == 1 else 'unmarked':13} {right}/{len(each.borders)} {right}/{found}"
        )
    for counts, (wanted, found, right) in totals.items():
        print(
            f"all {'as captioned' if counts == 1 else 'unmarked'}: {right / wanted:.3f} / {right / found:.3f}"
        )


def main() -> None:
    if "--leave-one-out" in sys.argv[1:]:
        leave_one_out()
        return
    every = examples()
    weights = fitted(every)
    print(f"# {int(sum(each.truth.sum() for each in every if each.counts == 1))} borders")
    for name, weight in zip(FEATURES, weights, strict=False):
        print(f'    "{name}": {weight:.2f},')
    print(f"BIAS = {weights[-1]:.2f}")


if __name__ == "__main__":
    main()
