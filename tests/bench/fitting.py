"""Logistic regression with a penalty, by Newton's method: what the weights of intake are fitted by.

Signs of wording (with a colon in their names) are many, so each is drawn towards 0 more strongly, and counts only where several
programmes have it. The equations of each step are solved by conjugate gradients.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Protocol, TypeVar

import numpy as np
import numpy.typing as npt

from sitegen.intake.captions import read_any_captions
from sitegen.intake.lexicon import known_names
from sitegen.intake.records import Sentence
from sitegen.intake.sentences import sentences
from sitegen.intake.speech import spoken_words
from sitegen.intake.weighing import BIAS, Weights
from sitegen.newsroom.records import Newsroom
from tests.intake.said import AIRED
from tests.intake.said import sentences as said
from tests.samples.directions import Stretch, stretches
from tests.samples.intake_measures import Measure, aired_by, story_at
from tests.samples.programmes import Programme, programmes

Numbers = npt.NDArray[np.float64]
FOLDER = Path(__file__).resolve().parents[2] / "sitegen" / "intake" / "weights"
LEAST = 0.05
"""Weights of wordings below this are left out: they are many and decide nothing."""


@dataclass(frozen=True, slots=True)
class Penalties:
    """How strongly weights are drawn towards what is expected of them."""

    sign: float
    """Of grammar."""
    wording: float
    programmes: int = 3
    """In so many a wording must stand."""


@dataclass(frozen=True, slots=True)
class Row:
    """One thing to learn from."""

    source: str
    """The programme it is of."""
    signs: Mapping[str, float]
    true: bool
    counts: float = 1.0


@dataclass(frozen=True, slots=True)
class Spoken:
    """A story to learn from, or a stretch of speech."""

    source: str
    """The programme's name, or `directions` and a number: stretches are no programme, but five parts of them may be left out in turn."""
    hand: str
    story: int
    aired: date
    sentences: Sequence[Sentence]
    marked: Programme | Stretch
    shouted: bool = False
    """Read as captions in capitals would have it, which the programme's are not."""


FIRST_HAND = 0.6
"""What a row counts of the programmes whose writer also wrote the recognisers."""


def stories(newsroom: Newsroom, directions: str, *, shouted: bool = False) -> Iterator[Spoken]:
    """Each story of the tuned programmes, and each of the stretches in a file of `tests/samples/directions`. `shouted`: and once more in capitals
    where they are not."""
    for programme in programmes():
        if programme.group != "tuned":
            continue
        names = known_names(aired_by(programme, newsroom))
        words = spoken_words(read_any_captions(programme.captions)[0])
        read = [sentences(words, names)]
        if shouted and not read[0][0].restored:
            read.append(sentences([replace(word, text=word.text.upper()) for word in words], names))
        for number, every in enumerate(read):
            told: dict[int, list[Sentence]] = defaultdict(list)
            for each in every:
                told[story_at(programme.marked, each.start)].append(each)
            for story, spoken in told.items():
                yield Spoken(
                    programme.name,
                    programme.hand,
                    story,
                    programme.aired.date(),
                    spoken,
                    programme,
                    number > 0,
                )
    for number, stretch in enumerate(stretches(directions)):
        name = f"directions {number % 5}"
        yield Spoken(name, name, number, AIRED, said(*stretch.sentences), stretch)


def group_of(hand: str) -> str:
    """Whose work a source is, for the totals."""
    return "directions" if hand.startswith("directions") else "first hand" if hand == "a" else "other hands"


class Example(Protocol):
    """What there is to learn from: one thing, and the programme it is of."""

    @property
    def source(self) -> str: ...


E = TypeVar("E", bound=Example)


def left_out(
    examples: Sequence[E],
    hands: Mapping[str, str],
    weights_of: Callable[[Sequence[E], Mapping[str, str]], Weights],
) -> Iterator[tuple[str, str, list[E], Weights]]:
    """(hand, source, the source's examples, weights fitted on those of all other hands) of every source. `hands`: who wrote each."""
    by_source: dict[str, list[E]] = defaultdict(list)
    for each in examples:
        by_source[each.source].append(each)
    for hand in sorted(set(hands.values())):
        weights = weights_of([each for each in examples if hands[each.source] != hand], hands)
        for source in [name for name, by in hands.items() if by == hand]:
            yield hand, source, by_source[source], weights


class Totals:
    """Recall and precision of groups of hands at several boldnesses."""

    def __init__(self, boldness: float) -> None:
        """`boldness`: that of the recogniser, at which each source is told by itself."""
        self._boldness = boldness
        self._sums: dict[tuple[str, float], Measure] = {}

    def add(self, hand: str, source: str, boldness: float, measure: Measure) -> None:
        key = (group_of(hand), boldness)
        self._sums[key] = self._sums.get(key, Measure(0, 0, 0, 0)) + measure
        if boldness == self._boldness:
            print(f"{hand} {source:18} {measure.right}/{measure.wanted} {measure.true}/{measure.found}")

    def tell(self) -> None:
        tell_totals(self._sums)


