"""Stories told again in another language, held against the story they tell: whoever reads one of the two must not be sent elsewhere."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sitegen.clock.asks import AskTimes, plan_ask
from sitegen.clock.stories import Visibility
from sitegen.newsroom.records import Ask, Finding, Story
from sitegen.proof.copychecks.base import Desk, LiveAsk, concern, end_words, start_words
from sitegen.proof.copychecks.stories import why_hidden


def translation_alone(desk: Desk) -> Iterator[Finding]:
    """What was taken back, or is not out yet, and stands there in another language."""
    for each in desk.stories:
        original = desk.known.get(each.story.translates)
        if original is None:
            continue
        seen = desk.seen_at(original, max(each.release, desk.as_of))
        if seen is Visibility.PUBLISHED:
            continue
        why = why_hidden(original, desk) if seen is Visibility.NOTHING else "is withdrawn"
        shows = "is" if each.published else "will be"
        yield concern(
            each.story.origin.of("translates"),
            "translation-alone",
            f"{original.id} {why}, and this story, which tells it in another language, {shows} published all the same.",
            "Withdraw this one too: withdrawn: {date: …, notice: …}, in its language"
            if seen is Visibility.NOTICE
            else "Keep this one in as well: hold: true, or the same embargo",
        )


def translation_differs(desk: Desk) -> Iterator[Finding]:
    """An ask with another end, phone or number of places than the same one in the story it was told in first."""
    for live in desk.live_asks:
        original = desk.known.get(live.story.translates)
        if (
            original is None
            or desk.seen_at(original, max(live.release, desk.as_of)) is not Visibility.PUBLISHED
        ):
            continue
        ask = _same_ask(live, original)
        if ask is not None:
            times = plan_ask(ask, desk.newsroom.station.last_days, desk.zone)
            yield from _differences(live, ask, times, desk)


def _same_ask(live: LiveAsk, original: Story) -> Ask | None:
    """The ask that this one tells again: the one at its place among those of its kind, where both stories have as many of that."""
    kind = live.ask.kind
    there = [ask for ask in original.asks if ask.kind is kind]
    here = [rank for rank, ask in enumerate(live.story.asks) if ask.kind is kind]
    return there[here.index(live.rank)] if len(there) == len(here) else None


def _differences(live: LiveAsk, ask: Ask, times: AskTimes, desk: Desk) -> Iterator[Finding]:
    mine, zone = live.times, desk.zone
    key = "deadline" if live.ask.deadline is not None or live.ask.ongoing else "dates"
    if mine.ends != times.ends:
        there = f"'{ask.title}' in {live.story.translates}"
        if times.stopped_early:
            yield _told(live, key, f"{there} is stopped, and '{live.ask.title}' goes on here")
            return
        ends = end_words(mine.ends, zone), end_words(times.ends, zone)
        yield _told(live, key, f"'{live.ask.title}' ends otherwise ({ends[0]}) than {there} ({ends[1]})")
    elif (mine.opens or live.release) != (times.opens or live.release):
        begins = [
            start_words(opens, zone) if opens is not None else "at once"
            for opens in (mine.opens, times.opens)
        ]
        yield _told(
            live,
            "starts",
            f"'{live.ask.title}' begins {begins[0]}, and '{ask.title}' in {live.story.translates} {begins[1]}",
        )
    phones = [each.contact.phone if each.contact is not None else "" for each in (live.ask, ask)]
    shorter, longer = sorted((re.sub(r"\D", "", phone) for phone in phones), key=len)
    if shorter and not longer.endswith(shorter):
        yield _told(
            live,
            "contact",
            f"'{live.ask.title}' gives the phone number {phones[0]}, and '{ask.title}' in {live.story.translates} {phones[1]}",
        )
    open_ends = [
        sorted(
            place.last_chance
            for place in each.places
            if place.last_chance is not None and place.last_chance > desk.as_of and place.stops is None
        )
        for each in (mine, times)
    ]
    if len(open_ends[0]) != len(open_ends[1]):
        counts = [f"{len(ends)} {'place' if len(ends) == 1 else 'places'}" for ends in open_ends]
        yield _told(
            live,
            "drop_off" if live.ask.drop_off else "title",
            f"'{live.ask.title}' has {counts[0]} open, and '{ask.title}' in {live.story.translates} {counts[1]}",
        )
    elif mine.ends == times.ends and open_ends[0] != open_ends[1]:
        first, second = next(pair for pair in zip(*open_ends, strict=True) if pair[0] != pair[1])
        yield _told(
            live,
            "drop_off",
            f"A place of '{live.ask.title}' shuts for the last time otherwise ({end_words(first, zone)}) than that of "
            f"'{ask.title}' in {live.story.translates} ({end_words(second, zone)})",
        )


def _told(live: LiveAsk, key: str, message: str) -> Finding:
    return concern(
        live.ask.origin.of(key),
        "translation-differs",
        f"{message}.",
        "Find out which of the two holds, and write it in both stories.",
    )
