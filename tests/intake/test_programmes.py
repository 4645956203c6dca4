"""How well whole programmes are read that weights and words were tuned on: no worse than the newsroom was promised. What was honestly reached at
first sight stands in DEVELOPERS.md; `python -m tests.bench.measure_intake` prints the table."""

from __future__ import annotations

from functools import lru_cache

import pytest

from tests.samples.intake_measures import KINDS, Measure, demonstration_newsroom, measure, taken
from tests.samples.programmes import programmes

RECALL, PRECISION = 0.9, 0.8


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
