"""Fits the weights of borders on the tuned programmes: `python -m tests.bench.fit_borders --write` puts them into `sitegen/intake/weights/borders.txt`,
and `--leave-one-out [NAME …]` tells how programmes fare by weights of others: a fifth of the hands is left out at a time, and what goes wrong in those named is printed.

All weights are fitted at once so that the marked divisions are as likely as can be (a conditional random field, see `sitegen/intake/dividing.py`), with a penalty,
by the method of limited memory of J. Nocedal, "Updating Quasi-Newton Matrices with Limited Storage" (Mathematics of Computation 35, 1980). Rundowns and `>>>` are
left out, so that the speech alone is learnt. Each programme is read a second time, for less, without marks of speakers and without its greeting or its goodbye.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sitegen.intake.borders import ENOUGH, border_signs, content_words
from sitegen.intake.captions import read_any_captions
from sitegen.intake.dividing import Worth, chances, likely_starts
from sitegen.intake.lexicon import known_names
from sitegen.intake.records import Sentence
from sitegen.intake.sentences import sentences
from sitegen.intake.speech import spoken_words
from sitegen.intake.stretches import (
    GOODBYE_SIGNS,
    GREETING_SIGNS,
    LONGEST,
    STORY_SIGNS,
    goodbye_signs,
    greeting_signs,
    story_signs,
)
from sitegen.intake.weighing import Weights
from tests.bench.fitting import FIRST_HAND, LEAST, Numbers, group_of, strongest, tell_totals, write_weights
from tests.samples.intake_measures import NEAR, Measure, demonstration_newsroom
from tests.samples.programmes import programmes

SIGN, WORDING, STRETCH, AROUND = 1.0, 10.0, 0.2, 0.05
"""Penalties: of signs before a sentence, of wordings there, of a story's signs, and of a greeting's and a goodbye's."""
PROGRAMMES = 3
"""In so many a wording must stand."""
SECOND = 0.5
"""What the second reading of a programme counts."""
STEPS = 60
PARTS = 5
"""Of the hands, to be left out in turn."""
WHOLE = (*STORY_SIGNS, *GREETING_SIGNS, *GOODBYE_SIGNS)
AT_GREETING, AT_GOODBYE = len(STORY_SIGNS), len(STORY_SIGNS) + len(GREETING_SIGNS)


@dataclass(frozen=True, slots=True)
class Example:
    name: str
    hand: str
    counts: float
    spoken: Sequence[Sentence]
    borders: tuple[float, ...]
    """Seconds of the captions."""
    starts: Sequence[int]
    """The sentences that begin a story."""
    end: int
    """The one behind the last story."""
    signs: Sequence[dict[str, float]]
    """Before each sentence."""
    stories: Numbers
    """Signs by sentence, by the number of more sentences; 0 where none are left."""
    greeting: Numbers
    goodbye: Numbers


def examples() -> list[Example]:
    """Every tuned programme as captioned, and its second reading."""
    newsroom = demonstration_newsroom()
    names = known_names(newsroom)
    towns = {town.name for county in newsroom.station.counties for town in county.towns}
    towns |= {county.name for county in newsroom.station.counties}
    made: list[Example] = []
    for programme in programmes():
        if programme.group != "tuned":
            continue
        read = sentences(spoken_words(read_any_captions(programme.captions)[0]), names)
        spoken = [replace(each, story=False) for each in read]
        bare = [replace(each, turn=False, speaker="") for each in spoken]

        def nearest(seconds: float, spoken: Sequence[Sentence] = spoken) -> int:
            return min(range(len(spoken)), key=lambda at: abs(spoken[at].start / 1000 - seconds))

        starts = [nearest(each) for each in programme.marked.borders]
        end = nearest(programme.marked.ends)
        first, behind = (starts[0], len(spoken)) if len(made) % 4 else (0, end)
        for counts, said, cut in ((1.0, spoken, 0), (SECOND, bare[first:behind], first)):
            signs = border_signs(said, towns)
            rows = story_signs(said, [content_words(each.plain) for each in said])
            stories = np.zeros((len(said), LONGEST, len(STORY_SIGNS)))
            for number, row in enumerate(rows):
                stories[number, : len(row)] = row
            made.append(Example(programme.name, programme.hand, counts, said, programme.marked.borders, [each - cut for each in starts], end - cut,
                                signs, stories, np.array(greeting_signs(said)), np.array(goodbye_signs(said))))  # fmt: skip
    return made


