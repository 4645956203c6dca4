"""Fits the weights of places: `python -m tests.bench.fit_places` prints what goes into `sitegen/intake/sending.py`, and with `--leave-one-out [NAME …]` how
well each programme's places are found by weights fitted on the others, and why those of the programmes named were not.

It learns from the tuned programmes, story by story, and from the stretches of
`tests/samples/directions`. A place named several times in a story counts where it is likeliest: elsewhere nobody may be sent there.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitegen.intake.captions import read_any_captions
from sitegen.intake.lexicon import known_names
from sitegen.intake.places import candidates, once
from sitegen.intake.records import NamedPlace, Sentence
from sitegen.intake.sending import BOLDNESS
from sitegen.intake.sentences import sentences
from sitegen.intake.speech import spoken_words
from tests.bench.fitting import fitted, tell_totals, tell_weights
from tests.intake.said import sentences as said
from tests.samples.directions import stretches
from tests.samples.intake_measures import Measure, demonstration_newsroom, place_measure, same_place, story_at
from tests.samples.programmes import programmes

PENALTY = 3.0
ANOTHER_HAND = frozenset(
    {"corner-booth", "frost-line", "gravel-road", "milk-run", "rolling-pin", "sixth-floor"}
)
"""Programmes whose writer knew none of the recognisers: they count twice."""
STRETCHES = 1.5
"""What a place of `tests/samples/directions` counts (chosen, as the penalty, on programmes left out of the fit)."""
ELSEWHERE = 0.15
"""What a further mention of a place counts."""
PRIOR = {
    "denied": -2.0, "benefits": -1.5, "somebody_there": -1.5, "others_do": -1.0, "told": -1.0, "happened_behind": -1.0, "landmark": -2.0, "others_tell": -0.7, "group": -2.0,
    "nothing_asked": -1.5, "little_asked": -0.5, "takes_them": 1.0, "subject_takes": 0.7, "stands": 1.0, "answers": 1.0, "viewer_gives": 0.7, "entry": 0.5, "so_does": 1.0, "open_behind": 0.5,
    "hands": 0.5, "that_is_named": 0.7, "geography": -1.5, "apposed": 1.5, "full": -1.5, "after_colon": 0.7, "refused": -3.0, "person": -3.0, "he_is_in": -1.5,
}  # fmt: skip
"""What grammar takes for granted, which few examples must not overturn."""


@dataclass(frozen=True, slots=True)
class Example:
    source: str
    story: int
    place: NamedPlace
    signs: dict[str, float]
    said: str
    mark: str
    """The marked place it is, or empty."""


def examples() -> tuple[list[Example], dict[str, list[tuple[int, str]]]]:
    """(every place named, the places marked by source)."""
    newsroom = demonstration_newsroom()
    names = known_names(newsroom)
    marked: dict[str, list[tuple[int, str]]] = {}
    parts: list[tuple[str, int, Sequence[Sentence]]] = []
    for programme in programmes():
        if programme.group != "tuned":
            continue
        marked[programme.name] = sorted(programme.marked.places)
        stories: dict[int, list[Sentence]] = defaultdict(list)
        for each in sentences(spoken_words(read_any_captions(programme.captions)[0]), names):
            stories[story_at(programme.marked, each.start)].append(each)
        parts += [(programme.name, story, spoken) for story, spoken in stories.items()]
    for number, stretch in enumerate(stretches("said")):
        name = f"directions {number % 5}"
        marked.setdefault(name, []).extend((number, place) for place in stretch.places)
        parts.append((name, number, said(*stretch.sentences)))
    made = [
        Example(
            source, story, each.place, each.signs, spoken[each.sentence].text,
            next((name for at, name in marked[source] if at == story and same_place(name, each.place.name)), ""),
        )
        for source, story, spoken in parts
        for each in candidates(spoken, newsroom)
    ]  # fmt: skip
    return made, marked


def _matrix(every: Sequence[Example]) -> npt.NDArray[np.float64]:
    return np.array([[*each.signs.values(), 1.0] for each in every])


def weights_of(every: Sequence[Example], x: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Weights in the order of the signs, the bias last."""
    y = np.array([float(bool(each.mark)) for each in every])
    usual = np.array([2.0 if each.source in ANOTHER_HAND else STRETCHES if each.source.startswith("directions") else 1.0 for each in every])  # fmt: skip
    prior = np.array([PRIOR.get(name, 0.0) for name in every[0].signs] + [0.0])
    weights = fitted(x, y, usual, prior, PENALTY)
    for _ in range(2):
        scores = x @ weights
        best: dict[tuple[str, int, str], float] = defaultdict(lambda: -np.inf)
        for each, score in zip(every, scores, strict=True):
            key = (each.source, each.story, each.mark)
            best[key] = max(best[key], float(score))
        further = np.array([bool(each.mark) and score < best[each.source, each.story, each.mark] - 0.5 for each, score in zip(every, scores, strict=True)])  # fmt: skip
        weights = fitted(x, y, np.where(further, usual * ELSEWHERE, usual), prior, PENALTY)
    return weights


def _found(every: Sequence[Example], scores: Sequence[float], boldness: float) -> Iterator[tuple[int, str]]:
    stories: dict[int, list[NamedPlace]] = defaultdict(list)
    for each, score in zip(every, scores, strict=True):
        if score + boldness > 0:
            stories[each.story].append(each.place)
    for story, places in stories.items():
        yield from ((story, each.name) for each in once(places))


def leave_one_out(why: Sequence[str]) -> None:
    every, marked = examples()
    x = _matrix(every)
    totals: dict[tuple[str, float], Measure] = {}
    for source in marked:
        own = np.array([each.source == source for each in every])
        weights = weights_of([each for each, mine in zip(every, own, strict=True) if not mine], x[~own])
        scores = [float(each) for each in x[own] @ weights]
        mine = [each for each in every if each.source == source]
        group = "directions" if source.startswith("directions") else "another hand" if source in ANOTHER_HAND else "first hand"  # fmt: skip
        for boldness in (0.0, 0.2, 0.4, 0.6, 0.8, 1.0):
            measure = place_measure(marked[source], list(_found(mine, scores, boldness)))
            totals[group, boldness] = totals.get((group, boldness), Measure(0, 0, 0, 0)) + measure
            if boldness == BOLDNESS:
                print(f"{source:18} {measure.right}/{measure.wanted} {measure.true}/{measure.found}")
        if any(source.startswith(name) for name in why):
            for each, score, row in zip(mine, scores, x[own], strict=True):
                if (score + BOLDNESS > 0) != bool(each.mark):
                    worth = sorted(zip(row * weights, each.signs, strict=False), key=lambda one: -abs(one[0]))
                    print(f"   {score:5.2f} {each.mark or '-'} ({each.place.name}) | {each.said} |", ", ".join(f"{name} {value:.1f}" for value, name in worth[:9]))  # fmt: skip
    tell_totals(totals)


def main(arguments: Sequence[str]) -> None:
    if "--leave-one-out" in arguments:
        leave_one_out([each for each in arguments if not each.startswith("--")])
        return
    every, _ = examples()
    weights = weights_of(every, _matrix(every))
    print(f"# {len(every)} places named, {sum(bool(each.mark) for each in every)} of them marked")
    tell_weights(every[0].signs, weights)


if __name__ == "__main__":
    main(sys.argv[1:])
