"""Fits the weights of borders and the kinship of words on the tuned programmes: `python -m tests.bench.fit_borders --write` puts them into
`sitegen/intake/weights/borders.txt` and `kinship.txt`, and `--leave-one-out [NAME …]` tells how programmes fare by weights of others: a part of the hands is left out at a time
(those that came last, together), and what goes wrong in those named is printed.

All weights are fitted at once so that the marked divisions are as likely as can be (a conditional random field, see `sitegen/intake/dividing.py`), with a penalty,
by the method of limited memory of J. Nocedal, "Updating Quasi-Newton Matrices with Limited Storage" (Mathematics of Computation 35, 1980). Rundowns and `>>>` are
left out, so that the speech alone is learnt. Each programme is read a second time, for less, without marks of speakers and without its greeting or its goodbye.
What kinship is worth is learnt from stories that its places were not found from: those of a part are read by the places of all others.
"""

from __future__ import annotations

import itertools
import sys
from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sitegen.intake.borders import ENOUGH, border_signs, content_words
from sitegen.intake.captions import read_any_captions
from sitegen.intake.dividing import Worth, chances, likely_starts
from sitegen.intake.kinship import ZERO, Place, kin_signs
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
from sitegen.intake.turnings import of_neighbours
from sitegen.intake.weighing import Weights
from tests.bench.fitting import (
    FIRST_HAND,
    FOLDER,
    LEAST,
    Numbers,
    group_of,
    strongest,
    tell_totals,
    write_weights,
)
from tests.samples.intake_measures import NEAR, Measure, demonstration_newsroom
from tests.samples.programmes import programmes

SIGN, WORDING, STRETCH, AROUND = 1.0, 10.0, 0.2, 0.5
"""Penalties: of signs before a sentence, of wordings there, of a story's signs, and of a greeting's and a goodbye's."""
PROGRAMMES = 3
"""In so many a wording must stand, and a word that has kin: names of one programme have none."""
SECOND = 0.5
"""What the second reading of a programme counts."""
STEPS = 150
WAVES = ("a", "GHIJK", "STUVWXY", "LMNOZ123")
"""Hands that are left out together: whoever also wrote the recognisers, and those that came last."""
PARTS = 4
MOST = 45
"""How far a place's letter in the file may be from the one that stands for 0."""
"""Of all other hands, to be left out in turn."""
DIMENSIONS = 80
"""Of the space of words."""
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
    words: Sequence[Sequence[str]]
    """What each sentence is about."""
    signs: Sequence[dict[str, float]]
    """Before each sentence, those of kinship left out."""
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
        if any(until - start > LONGEST for start, until in itertools.pairwise([*starts, end])):
            continue  # it has a story longer than any that is considered
        first, behind = (starts[0], len(spoken)) if len(made) % 4 else (0, end)
        for counts, said, cut in ((1.0, spoken, 0), (SECOND, bare[first:behind], first)):
            words = [content_words(each.plain) for each in said]
            rows = story_signs(said, words)
            stories = np.zeros((len(said), LONGEST, len(STORY_SIGNS)))
            for number, row in enumerate(rows):
                stories[number, : len(row)] = row
            made.append(Example(programme.name, programme.hand, counts, said, programme.marked.borders, [each - cut for each in starts], end - cut,
                                words, border_signs(said, towns, {}), stories, np.array(greeting_signs(said)), np.array(goodbye_signs(said))))  # fmt: skip
    return made


def parts(hands: Collection[str]) -> list[set[str]]:
    """Hands that are left out together."""
    others = sorted(set(hands) - set("".join(WAVES)))
    return [*map(set, WAVES), *({*others[at::PARTS]} for at in range(PARTS))]


