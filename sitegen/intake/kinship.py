"""How alike two stretches of speech are in what they are about, though they share no word: `coat` and `glove` come up together.

Each word has a place in a space of a few dimensions, found from which words stand in one story of the tuned programmes (S. Deerwester et al., "Indexing by
Latent Semantic Analysis", Journal of the American Society for Information Science 41 (6), 1990). A stretch lies where its words together do, and two
stretches are as alike as the angle between them is narrow. The places are data (`weights/kinship.txt`).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from operator import add, mul, sub

Place = tuple[float, ...]
ZERO = 78
"""The letter that stands for 0 in the file: a place is a row of letters, one for each dimension."""

_STRETCHES = {
    "kin_near": ((-3, 0), (0, 3)),
    "kin": ((-6, 0), (0, 6)),
    "kin_far": ((-10, 0), (0, 10)),
    "kin_joins": ((-8, 0), (0, 1)),
    "kin_join_two": ((-8, 0), (0, 2)),
    "kin_leads": ((0, 1), (1, 8)),
    "kin_before_leads": ((-1, 0), (0, 8)),
    "kin_before_joins": ((-1, 0), (-9, -1)),
}
"""Sentences from and to, counted from the one that a story may begin with, that are held against one another."""


@cache
def kinship() -> Mapping[str, Place]:
    """The places of words, by their stems."""
    return read_kinship((files("sitegen.intake") / "weights" / "kinship.txt").read_text("ascii"))


def read_kinship(text: str) -> Mapping[str, Place]:
    """A file's: lines `stem<tab>letters`."""
    rows = (line.split("\t") for line in text.splitlines())
    return {stem: tuple(float(ord(letter) - ZERO) for letter in letters) for stem, letters in rows}


def kin_signs(words: Sequence[Sequence[str]], places: Mapping[str, Place]) -> list[dict[str, float]]:
    """For each sentence, how alike the talk before and behind its start is, -1 to 1. `words`: what each sentence is about, as stems."""
    count = len(words)
    width = len(next(iter(places.values()), ()))
    sums: list[Place] = [(0.0,) * width]
    for each in words:
        place = sums[-1]
        for word in sorted(set(each)):
            if word in places:
                place = tuple(map(add, place, places[word]))
        sums.append(place)

    def stretch(start: int, end: int) -> Place:
        return tuple(map(sub, sums[min(count, max(0, end))], sums[min(count, max(0, start))]))

    return [
        {
            name: _likeness(
                stretch(number + one[0], number + one[1]), stretch(number + two[0], number + two[1])
            )
            for name, (one, two) in _STRETCHES.items()
        }
        for number in range(count)
    ]


def _likeness(one: Place, two: Place) -> float:
    size = math.sqrt(sum(map(mul, one, one)) * sum(map(mul, two, two)))
    return sum(map(mul, one, two)) / size if size else 0.0
