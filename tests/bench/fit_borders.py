"""Fits the weights of borders on the tuned programmes: `python -m tests.bench.fit_borders` prints what goes into `sitegen/intake/borders.py`.

Logistic regression with a penalty, by Newton's method. Marks and rundowns are left out, so that the speech alone is learnt. The programmes that were
kept apart are never read.
"""

from __future__ import annotations

import numpy as np

from sitegen.intake.borders import FEATURES, features
from sitegen.intake.captions import read_any_captions
from sitegen.intake.lexicon import known_names
from sitegen.intake.sentences import sentences
from sitegen.intake.speech import spoken_words
from tests.samples.intake_measures import demonstration_newsroom
from tests.samples.programmes import programmes

PENALTY = 1.5
PRIOR = {"sign_off": 3.0, "handed_on": -3.0, "answer": -2.5, "opener": 2.2, "promise_before": 1.8, "anaphora": -1.0, "pronoun": -1.2, "thanks": 1.0, "new_guest": 1.0, "same_guest": -1.5}  # fmt: skip
"""What the trade takes for granted, which few examples must not overturn: weights are drawn towards these, the others towards 0."""


def main() -> None:
    newsroom = demonstration_newsroom()
    names = known_names(newsroom)
    towns = {town.name for county in newsroom.station.counties for town in county.towns}
    towns |= {county.name for county in newsroom.station.counties}
    rows: list[list[float]] = []
    truth: list[float] = []
    for programme in programmes():
        if programme.group != "tuned":
            continue
        spoken = sentences(spoken_words(read_any_captions(programme.captions)[0]), names)
        borders = [
            min(range(len(spoken)), key=lambda each: abs(spoken[each].start / 1000 - border))
            for border in programme.marked.borders
        ]
        for number, signs in enumerate(features(spoken, towns)):
            if number:
                rows.append([signs[name] for name in FEATURES] + [1.0])
                truth.append(float(number in borders))
    x, y = np.array(rows), np.array(truth)
    prior = np.array([PRIOR.get(name, 0.0) for name in FEATURES] + [0.0])
    weights = prior.copy()
    penalty = np.eye(x.shape[1]) * PENALTY
    penalty[-1, -1] = 0.01
    for _ in range(30):
        chance = 1 / (1 + np.exp(-x @ weights))
        gradient = x.T @ (chance - y) + penalty @ (weights - prior)
        curve = (x * (chance * (1 - chance))[:, None]).T @ x + penalty
        weights -= np.linalg.solve(curve, gradient)
    print(f"# {int(y.sum())} borders among {len(y)} sentences")
    for name, weight in zip(FEATURES, weights, strict=False):
        print(f'    "{name}": {weight:.2f},')
    print(f"BIAS = {weights[-1]:.2f}")


if __name__ == "__main__":
    main()