class Matrix:
    """Rows of few signs each, the last column 1."""

    def __init__(self, rows: Sequence[Row], columns: Mapping[str, int]) -> None:
        pairs = [
            [(columns[name], value) for name, value in row.signs.items() if name in columns] for row in rows
        ]
        lengths = [len(each) + 1 for each in pairs]
        self.width = len(columns) + 1
        self._rows = np.repeat(np.arange(len(rows)), lengths)
        self._columns = np.array(
            [at for each in pairs for at in (*(column for column, _ in each), len(columns))]
        )
        self._values = np.array([value for each in pairs for value in (*(one for _, one in each), 1.0)])
        self._height = len(rows)

    def times(self, weights: Numbers) -> Numbers:
        return np.bincount(self._rows, self._values * weights[self._columns], self._height).astype(np.float64)

    def turned(self, numbers: Numbers) -> Numbers:
        return np.bincount(self._columns, self._values * numbers[self._rows], self.width).astype(np.float64)

    def squares(self, numbers: Numbers) -> Numbers:
        return np.bincount(self._columns, self._values**2 * numbers[self._rows], self.width).astype(
            np.float64
        )


def fitted(rows: Sequence[Row], prior: Mapping[str, float], penalties: Penalties) -> Weights:
    """Weights of the signs of grammar in every row and of the wordings that stand in enough programmes; those of `prior` are
    drawn towards what it says."""
    places: dict[str, set[str]] = defaultdict(set)
    for row in rows:
        for name in row.signs:
            places[name].add(row.source)
    names = [
        name for name, sources in places.items() if ":" not in name or len(sources) >= penalties.programmes
    ]
    columns = {name: at for at, name in enumerate(names)}
    matrix = Matrix(rows, columns)
    y = np.array([float(row.true) for row in rows])
    counts = np.array([row.counts for row in rows])
    pull = np.array([penalties.wording if ":" in name else penalties.sign for name in names] + [0.01])
    wanted = np.array([prior.get(name, 0.0) for name in names] + [0.0])

    def loss(weights: Numbers) -> float:
        odds = matrix.times(weights)
        return float(counts @ (np.logaddexp(0, odds) - y * odds) + 0.5 * pull @ (weights - wanted) ** 2)

    weights = wanted.copy()
    at = loss(weights)
    for _ in range(40):
        chance = 1 / (1 + np.exp(-np.clip(matrix.times(weights), -30, 30)))
        slope = matrix.turned(counts * (chance - y)) + pull * (weights - wanted)
        curve = counts * chance * (1 - chance)
        step = _solved(lambda v, curve=curve: matrix.turned(curve * matrix.times(v)) + pull * v, slope, matrix.squares(curve) + pull)  # type: ignore[misc]  # fmt: skip
        size = 1.0
        while size > 1e-4 and loss(weights - size * step) > at:
            size /= 2
        weights = weights - size * step
        before, at = at, loss(weights)
        if before - at < 1e-6 * abs(at):
            break
    told = {name: round(float(weight), 2) for name, weight in zip(names, weights, strict=False)}
    return Weights(
        round(float(weights[-1]), 2),
        {name: weight for name, weight in told.items() if ":" not in name or abs(weight) >= LEAST},
    )


def _solved(times: Callable[[Numbers], Numbers], right: Numbers, diagonal: Numbers) -> Numbers:
    """Conjugate gradients, the diagonal helping."""
    found = np.zeros_like(right)
    rest = right.copy()
    near = rest / diagonal
    way = near.copy()
    weight = rest @ near
    enough = 1e-10 * weight
    for _ in range(400):
        if weight <= enough:
            break
        along = times(way)
        size = weight / (way @ along)
        found += size * way
        rest -= size * along
        near = rest / diagonal
        weight, before = rest @ near, weight
        way = near + weight / before * way
    return found


def write_weights(kind: str, weights: Weights) -> None:
    """Puts weights where intake reads them."""
    lines = [
        f"# Fitted by `python -m tests.bench.fit_{kind} --write`; logarithms of odds.",
        f"{BIAS}\t{weights.bias:g}",
    ]
    lines += [
        f"{name}\t{weight:g}"
        for name, weight in sorted(weights.of.items(), key=lambda one: (":" in one[0], one[0]))
    ]
    (FOLDER / f"{kind}.txt").write_text("\n".join(lines) + "\n", "utf-8")


def strongest(weights: Weights, signs: Mapping[str, float], count: int = 12) -> str:
    """What weighs most of some signs, in words."""
    worth = [(weights.of[name] * value, name) for name, value in signs.items() if name in weights.of]
    worth.sort(key=lambda one: -abs(one[0]))
    return ", ".join(f"{name} {value:.1f}" for value, name in worth[:count])


def tell_totals(totals: Mapping[tuple[str, float], Measure]) -> None:
    """Prints recall and precision of each group of programmes at each boldness."""
    for (group, boldness), total in sorted(totals.items()):
        print(f"{group} at {boldness}: {total.recall:.3f} / {total.precision:.3f}")
