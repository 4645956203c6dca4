"""Fits weights of a choice: which of the things named in a story is the one that is meant, if any.

A story's things, and that none of them is meant, share one certainty by the exponents of their odds (a conditional logit). What is
named several times is one choice, and its namings share its certainty, so that nobody need say which of them counts. Weights are
found by the limited-memory method of Broyden, Fletcher, Goldfarb and Shanno (J. Nocedal, Mathematics of Computation 35 (1980)).
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable, Hashable, Mapping, Sequence

import numpy as np

from sitegen.intake.weighing import Weights
from tests.bench.fitting import LEAST, Matrix, Numbers, Penalties, Row

STEPS, REMEMBERED = 200, 12


def fitted_choice(
    rows: Sequence[Row], stories: Sequence[Hashable], prior: Mapping[str, float], penalties: Penalties
) -> Weights:
    """As `fitting.fitted`, where the rows of one story are alternatives: of those that are true, any one will do."""
    sources: dict[str, set[str]] = defaultdict(set)
    for row in rows:
        for name in row.signs:
            sources[name].add(row.source)
    names = [name for name, of in sources.items() if ":" not in name or len(of) >= penalties.programmes]
    matrix = Matrix(rows, {name: at for at, name in enumerate(names)})
    numbers: dict[Hashable, int] = {}
    story = np.array([numbers.setdefault(each, len(numbers)) for each in stories])
    true = np.array([float(row.true) for row in rows])
    counts = np.zeros(len(numbers))
    counts[story] = [row.counts for row in rows]
    answered = np.bincount(story, true, len(numbers)) > 0
    pull = np.array([penalties.wording if ":" in name else penalties.sign for name in names] + [0.01])
    wanted = np.array([prior.get(name, 0.0) for name in names] + [0.0])

    def loss(weights: Numbers) -> tuple[float, Numbers]:
        """(what is to be least, its slope)."""
        odds = np.exp(np.clip(matrix.times(weights), -30, 30))
        every = 1 + np.bincount(story, odds, len(numbers))
        right = np.where(answered, np.bincount(story, odds * true, len(numbers)), 1.0)
        certain = odds / every[story] - np.where(answered[story], odds * true / right[story], 0.0)
        away = weights - wanted
        return (
            float(counts @ (np.log(every) - np.log(right)) + 0.5 * pull @ away**2),
            matrix.turned(counts[story] * certain) + pull * away,
        )

    weights = _least(loss, wanted, pull)
    told = {name: round(float(weight), 2) for name, weight in zip(names, weights, strict=False)}
    return Weights(
        round(float(weights[-1]), 2),
        {name: weight for name, weight in told.items() if ":" not in name or abs(weight) >= LEAST},
    )


def _least(loss: Callable[[Numbers], tuple[float, Numbers]], start: Numbers, scale: Numbers) -> Numbers:
    """Where a loss is least, downhill from `start`."""
    at = start.copy()
    value, slope = loss(at)
    past: deque[tuple[Numbers, Numbers, float]] = deque(maxlen=REMEMBERED)
    for _ in range(STEPS):
        way = slope.copy()
        shares = []
        for step, turn, curve in reversed(past):
            shares.append(float(step @ way) / curve)
            way -= shares[-1] * turn
        way = way * (past[-1][2] / float(past[-1][1] @ past[-1][1])) if past else way / (scale + 1)
        for (step, turn, curve), share in zip(past, reversed(shares), strict=True):
            way += step * (share - float(turn @ way) / curve)
        size = 1.0
        lower, other = loss(at - size * way)
        while lower > value - 1e-4 * size * float(slope @ way) and size > 1e-6:
            size /= 2
            lower, other = loss(at - size * way)
        gain = value - lower
        if gain <= 0:
            break
        step, turn = -size * way, other - slope
        if (curve := float(step @ turn)) > 1e-12:
            past.append((step, turn, curve))
        at, value, slope = at + step, lower, other
        if gain < 1e-6 * abs(value):
            break
    return at