def places_of(every: Sequence[Example]) -> dict[str, Place]:
    """Where each word lies, by which words stand in one story: the singular vectors of the words of stories, rare ones weighing more."""
    stories = [
        Counter(word for words in each.words[start:end] for word in words)
        for each in every
        if each.counts == 1
        for start, end in zip(each.starts, [*each.starts[1:], each.end], strict=True)
    ]
    told_in = Counter(word for each in stories for word in each)
    heard_in: dict[str, set[str]] = defaultdict(set)
    for each in every:
        for word in itertools.chain.from_iterable(each.words):
            heard_in[word].add(each.name)
    known = {word: at for at, word in enumerate(sorted(word for word in told_in if len(heard_in[word]) >= PROGRAMMES))}  # fmt: skip
    rarity = np.array([np.log(len(stories) / told_in[word]) for word in known])
    table = np.zeros((len(stories), len(known)))
    for row, story in zip(table, stories, strict=True):
        for word, count in story.items():
            if word in known:
                row[known[word]] = 1 + np.log(count)
    table *= rarity
    table /= np.maximum(1e-9, np.linalg.norm(table, axis=1))[:, None]
    # By the stories, which are fewer than the words.
    squares, vectors = np.linalg.eigh(table @ table.T)
    strongest_ones = vectors[:, -DIMENSIONS:] / np.sqrt(np.maximum(1e-9, squares[-DIMENSIONS:]))
    at = (table.T @ strongest_ones) * rarity[:, None]
    # Few words lie far out, and most of them near the middle.
    rounded = np.rint(at * (4 * MOST / np.abs(at).max())).clip(-MOST, MOST)
    return {word: tuple(map(float, rounded[number])) for word, number in known.items()}


def told(each: Example, places: Mapping[str, Place]) -> list[dict[str, float]]:
    """The signs of an example, those of kinship by these places."""
    kin = [{}, *kin_signs(each.words, places)[1:]]
    return [
        signs | own | of_neighbours(kin, number) if number else {}
        for number, (signs, own) in enumerate(zip(each.signs, kin, strict=True))
    ]


def read_by_others(every: Sequence[Example]) -> list[Example]:
    """The same, with the signs of kinship by places that were found from other parts' stories."""
    made: list[Example] = []
    for part in parts({each.hand for each in every}):
        within = [each for each in every if each.hand in part]
        if within:
            places = places_of([each for each in every if each.hand not in part])
            made += [replace(each, signs=told(each, places)) for each in within]
    return made


