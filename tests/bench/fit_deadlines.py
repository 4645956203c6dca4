"""Fits the weights of deadlines: `python -m tests.bench.fit_deadlines` prints what goes into `sitegen/intake/deadlines.py`, and with
`--leave-one-out [NAME …]` how well each programme's are found by weights fitted on the others, and why those of the programmes named were not.

It learns from the tuned programmes, story by story, and from the stretches of `tests/samples/directions`, as of places.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from sitegen.intake.captions import read_any_captions
from sitegen.intake.deadlines import BOLDNESS, days_in
from sitegen.intake.lexicon import known_names
from sitegen.intake.records import Sentence
from sitegen.intake.sentences import sentences
from sitegen.intake.speech import spoken_words
from tests.bench.fit_places import ANOTHER_HAND, ELSEWHERE, STRETCHES
from tests.bench.fitting import fitted, tell_totals, tell_weights
from tests.intake.said import AIRED
from tests.intake.said import sentences as said
from tests.samples.directions import stretches
from tests.samples.intake_measures import Measure, demonstration_newsroom, story_at
from tests.samples.programmes import programmes

PENALTY = 2.0
PRIOR = {
    "rule_named": 3.0, "rule_closes": 2.0, "rule_left": 2.0, "rule_in_hand": 2.0, "rule_then": 2.0, "rule_limit": 1.5, "rule_answer": 2.0, "not_after": 2.0, "stretches": 1.0,
    "announced": -2.0, "something_else": -2.0, "had_by_then": -1.5, "past": -1.0, "range": -1.0, "takes_place": -1.0, "settles_limit": 1.0, "limit_asked": 1.0, "until": 0.5, "by": 0.5, "has_to_be": 0.5,
    "event_before": -0.5, "answers": 1.0, "amended": 0.3, "settles_anew": 1.0, "until_that": 0.7, "nothing_asked": -1.5, "if_clause": -1.0, "after_that": 1.0, "during": -2.0, "goes_away": 0.7, "effect": -2.5, "shut_already": -3.0, "offered": 1.0, "between_now": 2.5,
}  # fmt: skip
"""What grammar takes for granted, which few examples must not overturn."""


@dataclass(frozen=True, slots=True)
class Example:
    source: str
    story: int
    day: date
    signs: dict[str, float]
    said: str
    marked: bool


def examples() -> tuple[list[Example], dict[str, frozenset[tuple[int, date]]]]:
    """(every day ahead that is named, the deadlines marked by source)."""
    names = known_names(demonstration_newsroom())
    marked: dict[str, frozenset[tuple[int, date]]] = {}
    parts: list[tuple[str, int, date, Sequence[Sentence]]] = []
    for programme in programmes():
        if programme.group != "tuned":
            continue
        marked[programme.name] = programme.marked.deadlines
        stories: dict[int, list[Sentence]] = defaultdict(list)
        for each in sentences(spoken_words(read_any_captions(programme.captions)[0]), names):
            stories[story_at(programme.marked, each.start)].append(each)
        parts += [
            (programme.name, story, programme.aired.date(), spoken) for story, spoken in stories.items()
        ]
    for number, stretch in enumerate(stretches("due")):
        name = f"directions {number % 5}"
        marked[name] = marked.get(name, frozenset()) | {(number, day) for day in stretch.days}
        parts.append((name, number, AIRED, said(*stretch.sentences)))
    made = [
        Example(source, story, each.day, each.signs, spoken[each.sentence].text, (story, each.day) in marked[source])
        for source, story, aired, spoken in parts
        for each in days_in(spoken, aired, "US")
        if each.day is not None
    ]  # fmt: skip
    return made, marked


def _matrix(every: Sequence[Example]) -> npt.NDArray[np.float64]:
    return np.array([[*each.signs.values(), 1.0] for each in every])


def weights_of(every: Sequence[Example], x: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Weights in the order of the signs, the bias last. A day named twice counts where it is likeliest."""
    y = np.array([float(each.marked) for each in every])
    usual = np.array([2.0 if each.source in ANOTHER_HAND else STRETCHES if each.source.startswith("directions") else 1.0 for each in every])  # fmt: skip
    prior = np.array([PRIOR.get(name, 0.0) for name in every[0].signs] + [0.0])
    weights = fitted(x, y, usual, prior, PENALTY)
    for _ in range(2):
        scores = x @ weights
        best: dict[tuple[str, int, date], float] = defaultdict(lambda: -np.inf)
        for each, score in zip(every, scores, strict=True):
            best[each.source, each.story, each.day] = max(
                best[each.source, each.story, each.day], float(score)
            )
        further = np.array([each.marked and score < best[each.source, each.story, each.day] - 0.5 for each, score in zip(every, scores, strict=True)])  # fmt: skip
        weights = fitted(x, y, np.where(further, usual * ELSEWHERE, usual), prior, PENALTY)
    return weights


def leave_one_out(why: Sequence[str]) -> None:
    every, marked = examples()
    x = _matrix(every)
    totals: dict[tuple[str, float], Measure] = {}
    for source, wanted in marked.items():
        own = np.array([each.source == source for each in every])
        weights = weights_of([each for each, mine in zip(every, own, strict=True) if not mine], x[~own])
        scores = [float(each) for each in x[own] @ weights]
        mine = [each for each in every if each.source == source]
        group = "directions" if source.startswith("directions") else "another hand" if source in ANOTHER_HAND else "first hand"  # fmt: skip
        for boldness in (0.0, 0.3, 0.6, 0.9):
            found = {
                (each.story, each.day)
                for each, score in zip(mine, scores, strict=True)
                if score + boldness > 0
            }
            both = len(found & wanted)
            totals[group, boldness] = totals.get((group, boldness), Measure(0, 0, 0, 0)) + Measure(
                len(wanted), len(found), both, both
            )
        if any(source.startswith(name) for name in why):
            for each, score, row in zip(mine, scores, x[own], strict=True):
                if (score + BOLDNESS > 0) != each.marked:
                    worth = sorted(zip(row * weights, each.signs, strict=False), key=lambda one: -abs(one[0]))
                    print(f"{source} {score:5.2f} {each.marked} {each.day} | {each.said} |", ", ".join(f"{name} {value:.1f}" for value, name in worth[:9]))  # fmt: skip
    tell_totals(totals)


def main(arguments: Sequence[str]) -> None:
    if "--leave-one-out" in arguments:
        leave_one_out([each for each in arguments if not each.startswith("--")])
        return
    every, _ = examples()
    weights = weights_of(every, _matrix(every))
    print(f"# {len(every)} days named, {sum(each.marked for each in every)} of them marked")
    tell_weights(every[0].signs, weights)


if __name__ == "__main__":
    main(sys.argv[1:])
