"""Divisions by numbers alone: against all divisions of small shows, one by one."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.dividing import NEAR, Worth, best_of, chances, likely_starts

NUMBERS = st.floats(-4, 4)


@st.composite
def worths(draw: st.DrawFn) -> Worth:
    count = draw(st.integers(1, 6))
    longest = draw(st.integers(1, 6))

    def some(many: int) -> list[float]:
        return draw(st.lists(NUMBERS, min_size=many, max_size=many))

    return Worth(
        [0.0, *some(count - 1)],
        [some(min(longest, count - start)) for start in range(count)],
        some(count + 1),
        some(count + 1),
    )


def divisions(worth: Worth) -> Iterator[tuple[list[int], int, float]]:
    """Every division with a story: (starts, end, worth)."""
    count = len(worth.stories)
    for many in range(1, count + 1):
        for bounds in itertools.combinations(range(count + 1), many + 1):
            told = list(itertools.pairwise(bounds))
            if any(end - start > len(worth.stories[start]) for start, end in told):
                continue
            total = worth.greeting[bounds[0]] + worth.goodbye[bounds[-1]]
            total += sum(worth.borders[start] + worth.stories[start][end - start - 1] for start, end in told)
            yield list(bounds[:-1]), bounds[-1], total


@given(worths())
def test_chances_are_those_of_all_divisions(worth: Worth) -> None:
    found = chances(worth)
    every = list(divisions(worth))
    whole = sum(math.exp(total) for _, _, total in every)
    for number, chance in enumerate(found.starts):
        wanted = sum(math.exp(total) for starts, _, total in every if number in starts) / whole
        assert chance == pytest.approx(wanted, abs=1e-9)
    for number, chance in enumerate(found.goodbye):
        wanted = sum(math.exp(total) for _, end, total in every if end == number) / whole
        assert chance == pytest.approx(wanted, abs=1e-9)


@given(worths(), st.integers(1, 6))
def test_the_best_division_into_a_number_is_the_best_of_all(worth: Worth, number: int) -> None:
    fitting = [each for each in divisions(worth) if len(each[0]) == number]
    if not fitting:
        return
    starts, end = best_of(worth, number)
    most = max(total for _, _, total in fitting)
    assert next(total for told, last, total in fitting if (told, last) == (starts, end)) == pytest.approx(
        most
    )


@given(st.lists(st.floats(0, 1), min_size=1, max_size=30), st.floats(0.1, 0.9))
def test_likely_starts_are_apart(starts: list[float], enough: float) -> None:
    found = likely_starts(starts, [4.0 * number for number in range(len(starts))], enough)
    assert found and all((two - one) * 4.0 > NEAR for one, two in itertools.pairwise(found))


def test_chances_of_neighbours_are_one_border() -> None:
    seconds = [5.0 * number for number in range(8)]
    assert likely_starts([0, 0, 0, 0.2, 0.3, 0, 0, 0], seconds, 0.4) == [4]
    assert likely_starts([0, 0.6, 0, 0, 0, 0.6, 0, 0], seconds, 0.4) == [1, 5]
