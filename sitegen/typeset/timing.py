"""When one can do what an ask wants, in words that stand alone: with weekday and year, for text that travels far from its
page."""

from __future__ import annotations

from sitegen.edition.models import DatesView
from sitegen.edition.outlets import AskTiming
from sitegen.typeset.dates import Dates

MOST_DATES = 4
"""Dates of one event that a line names; the rest are counted, as pages do."""


def timing_lines(timing: AskTiming, dates: Dates) -> tuple[str, ...]:
    """Such as `("Opens Sunday, Nov. 15, 2026", "through Tuesday, Dec. 15, 2026")`; never empty."""
    words = dates.words
    lines: list[str] = []
    if timing.opens is not None:
        lines.append(words.say("ask.opens", moment=dates.beginning(timing.opens, year=True)))
    if timing.dates:
        lines += [_span(view, dates) for view in timing.dates[:MOST_DATES]]
        if len(timing.dates) > MOST_DATES:
            lines.append(words.say("ask.more_dates", count=len(timing.dates) - MOST_DATES))
    elif timing.closes is not None:
        key, moment = dates.until(timing.closes, year=True)
        lines.append(words.say(key, moment=moment))
    elif timing.check_again_by is not None:
        lines.append(words.say("ask.ongoing", moment=dates.moment(timing.check_again_by, year=True)))
    if timing.last_place is not None:
        lines.append(
            words.say(
                "row.last_place", count=timing.places, moment=dates.moment(timing.last_place, year=True)
            )
        )
    if timing.no_places_left:
        lines.append(words.say("ask.no_places_left"))
    return tuple(lines) or (words.say("ask.no_end"),)


def _span(view: DatesView, dates: Dates) -> str:
    key, first, last = dates.span(view, year=True)
    return dates.words.say(key, first=first, last=last)
