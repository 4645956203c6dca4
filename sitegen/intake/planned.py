"""The rows of a rundown set against what is said: the sentence with which each begins, all rows weighed together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.intake.records import Sentence
from sitegen.intake.rundown import RundownRow
from sitegen.intake.stretches import CLOSING

EARLY, LATE = 12.0, 15.0
"""Seconds before and after its planned time in which a row's first sentence is sought: captions lag and shows drift."""
SECONDS, EXACT_SECONDS = 3.5, 0.7
"""Seconds beside its time that weigh as much as 1 of a border's score; and where a rundown is exact."""
EXACT_ROWS = 5
"""Rows that make a rundown exact, at least; fewer meet sentences by chance."""
LOST_STORY, LOST_PART = 60.0, 6.0
"""What it costs to leave out a story, and a row that is none."""
GOODBYE = 6.0
"""What a goodbye's words speak for the last row, where that is no story."""
SHORT, SHORT_WORDS = 6.0, 8
"""What speaks against a story of fewer words than that."""


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a rundown's rows begin."""

    rows: tuple[tuple[int, RundownRow], ...]
    """(number of the first sentence, row), in the show's order."""
    lost: tuple[RundownRow, ...]
    """Stories at whose time nothing is said."""
    lag: float
    """Seconds by which captions follow the rundown."""


def place_rows(spoken: Sequence[Sentence], rows: Sequence[RundownRow], scores: Sequence[float]) -> Placed:
    """The likeliest beginnings of all rows that keep their order. `scores`: how much speaks for a border before each sentence.

    Rows compete: a sentence at the time of one row is not the beginning of the row before because it sounds like one.
    """
    planned = _with_time(rows)
    lag = _lag(spoken, planned, scores)
    per_second = 1 / (EXACT_SECONDS if _is_exact(spoken, planned, lag) else SECONDS)
    # By (row, its first sentence): the most that the rows so far can come to, and the row before with its sentence.
    reached: list[dict[int, tuple[float, int, int]]] = []
    lost_before = [0.0]
    for number, row in enumerate(planned):
        here: dict[int, tuple[float, int, int]] = {}
        for sentence in _near(spoken, row, lag, first=number == 0):
            own = scores[sentence] - _beside(spoken[sentence].start / 1000, row, lag) * per_second
            if number == len(planned) - 1 and not row.is_story:
                own += GOODBYE * (CLOSING.search(spoken[sentence].plain) is not None)
            best = (lost_before[number], -1, -1)
            for before in range(number):
                lost = lost_before[number] - lost_before[before + 1]
                for start, (value, _, _) in reached[before].items():
                    if start < sentence:
                        short = planned[before].is_story and _is_short(spoken, start, sentence)
                        best = max(best, (value + lost - SHORT * short, before, start))
            here[sentence] = (best[0] + own, best[1], best[2])
        reached.append(here)
        lost_before.append(lost_before[-1] - (LOST_STORY if row.is_story else LOST_PART))
    best = (lost_before[-1], -1, -1)
    for before in range(len(planned)):
        for start, (value, _, _) in reached[before].items():
            best = max(best, (value + lost_before[-1] - lost_before[before + 1], before, start))
    placed: list[tuple[int, RundownRow]] = []
    _, number, sentence = best
    while number >= 0:
        placed.insert(0, (sentence, planned[number]))
        _, number, sentence = reached[number][sentence]
    there = {id(row) for _, row in placed}
    return Placed(tuple(placed), tuple(row for row in planned if row.is_story and id(row) not in there), lag)


def _with_time(rows: Sequence[RundownRow]) -> list[RundownRow]:
    """The rows that have a time of their own. A break at whose time the next row begins has no words: it is not captioned."""
    planned = [row for row in rows if row.start is not None]
    return [
        row
        for row, following in zip(planned, [*planned[1:], None], strict=True)
        if row.is_story
        or row.slack
        or following is None
        or (following.start or 0.0) - (row.start or 0.0) >= 1.0
    ]


def _near(spoken: Sequence[Sentence], row: RundownRow, lag: float, *, first: bool) -> Sequence[int]:
    """The sentences with which a row may begin."""
    if first and (row.start or 0.0) < 1.0 and not row.slack:
        return range(min(1, len(spoken)))
    at = (row.start or 0.0) + lag
    return [
        number
        for number, sentence in enumerate(spoken)
        if at - EARLY <= sentence.start / 1000 <= at + row.slack + LATE
    ]


def _is_short(spoken: Sequence[Sentence], start: int, end: int) -> bool:
    return sum(len(sentence.plain.split()) for sentence in spoken[start:end]) < SHORT_WORDS


def _is_exact(spoken: Sequence[Sentence], planned: Sequence[RundownRow], lag: float) -> bool:
    """True where a sentence begins within a second of the times of all rows but one in ten, as with a rundown timed from a recording."""
    last = spoken[-1].start / 1000 if spoken else 0.0
    # The first row begins before anything is said.
    timed = [row for row in planned if not row.slack and 1.0 <= (row.start or 0.0) <= last - lag + 1]
    hits = sum(any(_beside(sentence.start / 1000, row, lag) <= 1 for sentence in spoken) for row in timed)
    return len(timed) >= EXACT_ROWS and hits >= len(timed) - max(1, len(timed) // 10)


def _beside(said: float, row: RundownRow, lag: float) -> float:
    """Seconds by which a sentence lies beside a row's planned time."""
    at = (row.start or 0.0) + lag
    return max(at - said, said - at - row.slack, 0.0)


def _lag(spoken: Sequence[Sentence], planned: Sequence[RundownRow], scores: Sequence[float]) -> float:
    """Seconds by which captions follow the rundown: the shift at which its times meet the likeliest borders."""

    def fit(shift: float) -> float:
        total = 0.0
        for row in planned:
            total += max(
                (
                    scores[number] - beside / 2
                    for number in range(len(spoken))
                    if (beside := _beside(spoken[number].start / 1000, row, shift)) < 8
                ),
                default=-3.0,
            )
        return total - abs(shift) * 0.05 * len(planned)

    return max((shift / 2 for shift in range(-40, 61)), key=fit)