class _Shows:
    """Examples as numbers, for the signs that are weighed; what is not there is minus infinity."""

    def __init__(self, every: Sequence[Example], columns: Mapping[str, int]) -> None:
        self.every = every
        self.count = count = max(len(each.spoken) for each in every)
        triples = [
            (at * count + number, columns[name], value)
            for at, each in enumerate(every)
            for number, signs in enumerate(each.signs)
            for name, value in signs.items()
            if value and name in columns
        ]
        triples += [
            (at * count + number, len(columns), 1.0)
            for at, each in enumerate(every)
            for number in range(1, len(each.spoken))
        ]
        rows, places, values = zip(*triples, strict=True)
        self.rows, self.places, self.values = np.array(rows), np.array(places), np.array(values)
        self.wide = len(columns) + 1
        self.counts = np.array([each.counts * (FIRST_HAND if each.hand == "a" else 1.0) for each in every])
        # Every stretch that may be a story: its show, its first sentence, how many more it has, and its signs.
        there = [np.nonzero(np.arange(len(each.spoken))[:, None] + np.arange(LONGEST) < len(each.spoken)) for each in every]  # fmt: skip
        self.show = np.concatenate([np.full(len(starts), at) for at, (starts, _) in enumerate(there)])
        self.start = np.concatenate([starts for starts, _ in there])
        self.more = np.concatenate([more for _, more in there])
        self.end = self.start + self.more + 1
        self.stories = np.concatenate([each.stories[at].astype(np.float32) for each, at in zip(every, there, strict=True)])  # fmt: skip
        shape = (len(every), count + 1)
        self.greeting, self.goodbye = np.zeros((*shape, len(GREETING_SIGNS))), np.zeros((*shape, len(GOODBYE_SIGNS)))  # fmt: skip
        self.none = np.ones(shape, bool)
        self.marked_starts = np.zeros((len(every), count))
        number = np.full((*shape, LONGEST), -1)
        number[self.show, self.end, self.more] = np.arange(len(self.show))
        marked: list[tuple[int, int]] = []
        for at, each in enumerate(every):
            size = len(each.spoken) + 1
            self.greeting[at, :size], self.goodbye[at, :size] = each.greeting, each.goodbye
            self.none[at, :size] = False
            self.marked_starts[at, each.starts] = 1
            ends = [*each.starts[1:], each.end]
            marked += [(at, int(number[at, end, end - start - 1])) for start, end in zip(each.starts, ends, strict=True)]  # fmt: skip
        self.marked = np.array([story for _, story in marked])
        self.marked_in = np.array([at for at, _ in marked])
        self.begins, self.ends = np.array([each.starts[0] for each in every]), np.array([each.end for each in every])  # fmt: skip

    def parts(self, weights: Numbers) -> tuple[Numbers, Numbers, Numbers, Numbers]:
        """(borders by show and sentence, stories, greetings, goodbyes), each with its worth."""
        whole = weights[self.wide :]
        borders = np.bincount(self.rows, self.values * weights[self.places], self.marked_starts.size)
        return (
            borders.astype(float).reshape(self.marked_starts.shape),
            (self.stories @ whole[:AT_GREETING].astype(np.float32)).astype(float),
            np.where(self.none, -np.inf, self.greeting @ whole[AT_GREETING:AT_GOODBYE]),
            np.where(self.none, -np.inf, self.goodbye @ whole[AT_GOODBYE:]),
        )

    def loss(self, weights: Numbers) -> tuple[float, Numbers]:
        """(how unlikely the marked divisions are, the slope of that)."""
        borders, stories, greeting, goodbye = self.parts(weights)
        stories = stories + borders[self.show, self.start]
        spans = np.full((*greeting.shape, LONGEST), -np.inf)
        spans[self.show, self.end, self.more] = stories
        count = self.count
        before, ended = np.full_like(greeting, -np.inf), np.full_like(greeting, -np.inf)
        before[:, 0] = greeting[:, 0]
        for end in range(1, count + 1):
            starts = before[:, max(0, end - LONGEST) : end][:, ::-1]
            ended[:, end] = _totals(starts + spans[:, end, : starts.shape[1]])
            before[:, end] = np.logaddexp(greeting[:, end], ended[:, end])
        rest = goodbye.copy()
        told = np.full_like(goodbye, -np.inf)
        for start in range(count - 1, -1, -1):
            more = np.arange(min(LONGEST, count - start))
            told[:, start] = _totals(spans[:, start + 1 + more, more] + rest[:, start + 1 + more])
            rest[:, start] = np.logaddexp(rest[:, start], told[:, start])
        whole = _totals(ended + goodbye)
        stories_are = np.exp(
            before[self.show, self.start] + stories + rest[self.show, self.end] - whole[self.show]
        )
        greeting_is = np.exp(greeting + told - whole[:, None])
        goodbye_is = np.exp(ended + goodbye - whole[:, None])

        shows = np.arange(len(whole))
        marked = greeting[shows, self.begins] + goodbye[shows, self.ends]
        np.add.at(marked, self.marked_in, stories[self.marked])
        starts_are = np.zeros_like(borders)
        np.add.at(starts_are, (self.show, self.start), stories_are)
        starts_are = self.counts[:, None] * (starts_are - self.marked_starts)
        stories_are[self.marked] -= 1
        greeting_is[shows, self.begins] -= 1
        goodbye_is[shows, self.ends] -= 1
        slope = np.zeros_like(weights)
        slope[: self.wide] = np.bincount(self.places, self.values * starts_are.ravel()[self.rows], self.wide)
        slope[self.wide :] = np.concatenate(
            [
                (stories_are * self.counts[self.show]).astype(np.float32) @ self.stories,
                np.tensordot(greeting_is * self.counts[:, None], self.greeting, 2),
                np.tensordot(goodbye_is * self.counts[:, None], self.goodbye, 2),
            ]
        )
        return float(self.counts @ (whole - marked)), slope

    def worth(self, weights: Numbers) -> list[Worth]:
        borders, stories, greeting, goodbye = self.parts(weights)
        spans = np.zeros((*borders.shape, LONGEST))
        spans[self.show, self.start, self.more] = stories
        made: list[Worth] = []
        for at, each in enumerate(self.every):
            size = len(each.spoken)
            rows = [spans[at, start, : size - start].tolist() for start in range(size)]
            made.append(Worth(borders[at, :size].tolist(), rows, greeting[at, : size + 1].tolist(), goodbye[at, : size + 1].tolist()))  # fmt: skip
        return made


