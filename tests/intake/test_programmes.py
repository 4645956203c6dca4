"""How well whole programmes are read: those that weights and words were tuned on no worse than the newsroom was promised, and a pair that was kept
apart, by another hand, no worse than at first sight. `python -m tests.bench.measure_intake` prints the table, and DEVELOPERS.md has it."""

from __future__ import annotations

from functools import lru_cache

import pytest

from tests.samples.intake_measures import KINDS, Measure, demonstration_newsroom, measure, taken
from tests.samples.programmes import programmes

RECALL, PRECISION = 0.9, 0.8
APART_RECALL, APART_PRECISION = 0.8, 0.7
"""What the pair that was kept apart reached when it was scored, once: 0.82 to 0.91, and 0.71 to 0.90."""


@lru_cache(maxsize=1)
def totals() -> dict[str, dict[str, Measure]]:
    newsroom = demonstration_newsroom()
    found: dict[str, dict[str, Measure]] = {}
    for programme in programmes():
        group = found.setdefault(programme.group, {kind: Measure(0, 0, 0, 0) for kind in KINDS})
        for kind, each in measure(programme, taken(programme, newsroom)).items():
            group[kind] += each
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_the_tuned_programmes_are_read_as_promised(kind: str) -> None:
    found = totals()["tuned"][kind]
    assert found.wanted >= 40
    assert found.recall >= RECALL and found.precision >= PRECISION, found


@pytest.mark.parametrize("kind", KINDS)
def test_programmes_that_nothing_was_tuned_on_are_read_as_at_first_sight(kind: str) -> None:
    found = totals()["apart4"][kind]
    assert found.wanted >= 10
    assert found.recall >= APART_RECALL and found.precision >= APART_PRECISION, found
