"""Fits the weights of places: `python -m tests.bench.fit_places [--write]` writes `sitegen/intake/weights/places.txt`, and with `--leave-one-out [NAME …]` it tells how
well the places of each hand's programmes are found by weights fitted on all others, and why those of the programmes named were not.

It learns from the tuned programmes, story by story, and from the stretches of
`tests/samples/directions`. A place named several times in a story counts where it is likeliest: elsewhere nobody may be sent there.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.intake.places import Candidate, candidates, chosen
from sitegen.intake.records import NamedPlace
from sitegen.intake.sending import BOLDNESS
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
from tests.samples.directions import Stretch
from tests.samples.intake_measures import aired_by, demonstration_newsroom, place_measure, same_place

PENALTIES = Penalties(sign=1.5, wording=4.0)
ELSEWHERE = 0.15
"""What a further mention of a place counts."""
SHOUTED = 0.4
"""What a row counts that is the same words in capitals."""
PRIOR = {
    "denied": -2.0, "benefits": -1.5, "somebody_there": -1.5, "others_do": -1.0, "told": -1.0, "happened_behind": -1.0, "told_behind": -0.7, "landmark": -2.0, "others_tell": -0.7, "long_ago": -1.5, "group": -2.0,
    "nothing_asked": -1.5, "little_asked": -0.5, "takes_them": 1.0, "subject_takes": 0.7, "stands": 1.0, "answers": 1.0, "viewer_gives": 0.7, "entry": 0.5, "so_does": 1.0, "open_behind": 0.5,
    "hands": 0.5, "that_is_named": 0.7, "geography": -1.5, "apposed": 1.5, "full": -1.5, "formerly": -1.5, "over_with": -1.0, "somebody_at": -1.5, "you_know": -0.7, "alone_asked": 0.7, "done_there": -1.2, "listed_others": -0.7,  "after_colon": 0.7, "refused": -3.0, "keep_away": -2.0, "not_now": -1.5, "not_there_next": -1.0, "person": -3.0, "he_is_in": -1.5,
    "past_contrast": -2.0, "by_the": -2.0, "one_at": -2.0, "part_of_previous": -1.5, "explains": -1.5, "plain_words": -1.0, "apposed_name": -1.0, "asked_no": -2.0, "thought_no": -2.0, "for_years": -1.5,
    "has_site": -1.5, "this_is": -0.7, "somebody_does": -1.5, "has_no": -1.0, "makes_room": 1.0, "not_only": 1.5, "kind_told": 1.0, "glad_of_them": 1.0, "event_was": -1.5,
    "indefinite": -1.0, "pair_loose": -1.0, "is_there": -1.5, "trade_bare": -1.0, "someone_behind": -1.0, "others_go": -2.0, "there_later": 0.7, "goes_or": 1.0, "wares": -1.5, "way_to": -1.5, "side_of": -1.0, "persons_room": -0.7, "taken_back_here": -2.0, "part_of_story": -0.5, "too_far": -3.0, "told_you": -0.7, "on_site": -2.0, "taken_back": -1.0,
    "afterward": -2.5, "gains": -3.0, "viewers_did": -2.0, "locates": -3.5, "yet_to_come": -1.5, "person_head": -1.5, "not_it": -2.0, "keep_going": -2.5,
    "once": -2.0, "word_from": -3.0, "moved_to": 2.0, "building": -1.5, "doors_of": -1.5,
    "folks_who": -2.0, "shipped": -2.0, "i_did": -1.5, "sponsors": -2.0, "worked_on": -2.0, "behind_me": -2.0,
}  # fmt: skip
"""What grammar takes for granted, which few examples must not overturn."""


@dataclass(frozen=True, slots=True)
class Example:
    source: str
    story: int
    candidate: Candidate
    texts: tuple[str, ...]
    """The story's sentences."""
    mark: str
    """The marked place it is, or empty."""
    shouted: bool
    """Read as captions in capitals would have it, which the programme's are not: to learn from alone."""

    @property
    def place(self) -> NamedPlace:
        return self.candidate.place

    @property
    def signs(self) -> dict[str, float]:
        return self.candidate.signs

    @property
    def said(self) -> str:
        return self.texts[self.candidate.sentence]


