"""How well intake reads a programme: recall and precision against its marked answers."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from sitegen.intake.records import Intake
from sitegen.intake.taking import take_in
from sitegen.newsroom.records import Newsroom
from sitegen.site.content import read_content
from tests.samples.programmes import Marked, Programme

NEAR = 8.0
"""Seconds by which a border may be off: about two sentences."""
KINDS = ("deadlines", "places", "promises", "borders")


@dataclass(frozen=True, slots=True)
class Measure:
    """Counts of one kind of fact."""

    wanted: int
    found: int
    right: int
    """Of those wanted."""
    true: int
    """Of those found."""

    @property
    def recall(self) -> float:
        return self.right / self.wanted if self.wanted else 1.0

    @property
    def precision(self) -> float:
        return self.true / self.found if self.found else 1.0

    def __add__(self, other: Measure) -> Measure:
        return Measure(
            self.wanted + other.wanted,
            self.found + other.found,
            self.right + other.right,
            self.true + other.true,
        )


def demonstration_newsroom() -> Newsroom:
    """The demonstration's station, whose places some of the programmes name."""
    newsroom = read_content(Path(__file__).parents[2]).newsroom
    assert newsroom is not None
    return newsroom


def spoken_alone(programme: Programme) -> Programme:
    """A programme without its rundown and without the captioner's marks of new stories."""
    captions = programme.captions.replace("&gt;&gt;&gt;", "&gt;&gt;").replace(">>>", ">>")
    return replace(programme, captions=captions, rundown="")


def aired_by(programme: Programme, newsroom: Newsroom) -> Newsroom:
    """A newsroom whose station made the programme."""
    station = replace(newsroom.station, programme=programme.title or newsroom.station.programme)
    return replace(newsroom, station=station)


def taken(programme: Programme, newsroom: Newsroom, *, counted: bool = False) -> Intake:
    """A programme taken in, by the station that made it. `counted`: somebody says how many stories it has."""
    return take_in(
        programme.captions,
        programme.rundown or None,
        programme.aired.date(),
        programme.aired.time(),
        aired_by(programme, newsroom),
        len(programme.marked.stories) if counted else None,
    )


def measure(programme: Programme, intake: Intake) -> dict[str, Measure]:
    """Counts by kind."""
    marked = programme.marked
    deadlines = {
        (story_at(marked, each.said.time), each.day)
        for segment in intake.segments
        for each in segment.deadlines
        if each.day
    }
    places = {
        (story_at(marked, each.said.time), each.name)
        for segment in intake.segments
        for each in segment.places
    }
    promises = [each.said.time / 1000 for segment in intake.segments for each in segment.promises]
    promises += [each.said.time / 1000 for each in intake.around]
    return {
        "deadlines": _sets(marked.deadlines, deadlines),
        "places": place_measure(marked.places, places),
        "promises": promise_measure(marked.promises, promises),
        "borders": _borders(marked.borders, [segment.start / 1000 for segment in intake.segments]),
    }


def story_at(marked: Marked, milliseconds: int) -> int:
    """The story, counted from 0, in which something was said: what counts is that it was found."""
    return bisect_right(marked.borders, milliseconds / 1000 + 0.5) - 1


def _sets(wanted: frozenset[tuple[int, date]], found: set[tuple[int, date]]) -> Measure:
    both = len(wanted & found)
    return Measure(len(wanted), len(found), both, both)


def _key(name: str) -> frozenset[str]:
    words = re.findall(r"[a-z0-9]+", name.lower().replace("'s", "s").replace("’s", "s").replace("ñ", "n"))
    numbers = {"one": "1", "two": "2"}
    return frozenset(numbers.get(word, word) for word in words if word not in ("the", "of", "in", "at"))


def same_place(one: str, two: str) -> bool:
    """True for two names of one place: the same words, or all of the shorter one's, at least two, in the longer one."""
    first, second = _key(one), _key(two)
    return first == second or (min(len(first), len(second)) >= 2 and (first <= second or second <= first))


def place_measure(wanted: Iterable[tuple[int, str]], found: Iterable[tuple[int, str]]) -> Measure:
    wanted, found = list(wanted), list(found)
    right = sum(any(story == at and same_place(name, other) for at, other in found) for story, name in wanted)
    true = sum(any(story == at and same_place(name, other) for at, other in wanted) for story, name in found)
    return Measure(len(wanted), len(found), right, true)


def promise_measure(wanted: Iterable[tuple[float, float]], found: list[float]) -> Measure:
    wanted = list(wanted)
    right = sum(any(start - 2 <= each < end + 0.2 for each in found) for start, end in wanted)
    true = sum(any(start - 2 <= each < end + 0.2 for start, end in wanted) for each in found)
    return Measure(len(wanted), len(found), right, true)


def _borders(wanted: Iterable[float], found: list[float]) -> Measure:
    """Each border found counts for one border at most."""
    wanted, left = list(wanted), sorted(found)
    right = 0
    for border in wanted:
        near = min(left, key=lambda each: abs(each - border), default=None)
        if near is not None and abs(near - border) <= NEAR:
            left.remove(near)
            right += 1
    return Measure(len(wanted), len(found), right, right)