def _totals(terms: Numbers) -> Numbers:
    """Of each row, the logarithm of the sum of what its terms are logarithms of."""
    most = terms.max(1)
    finite = np.where(np.isfinite(most), most, 0.0)
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(np.exp(terms - finite[:, None]).sum(1)) + finite, float)


def fitted(every: Sequence[Example]) -> tuple[dict[str, int], Numbers]:
    """(columns of the signs before a sentence, weights: theirs, the bias, those of `WHOLE`)."""
    sources: dict[str, set[str]] = defaultdict(set)
    for each in every:
        for signs in each.signs:
            for name in signs:
                sources[name].add(each.name)
    names = sorted(name for name, places in sources.items() if ":" not in name or len(places) >= PROGRAMMES)
    columns = {name: at for at, name in enumerate(names)}
    shows = _Shows(every, columns)
    pull = np.array(
        [WORDING if ":" in name else SIGN for name in names]
        + [AROUND]
        + [STRETCH] * len(STORY_SIGNS)
        + [AROUND] * (len(WHOLE) - len(STORY_SIGNS))
    )

    def loss(weights: Numbers) -> tuple[float, Numbers]:
        value, slope = shows.loss(weights)
        return value + 0.5 * float(pull @ weights**2), slope + pull * weights

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
    for out in parts({each.hand for each in every}):
        others = [each for each in every if each.hand not in out]
        places = places_of(others)
        columns, weights = fitted(read_by_others(others))
        judged = [replace(each, signs=told(each, places)) for each in every if each.hand in out]
        for each, worth in zip(judged, _Shows(judged, columns).worth(weights), strict=True):
            likely = chances(worth)
            seconds = [one.start / 1000 for one in each.spoken]
            groups = [group_of(each.hand), *(wave for wave in WAVES[1:] if each.hand in wave)]
            for group in [f"{group}{'' if each.counts == 1 else ', second reading'}" for group in groups]:
                for enough in (0.18, 0.21, 0.24, 0.27, 0.3, 0.33, 0.36, 0.4):
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


def _write_kinship(places: Mapping[str, Place]) -> None:
    lines = ["\t".join((word, "".join(chr(ZERO + int(each)) for each in place))) for word, place in sorted(places.items())]  # fmt: skip
    (FOLDER / "kinship.txt").write_text("\n".join(lines) + "\n", "ascii")


def main(arguments: Sequence[str]) -> None:
    if "--leave-one-out" in arguments:
        leave_one_out([each for each in arguments if not each.startswith("--")])
        return
    every = examples()
    weights = _as_read(*fitted(read_by_others(every)))
    print(
        f"{sum(len(each.borders) for each in every if each.counts == 1)} borders, {len(weights.of)} weights"
    )
    if "--write" in arguments:
        write_weights("borders", weights)
        _write_kinship(places_of(every))


if __name__ == "__main__":
    main(sys.argv[1:])
