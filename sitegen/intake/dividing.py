"""A show divided into a greeting, stories and a goodbye, by what each stretch and each border is worth: numbers alone.

The worth of a division is the sum of its parts', and how likely it is follows from that as odds do from their logarithm (a semi-Markov conditional random
field: S. Sarawagi and W. W. Cohen, "Semi-Markov Conditional Random Fields for Information Extraction", NIPS 2004). All divisions are summed up at once, forward
and backward. What is chosen is not the likeliest division but the borders that are likely to be right to within a few seconds.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

NEAR = 8.0
"""Seconds by which a border may be off: about two sentences."""


@dataclass(frozen=True, slots=True)
class Worth:
    """Logarithms of odds, for a show of n sentences."""

    borders: Sequence[float]
    """Of a story's beginning with each sentence, 0 for the first."""
    stories: Sequence[Sequence[float]]
    """By the first sentence, and by how many more the story has."""
    greeting: Sequence[float]
    """By the number of its sentences, 0 for none: n + 1."""
    goodbye: Sequence[float]
    """By the sentence it begins with, n for none: n + 1."""


@dataclass(frozen=True, slots=True)
class Chances:
    """How likely things are, 0 to 1, over all divisions."""

    starts: Sequence[float]
    """That a story begins with each sentence."""
    goodbye: Sequence[float]
    """That the goodbye begins with each; n + 1, the last for none."""


def _total(terms: Iterable[float]) -> float:
    """The logarithm of the sum of what the terms are logarithms of."""
    terms = list(terms)
    most = max(terms, default=-math.inf)
    if most == -math.inf:
        return most
    return most + math.log(sum(math.exp(each - most) for each in terms))


def chances(worth: Worth) -> Chances:
    """Of every start of a story and of the goodbye."""
    borders, stories = worth.borders, worth.stories
    count = len(stories)
    ended = [-math.inf] * (count + 1)
    """All that may lie before a border, a story last."""
    before = [worth.greeting[0]] + [-math.inf] * count
    for end in range(1, count + 1):
        ended[end] = _total(
            before[start] + borders[start] + stories[start][end - start - 1]
            for start in range(end)
            if end - start <= len(stories[start])
        )
        before[end] = _total((worth.greeting[end], ended[end]))
    rest = list(worth.goodbye)
    """All that may lie behind a border."""
    told = [-math.inf] * count
    """The same, a story first."""
    for start in range(count - 1, -1, -1):
        told[start] = borders[start] + _total(
            each + rest[end] for end, each in enumerate(stories[start], start + 1)
        )
        rest[start] = _total((rest[start], told[start]))
    goodbyes = [each + goodbye for each, goodbye in zip(ended, worth.goodbye, strict=True)]
    whole = _total(goodbyes)
    return Chances(
        [math.exp(one + two - whole) for one, two in zip(before, told, strict=False)],
        [math.exp(each - whole) for each in goodbyes],
    )


def likely_starts(starts: Sequence[float], seconds: Sequence[float], enough: float) -> list[int]:
    """The sentences that begin a story within `NEAR` seconds with a chance of more than `enough`, none of them near another: together the likeliest.

    There is at least one where there are sentences.
    """
    count = len(starts)
    if not count:
        return []
    sums = [0.0]
    for each in starts:
        sums.append(sums[-1] + each)
    first = [bisect_left(seconds, each - NEAR) for each in seconds]
    behind = [bisect_right(seconds, each + NEAR) for each in seconds]
    # What the sentences before each give at best, and which start was the last of them.
    best = [0.0] * (count + 1)
    last = [-1] * (count + 1)
    number = 0
    for end in range(1, count + 1):
        best[end] = best[end - 1]
        while number < count and behind[number] == end:
            chance = min(1.0, sums[end] - sums[first[number]])
            # Of those that are near, the likeliest itself.
            gain = best[first[number]] + chance - enough + 0.01 * starts[number]
            if gain > best[end]:
                best[end], last[end] = gain, number
            number += 1
    chosen: list[int] = []
    at = count
    while at > 0:
        if last[at] < 0:
            at -= 1
        else:
            chosen.append(last[at])
            at = first[last[at]]
    return sorted(chosen) or [max(range(count), key=starts.__getitem__)]


def best_of(worth: Worth, number: int) -> tuple[list[int], int]:
    """(the sentences that begin each of `number` stories, the one behind the last story): the likeliest division with so many."""
    borders, stories = worth.borders, worth.stories
    count = len(stories)
    best = list(worth.greeting)
    backs: list[list[int]] = []
    for round_ in range(number):
        following = [-math.inf] * (count + 1)
        back = [0] * (count + 1)
        for start in range(round_, count):
            before = best[start] + borders[start]
            if before == -math.inf:
                continue
            for end, each in enumerate(stories[start], start + 1):
                if before + each > following[end]:
                    following[end], back[end] = before + each, start
        best = following
        backs.append(back)
    end = max(range(number, count + 1), key=lambda at: best[at] + worth.goodbye[at])
    starts: list[int] = []
    at = end
    for back in reversed(backs):
        at = back[at]
        starts.append(at)
    return sorted(starts), end