@dataclass(frozen=True, slots=True)
class Material:
    examples: list[Example]
    """Every place named."""
    marked: dict[str, list[tuple[int, str]]]
    """The places marked, by source."""
    hands: dict[str, str]
    """Who wrote a source."""


def material() -> Material:
    newsroom = demonstration_newsroom()
    known = Material([], defaultdict(list), {})
    for spoken in stories(newsroom, "said", shouted=True):
        known.hands[spoken.source] = spoken.hand
        station = newsroom
        if isinstance(spoken.marked, Stretch):
            mine = list(spoken.marked.places)
        else:
            station = aired_by(spoken.marked, newsroom)
            mine = sorted(name for story, name in spoken.marked.marked.places if story == spoken.story)
        if not spoken.shouted:
            known.marked[spoken.source] += [(spoken.story, name) for name in mine]
        texts = tuple(each.text for each in spoken.sentences)
        for each in candidates(spoken.sentences, station):
            mark = next((name for name in mine if same_place(name, each.place.name)), "")
            known.examples.append(Example(spoken.source, spoken.story, each, texts, mark, spoken.shouted))
    return known


def weights_of(every: Sequence[Example], hands: Mapping[str, str]) -> Weights:
    rows = [
        Row(
            each.source,
            each.signs,
            bool(each.mark),
            (FIRST_HAND if hands[each.source] == "a" else 1.0) * (SHOUTED if each.shouted else 1.0),
        )
        for each in every
    ]
    weights = fitted(rows, PRIOR, PENALTIES)
    for _ in range(2):
        scores = [weights.odds(each.signs) for each in every]
        best: dict[tuple[str, int, str, bool], float] = defaultdict(lambda: float("-inf"))
        for each, score in zip(every, scores, strict=True):
            key = (each.source, each.story, each.mark, each.shouted)
            best[key] = max(best[key], score)
        weights = fitted(
            [
                Row(row.source, row.signs, row.true, row.counts * ELSEWHERE)
                if each.mark and score < best[each.source, each.story, each.mark, each.shouted] - 0.5
                else row
                for row, each, score in zip(rows, every, scores, strict=True)
            ],
            PRIOR,
            PENALTIES,
        )
    return weights


def _found(every: Sequence[Example], scores: Sequence[float], boldness: float) -> Iterator[tuple[int, str]]:
    found: dict[int, list[Example]] = defaultdict(list)
    for each, score in zip(every, scores, strict=True):
        if score + boldness > 0:
            found[each.story].append(each)
    for story, those in found.items():
        yield from ((story, each.name) for each in chosen([each.candidate for each in those], those[0].texts))


def leave_one_out(why: Sequence[str]) -> None:
    known = material()
    totals = Totals(BOLDNESS)
    for hand, source, every, weights in left_out(known.examples, known.hands, weights_of):
        mine = [each for each in every if not each.shouted]
        scores = [weights.odds(each.signs) for each in mine]
        for boldness in sorted({0.0, 0.3, 0.6, BOLDNESS, 1.2}):
            found = list(_found(mine, scores, boldness))
            totals.add(hand, source, boldness, place_measure(known.marked[source], found))
        if source in why:
            for each, score in zip(mine, scores, strict=True):
                if (score + BOLDNESS > 0) != bool(each.mark):
                    print(f"   {score:5.2f} {each.mark or '-'} ({each.place.name}) | {each.said} |", strongest(weights, each.signs))  # fmt: skip
            named = {(each.story, each.mark) for each in mine}
            print("   never named:", [mark for mark in known.marked[source] if mark not in named])
    totals.tell()


def main(arguments: Sequence[str]) -> None:
    if "--leave-one-out" in arguments:
        leave_one_out([each for each in arguments if not each.startswith("--")])
        return
    known = material()
    weights = weights_of(known.examples, known.hands)
    print(f"{len(known.examples)} places named, {sum(bool(each.mark) for each in known.examples)} of them marked, {len(weights.of)} weights")  # fmt: skip
    if "--write" in arguments:
        write_weights("places", weights)


if __name__ == "__main__":
    main(sys.argv[1:])