class _Learnt:
    """An example as numbers, for the signs that are weighed."""

    def __init__(self, example: Example, columns: dict[str, int]) -> None:
        self.example = example
        triples = [
            (number, columns[name], value)
            for number, signs in enumerate(example.signs)
            for name, value in signs.items()
            if value and name in columns
        ]
        triples += [(number, len(columns), 1.0) for number in range(1, len(example.spoken))]
        rows, places, values = zip(*triples, strict=True)
        self.rows, self.places, self.values = np.array(rows), np.array(places), np.array(values)
        self.wide = len(columns) + 1
        self.counts = example.counts * (FIRST_HAND if example.hand == "a" else 1.0)
        count = len(example.spoken)
        more = np.arange(LONGEST)
        self.there = np.arange(count)[:, None] + more < count
        self.at = np.nonzero(self.there)
        ends = [*example.starts[1:], example.end]
        self.told = [(start, end - start - 1) for start, end in zip(example.starts, ends, strict=True)]

    def borders(self, weights: Numbers) -> Numbers:
        """What speaks for a story's beginning with each sentence."""
        return np.bincount(self.rows, self.values * weights[self.places], len(self.example.spoken)).astype(
            float
        )

    def parts(self, weights: Numbers) -> tuple[Numbers, Numbers, Numbers, Numbers]:
        """(borders, stories, greeting, goodbye), each with its worth."""
        whole = weights[self.wide :]
        each = self.example
        stories = np.where(self.there, each.stories @ whole[:AT_GREETING], -np.inf)
        return (
            self.borders(weights),
            stories,
            each.greeting @ whole[AT_GREETING:AT_GOODBYE],
            each.goodbye @ whole[AT_GOODBYE:],
        )

    def loss(self, weights: Numbers) -> tuple[float, Numbers]:
        """(how unlikely the marked division is, the slope of that)."""
        borders, stories, greeting, goodbye = self.parts(weights)
        count = len(stories)
        # By start and end.
        spans = np.full((count, count + 1), -np.inf)
        starts, more = self.at
        spans[starts, starts + more + 1] = (stories + borders[:, None])[self.at]
        before, ended = np.full(count + 1, -np.inf), np.full(count + 1, -np.inf)
        before[0] = greeting[0]
        for end in range(1, count + 1):
            low = max(0, end - LONGEST)
            ended[end] = _total(before[low:end] + spans[low:end, end])
            before[end] = np.logaddexp(greeting[end], ended[end])
        rest = goodbye.copy()
        told = np.full(count, -np.inf)
        for start in range(count - 1, -1, -1):
            high = min(count, start + LONGEST) + 1
            told[start] = _total(spans[start, start + 1 : high] + rest[start + 1 : high])
            rest[start] = np.logaddexp(rest[start], told[start])
        whole = _total(ended + goodbye)
        stories_are = np.exp(before[:count, None] + spans + rest[None, :] - whole)
        greeting_is = np.exp(greeting + np.append(told, -np.inf) - whole)
        goodbye_is = np.exp(ended + goodbye - whole)

        starts_are = stories_are.sum(1)
        each = self.example
        marked = greeting[each.starts[0]] + goodbye[each.end]
        for start, behind in self.told:
            marked += borders[start] + stories[start, behind]
            starts_are[start] -= 1
        slope = np.zeros_like(weights)
        slope[: self.wide] = np.bincount(self.places, self.values * starts_are[self.rows], self.wide)
        spread = np.zeros_like(stories)
        spread[self.at] = stories_are[starts, starts + more + 1]
        for start, behind in self.told:
            spread[start, behind] -= 1
        greeting_is[each.starts[0]] -= 1
        goodbye_is[each.end] -= 1
        slope[self.wide :] = np.concatenate(
            [
                np.tensordot(spread, each.stories, 2),
                greeting_is @ each.greeting,
                goodbye_is @ each.goodbye,
            ]
        )
        return self.counts * float(whole - marked), self.counts * slope

    def worth(self, weights: Numbers) -> Worth:
        borders, stories, greeting, goodbye = self.parts(weights)
        rows = [row[: len(stories) - number].tolist() for number, row in enumerate(stories[:, :LONGEST])]
        return Worth(borders.tolist(), rows, greeting.tolist(), goodbye.tolist())


def _total(terms: Numbers) -> float:
    most = float(terms.max())
    return most if most == -np.inf else most + float(np.log(np.exp(terms - most).sum()))


def fitted(every: Sequence[Example]) -> tuple[dict[str, int], Numbers]:
    """(columns of the signs before a sentence, weights: theirs, the bias, those of `WHOLE`)."""
    sources: dict[str, set[str]] = defaultdict(set)
    for each in every:
        for signs in each.signs:
            for name in signs:
                sources[name].add(each.name)
    names = sorted(name for name, places in sources.items() if ":" not in name or len(places) >= PROGRAMMES)
    columns = {name: at for at, name in enumerate(names)}
    learnt = [_Learnt(each, columns) for each in every]
    pull = np.array(
        [WORDING if ":" in name else SIGN for name in names]
        + [AROUND]
        + [STRETCH] * len(STORY_SIGNS)
        + [AROUND] * (len(WHOLE) - len(STORY_SIGNS))
    )

    def loss(weights: Numbers) -> tuple[float, Numbers]:
        total, slope = 0.5 * float(pull @ weights**2), pull * weights
        for each in learnt:
            one, its = each.loss(weights)
            total += one
            slope = slope + its
        return total, slope

    return columns, least(loss, np.zeros(len(pull)), STEPS)


