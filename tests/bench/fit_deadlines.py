"""Fits the weights of deadlines: `python -m tests.bench.fit_deadlines [--write]` writes `sitegen/intake/weights/deadlines.txt`, and with
`--leave-one-out [NAME …]` it tells how well the deadlines of each hand's programmes are found by weights fitted on all others, and why those of the
programmes named were not.

It learns from the tuned programmes, story by story, and from the stretches of `tests/samples/directions`, as of places.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from sitegen.intake.deadlines import BOLDNESS, chosen, days_in
from sitegen.intake.weighing import Weights
from tests.bench.choosing import fitted_choice
from tests.bench.fitting import (
    FIRST_HAND,
    Penalties,
    Row,
    Totals,
    left_out,
    stories,
    strongest,
    write_weights,
)
from tests.samples.directions import Stretch
from tests.samples.intake_measures import Measure, demonstration_newsroom

PENALTIES = Penalties(sign=3.0, wording=1.0)
PRIOR = {
    "given_up": -3.0, "given_instead": 1.0, "told_past": -0.7, "told_would": -0.7, "once_elsewhere": -2.0, "before_thing": 2.5, "today_dated": -2.0, "now_after": 1.0, "so_then": -2.0, "subject_next": -1.5, "weekend": -1.0, "before_then": 1.0, "moved": 1.5,
    "left": 1.0, "in_hand": 2.5, "too_late": 3.5, "rule_named": 3.0, "rule_closes": 2.0, "rule_answer": 2.0, "not_after": 2.0, "stretches": 1.0,
    "announced": -2.0, "something_else": -2.0, "had_by_then": -1.5, "past": -1.0, "range": -3.0, "takes_place": -1.0, "settles_limit": 1.0, "limit_asked": 1.0, "until": 0.5, "by": 0.5, "has_to_be": 0.5,
    "answers": 1.0, "amended": 0.3, "settles_anew": 1.0, "until_that": 0.7, "nothing_asked": -1.5, "if_clause": -1.0, "after_that": 1.0, "during": -2.0, "goes_away": 0.7, "effect": -3.5, "shut_already": -3.0, "offered": 1.0, "between_now": 2.5, "since": -3.0, "corrects": 1.5, "corrected": -1.5, "weekdays_on": -3.0, "reported": -0.7, "because": -1.0, "denied_next": -0.5, "superseded": -1.0, "supersedes": 0.5, "at_latest": 1.0, "then_closes": 0.5, "negated": -2.0,
    "or_else": 2.0, "by_that_day": 4.0, "no_limit": -3.0, "lent": -2.0, "shown": -2.5, "taken_back": -4.0, "taken_instead": 1.5, "so_sooner": -2.5, "yours_from": 0.7, "follows_limit": -1.5,
    "before_last": -2.5, "that_is_why": -4.0, "sooner": 1.0, "come_along": -1.5, "not_that": -2.5, "settled_sooner": -2.5, "every_year": -3.0, "leads_up": -2.0, "can_until": 0.7, "range_of_drive": 4.0, "good_for": 2.0, "leads_on": -2.0, "by_then": 2.0, "yours_then": 3.5, "must_be_there": 1.5, "today_only": 2.5, "must_tell": 1.5, "used_to": -2.0, "parallel": 1.2, "hurry": 1.0, "until_it_ends": 2.0, "new_date": 2.0, "so_sooner_yet": -5.0, "in_time": 2.0, "begins": -3.5, "closes_it": 1.0, "only_by": 1.0, "yours_until": 3.5, "restated": -3.0, "restates": 2.0, "subject_is": -1.0, "for_it": -1.5, "and_you": 1.5,
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


@dataclass(frozen=True, slots=True)
class Material:
    examples: list[Example]
    """Every day ahead that is named."""
    marked: dict[str, set[tuple[int, date]]]
    """The deadlines marked, by source."""
    hands: dict[str, str]
    """Who wrote a source."""


def material() -> Material:
    known = Material([], defaultdict(set), {})
    for spoken in stories(demonstration_newsroom(), "due"):
        known.hands[spoken.source] = spoken.hand
        if isinstance(spoken.marked, Stretch):
            mine = set(spoken.marked.days)
        else:
            mine = {day for story, day in spoken.marked.marked.deadlines if story == spoken.story}
        known.marked[spoken.source] |= {(spoken.story, day) for day in mine}
        for each in days_in(spoken.sentences, spoken.aired, "US"):
            if each.day is not None:
                text = spoken.sentences[each.sentence].text
                known.examples.append(
                    Example(spoken.source, spoken.story, each.day, each.signs, text, each.day in mine)
                )
    return known


def weights_of(every: Sequence[Example], hands: Mapping[str, str]) -> Weights:
    rows = [
        Row(each.source, each.signs, each.marked, FIRST_HAND if hands[each.source] == "a" else 1.0)
        for each in every
    ]
    return fitted_choice(rows, [(each.source, each.story) for each in every], PRIOR, PENALTIES)


def leave_one_out(why: Sequence[str]) -> None:
    known = material()
    totals = Totals(BOLDNESS)
    for hand, source, mine, weights in left_out(known.examples, known.hands, weights_of):
        scores = [weights.odds(each.signs) for each in mine]
        told: dict[int, list[tuple[date, float]]] = defaultdict(list)
        for each, score in zip(mine, scores, strict=True):
            told[each.story].append((each.day, score))
        wanted = known.marked[source]

        def last_days(
            boldness: float, told: dict[int, list[tuple[date, float]]] = told
        ) -> set[tuple[int, date]]:
            return {(story, day) for story, odds in told.items() for day in chosen(odds, boldness)}

        for boldness in sorted({0.0, 0.3, 0.6, BOLDNESS, 1.2}):
            found = last_days(boldness)
            both = len(found & wanted)
            totals.add(hand, source, boldness, Measure(len(wanted), len(found), both, both))
        if source in why:
            found = last_days(BOLDNESS)
            for each, score in zip(mine, scores, strict=True):
                if ((each.story, each.day) in found) != each.marked:
                    print(f"   {score:5.2f} {each.marked} {each.story} {each.day} | {each.said} |", strongest(weights, each.signs))  # fmt: skip
            named = {(each.story, each.day) for each in mine}
            print("   never named:", [str(day) for story, day in wanted if (story, day) not in named])
    totals.tell()


def main(arguments: Sequence[str]) -> None:
    if "--leave-one-out" in arguments:
        leave_one_out([each for each in arguments if not each.startswith("--")])
        return
    known = material()
    weights = weights_of(known.examples, known.hands)
    print(f"{len(known.examples)} days named, {sum(each.marked for each in known.examples)} of them marked, {len(weights.of)} weights")  # fmt: skip
    if "--write" in arguments:
        write_weights("deadlines", weights)


if __name__ == "__main__":
    main(sys.argv[1:])
