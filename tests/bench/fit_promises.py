"""Fits the weights of promises: `python -m tests.bench.fit_promises [--write]` writes `sitegen/intake/weights/promises.txt`, and with
`--leave-one-out [NAME …]` it tells how well the promises of each hand's programmes are found by weights fitted on all others, and why those of the
programmes named were not.

It learns from every sentence of the tuned programmes, openings and closings too, and from the stretches of `tests/samples/directions`.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.intake.promises import BOLDNESS, signs_of
from sitegen.intake.weighing import Weights
from tests.bench.fitting import (
    FIRST_HAND,
    Penalties,
    Row,
    Totals,
    fitted,
    left_out,
    stories,
    strongest,
    write_weights,
)
from tests.intake.said import STATION
from tests.samples.directions import Stretch
from tests.samples.intake_measures import demonstration_newsroom, promise_measure

PENALTIES = Penalties(sign=2.0, wording=6.0)
PRIOR = {
    "address": 2.0, "ours": 2.0, "ours_too": 2.0, "code": 1.5, "the_site": 1.0, "screen": 1.0, "link": 0.5, "with_story": 0.5, "others": -2.0, "web_address": -1.0,
    "email_address": -1.0, "so_is_after_ours": 4.0, "so_is_after_address": 4.0, "so_is_after_the_site": 4.0, "so_is_after_screen": 2.0, "answers_of_ours": 4.0, "look_there_after_ours": 4.0, "look_there_after_address": 4.0, "look_there_after_the_site": 3.0,
    "answers_of_the_site": 4.0, "answers_of_address": 2.0, "answers_of_screen": 2.0, "denied": -4.0, "perhaps_elsewhere": -1.5, "told": -3.0, "told_of_elsewhere": -3.0,
    "once": -2.0, "ground": -2.0, "elsewhere": -1.5, "we_post": 4.0, "not_there": -3.0, "question": -1.5, "big_screen": -2.0, "paper_page": -1.0,
    "said_to_be_theirs": -3.0, "somewhere+we_put": 1.0, "somewhere+published": 1.0, "somewhere+you_see": 1.0, "somewhere+look": 0.5, "somewhere+content": 0.7,
    "somewhere+missed": 0.7, "showing": 2.0, "near_me": -3.0, "on_there": 5.5,
}  # fmt: skip
"""What grammar takes for granted, which few examples must not overturn."""


@dataclass(frozen=True, slots=True)
class Example:
    source: str
    story: int
    at: float
    """Seconds."""
    signs: dict[str, float]
    said: str
    marked: bool


@dataclass(frozen=True, slots=True)
class Material:
    examples: list[Example]
    """Every sentence."""
    marked: dict[str, set[tuple[float, float]]]
    """The promises marked, by source."""
    hands: dict[str, str]
    """Who wrote a source."""


def material() -> Material:
    newsroom = demonstration_newsroom()
    known = Material([], defaultdict(set), {})
    for spoken in stories(newsroom, "there"):
        known.hands[spoken.source] = spoken.hand
        if isinstance(spoken.marked, Stretch):
            # One after the other, so that each second belongs to one.
            shift = 1000.0 * spoken.story
            mine = [(4.0 * at, 4.0 * at + 3.5) for at in spoken.marked.promises]
            station = STATION
        else:
            shift = 0.0
            mine = list(spoken.marked.marked.promises)
            station = replace(newsroom.station, programme=spoken.marked.title or newsroom.station.programme)
        known.marked[spoken.source] |= {(first + shift, last + shift) for first, last in mine}
        for sentence, signs in zip(spoken.sentences, signs_of(spoken.sentences, station), strict=True):
            start, end = sentence.start / 1000, sentence.end / 1000
            # Times in frames drift by a second.
            marked = any(2 * (min(end, last) - max(start, first)) > end - start for first, last in mine)
            known.examples.append(
                Example(spoken.source, spoken.story, start + shift, signs, sentence.text, marked)
            )
    return known


def weights_of(every: Sequence[Example], hands: Mapping[str, str]) -> Weights:
    rows = [
        Row(each.source, each.signs, each.marked, FIRST_HAND if hands[each.source] == "a" else 1.0)
        for each in every
    ]
    return fitted(rows, PRIOR, PENALTIES)


def leave_one_out(why: Sequence[str]) -> None:
    known = material()
    totals = Totals(BOLDNESS)
    for hand, source, mine, weights in left_out(known.examples, known.hands, weights_of):
        scores = [weights.odds(each.signs) for each in mine]
        for boldness in sorted({0.0, 0.3, 0.6, BOLDNESS, 1.2}):
            found = [each.at for each, score in zip(mine, scores, strict=True) if score + boldness > 0]
            totals.add(hand, source, boldness, promise_measure(known.marked[source], found))
        if source in why:
            for each, score in zip(mine, scores, strict=True):
                if (score + BOLDNESS > 0) != each.marked:
                    print(f"   {score:5.2f} {each.marked} | {each.said} |", strongest(weights, each.signs))
    totals.tell()


def main(arguments: Sequence[str]) -> None:
    if "--leave-one-out" in arguments:
        leave_one_out([each for each in arguments if not each.startswith("--")])
        return
    known = material()
    weights = weights_of(known.examples, known.hands)
    print(f"{len(known.examples)} sentences, {sum(each.marked for each in known.examples)} of them marked, {len(weights.of)} weights")  # fmt: skip
    if "--write" in arguments:
        write_weights("promises", weights)


if __name__ == "__main__":
    main(sys.argv[1:])