def least(loss: Callable[[Numbers], tuple[float, Numbers]], at: Numbers, steps: int) -> Numbers:
    """Where a convex loss is least, or after so many steps. `loss` gives its value and its slope."""
    kept: list[tuple[Numbers, Numbers]] = []
    value, slope = loss(at)
    for _ in range(steps):
        way = slope.copy()
        shares: list[float] = []
        for moved, turned in reversed(kept):
            shares.append(float(moved @ way) / float(moved @ turned))
            way -= shares[-1] * turned
        if kept:
            moved, turned = kept[-1]
            way *= float(moved @ turned) / float(turned @ turned)
        else:
            way /= max(1.0, float(np.linalg.norm(way)))
        for (moved, turned), share in zip(kept, reversed(shares), strict=True):
            way += (share - float(turned @ way) / float(moved @ turned)) * moved
        size = 1.0
        following, its = loss(at - way)
        while following > value - 1e-4 * size * float(slope @ way) and size > 1e-4:
            size /= 2
            following, its = loss(at - size * way)
        moved, turned = -size * way, its - slope
        gained = value - following
        at, value, slope = at + moved, following, its
        if float(moved @ turned) > 1e-10:
            kept = [*kept[-9:], (moved, turned)]
        if gained < 1e-5 * abs(value):
            break
    return at


def measured(example: Example, starts: Sequence[int]) -> Measure:
    """How many of the borders those are."""
    left = [example.spoken[start].start / 1000 for start in starts]
    found = len(left)
    for border in example.borders:
        near = min(left, key=lambda each: abs(each - border), default=None)
        if near is not None and abs(near - border) <= NEAR:
            left.remove(near)
    return Measure(len(example.borders), found, found - len(left), found - len(left))


def leave_one_out(why: Sequence[str]) -> None:
    every = examples()
    totals: dict[tuple[str, float], Measure] = {}
    hands = sorted({each.hand for each in every})
    others = [hand for hand in hands if hand != "a"]
    for out in [{"a"}, *({*others[at::PARTS]} for at in range(PARTS))]:
        columns, weights = fitted([each for each in every if each.hand not in out])
        for each in every:
            if each.hand not in out:
                continue
            likely = chances(_Learnt(each, columns).worth(weights))
            seconds = [one.start / 1000 for one in each.spoken]
            group = f"{group_of(each.hand)}{'' if each.counts == 1 else ', second reading'}"
            for enough in (0.24, 0.27, 0.3, 0.33, 0.36, 0.4):
                starts = likely_starts(likely.starts, seconds, enough)
                key = (group, enough)
                totals[key] = totals.get(key, Measure(0, 0, 0, 0)) + measured(each, starts)
            if each.counts == 1:
                starts = likely_starts(likely.starts, seconds, ENOUGH)
                measure = measured(each, starts)
                print(
                    f"{each.hand} {each.name:18} {measure.right}/{measure.wanted} {measure.true}/{measure.found}",
                    flush=True,
                )
                if each.name in why:
                    _explain(each, likely.starts, starts, _as_read(columns, weights))
    tell_totals(totals)


def _explain(example: Example, likely: Sequence[float], starts: Sequence[int], weights: Weights) -> None:
    for number in sorted({*starts, *example.starts}):
        sign = "  " if number in starts and number in example.starts else "--" if number in starts else "++"
        said = f"{example.spoken[number - 1].text[-60:]} | {example.spoken[number].text[:90]}"
        print(f"   {sign} {likely[number]:.2f} {said} |", strongest(weights, example.signs[number]))


def _as_read(columns: dict[str, int], weights: Numbers) -> Weights:
    """As intake reads them, what is next to nothing left out."""
    of = {name: round(float(weights[at]), 3) for name, at in columns.items()}
    of |= {name: round(float(each), 3) for name, each in zip(WHOLE, weights[len(columns) + 1 :], strict=True)}
    kept = {name: each for name, each in of.items() if ":" not in name or abs(each) >= LEAST}
    return Weights(round(float(weights[len(columns)]), 3), kept)


def main(arguments: Sequence[str]) -> None:
    if "--leave-one-out" in arguments:
        leave_one_out([each for each in arguments if not each.startswith("--")])
        return
    every = examples()
    weights = _as_read(*fitted(every))
    print(
        f"{sum(len(each.borders) for each in every if each.counts == 1)} borders, {len(weights.of)} weights"
    )
    if "--write" in arguments:
        write_weights("borders", weights)


if __name__ == "__main__":
    main(sys.argv[1:])
