"""Promises made on air, held against what viewers find: the story, the places it was to list, the day that was named; and figures against last year's.

What a promise's words promise is read by `sitegen.intake`, which also finds promises in captions.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from sitegen.clock.stories import Visibility
from sitegen.newsroom.records import Ask, Contact, Episode, Finding, Goal, Promise, Story
from sitegen.newsroom.times import start_of
from sitegen.proof.copychecks.base import Desk, concern, listed
from sitegen.proof.copychecks.stories import why_hidden
from sitegen.proof.copychecks.texts import Text
from sitegen.proof.copychecks.wording import mismatches


def promise_unkept(desk: Desk) -> Iterator[Finding]:
    """Something said on air that viewers look for on the site and do not find."""
    for episode, promise in _promises(desk):
        yield from _unkept(episode, promise, desk)


def promised_places_missing(desk: Desk) -> Iterator[Finding]:
    """A list of places that was promised and is not there, or is of another length than was said."""
    for episode, promise in _promises(desk):
        yield from _places_missing(episode, promise, desk)


def promised_facts_missing(desk: Desk) -> Iterator[Finding]:
    """A phone number, an address, dates or a list that was promised, and the story has nothing of that kind."""
    for episode, promise in _promises(desk):
        yield from _facts_missing(episode, promise, desk)


def promised_weekday(desk: Desk) -> Iterator[Finding]:
    """A promise that names a weekday and a date that do not meet: viewers heard both."""
    for episode, promise in _promises(desk):
        spot = promise.origin.of("said")
        yield from mismatches(
            Text("The promise", promise.said, spot, episode.aired.day, desk.newsroom.station.language)
        )


def last_time_differs(desk: Desk) -> Iterator[Finding]:
    """Last year's figure, and last year's story says another one."""
    for live in desk.live_asks:
        goal = live.ask.goal
        before = desk.known.get(live.story.follows)
        if goal is None or goal.last_time is None or before is None:
            continue
        earlier = _same_goal(live.ask, goal, before)
        if earlier is None or earlier.so_far is None or earlier.so_far == goal.last_time:
            continue
        unit = f" {goal.unit}" if goal.unit else ""
        yield concern(
            live.ask.origin.of("goal"),
            "last-time-differs",
            f"'last_time' is {goal.last_time:,g}{unit}, and {before.id} came to {earlier.so_far:,g} ('so_far').",
            "Find out which is right, and correct the other: viewers can open both stories.",
        )


# --- what was said -----------------------------------------------------------------------------


def _promises(desk: Desk) -> Iterator[tuple[Episode, Promise]]:
    for episode in desk.newsroom.episodes:
        if not episode.hold:
            for promise in episode.promises:
                yield episode, promise


def _said_at(episode: Episode, promise: Promise, desk: Desk) -> datetime:
    """The moment (UTC) at which a promise is made; a promise without a time is made as the show begins."""
    return start_of(episode.aired, desk.zone) + timedelta(seconds=promise.time or 0)


def _unkept(episode: Episode, promise: Promise, desk: Desk) -> Iterator[Finding]:
    said_at = _said_at(episode, promise, desk)
    moment = max(said_at, desk.as_of)
    on_air = said_at <= desk.as_of
    said = f"'{promise.said.rstrip('.')}'"
    if not promise.kept_by:
        yield concern(
            promise.origin.of("said"),
            "promise-unkept",
            f"PROMISED ON AIR, and nothing keeps it: {said}."
            if on_air
            else f"{said} will be said on air, and nothing keeps it yet.",
            "Publish the story that does, and name it: kept_by: 2026/coat-closet",
        )
        return
    whole_show = promise.kept_by == episode.id
    keepers = [entry.story for entry in episode.rundown] if whole_show else [promise.kept_by]
    # A story that does not exist is a fault of its own.
    stories = [story for name in keepers if (story := desk.known.get(name)) is not None]
    hidden = [
        f"{story.id} {why_hidden(story, desk) if seen is Visibility.NOTHING else 'is withdrawn'}"
        for story in stories
        if (seen := desk.seen_at(story, moment)) is not Visibility.PUBLISHED
    ]
    if hidden:
        yield concern(
            promise.origin.of("kept_by"),
            "promise-unkept",
            f"PROMISED ON AIR, and viewers do not find it: {said}. {listed(hidden)}."
            if on_air
            else f"{said} will be said on air, and {listed(hidden)}.",
            "Release these stories."
            if whole_show
            else "Release that story, or name another that keeps the promise.",
        )


def _places_missing(episode: Episode, promise: Promise, desk: Desk) -> Iterator[Finding]:
    each = next((each for each in desk.stories if each.story.id == promise.kept_by), None)
    if each is None or not desk.is_current(each) or (each.story.asks and not each.live):
        return  # What it was said of is over.
    wanted = _places_promised(promise)
    if wanted is None:
        return
    places = {
        (entry.place.id or entry.place.name, entry.place.town)
        for live in each.live
        for entry in live.ask.drop_off
        if entry.stopped is None
    }
    count = len(places)
    if each.story.listing:
        return  # A round-up lists its places itself.
    lead = "PROMISED ON AIR" if _said_at(episode, promise, desk) <= desk.as_of else "To be promised on air"
    if count == 0:
        yield concern(
            promise.origin.of("said"),
            "promise-places-missing",
            f"{lead}, and {promise.kept_by} lists no place: '{promise.said.rstrip('.')}'.",
            "Write the places into that story: drop_off (or where): [millrace-library]",
        )
    elif wanted and wanted != count:
        yield concern(
            promise.origin.of("said"),
            "promise-places-missing",
            f"{lead}: '{promise.said.rstrip('.')}'. That is {wanted}, and {promise.kept_by} lists {count}.",
            "Look for the place that is missing or too many; what was said cannot be taken back.",
        )


def _places_promised(promise: Promise) -> int | None:
    # Imported here: its patterns take as long to make as many a check, and most promises are of what is over.
    from sitegen.intake.counted_places import places_promised

    return places_promised(promise.said)


@dataclass(frozen=True, slots=True)
class _Fact:
    """Something that promises name in so many words."""

    name: str
    said: re.Pattern[str]
    """In a promise, in small letters."""
    found: re.Pattern[str]
    """In a text: there may be something of the kind. Rather too often than too seldom."""
    in_ask: Callable[[Ask], bool]
    instead: str


def _has_phone(ask: Ask) -> bool:
    return bool(ask.contact and ask.contact.phone) or any(entry.place.phone for entry in ask.drop_off)


def _has_address(ask: Ask) -> bool:
    contact = ask.contact or Contact()
    return bool(ask.drop_off or contact.web or contact.email or contact.pick_up or contact.ship_to)


_FACTS = (
    _Fact(
        "phone number",
        re.compile(r"\b(?:tele)?phone numbers?\b|\bnumbers? to call\b"),
        re.compile(r"\d{3}\W?\d{4}|\b(?:call|dial|phone|text|number)\b[^.!?]*\d|\d-?\d{3}-[A-Z]", re.I),
        _has_phone,
        "Write it where viewers look for it: contact: {name: WHO, phone: NUMBER} of an ask, or in the text.",
    ),
    _Fact(
        "address",
        re.compile(r"(?<!web )(?<!e-mail )(?<!email )(?<!mail )\baddress\b"),
        re.compile(r"\d+ +(?:[NSEW]\.? +)?[A-Z]|@|\bwww\.|\.(?:org|com|net|gov|edu)\b"),
        _has_address,
        "Write the place into that story: drop_off (or where): [millrace-library], or its street into the text. If the site's own address was meant, nothing is to do.",
    ),
    _Fact(
        "date",
        re.compile(r"\b(?:every|each|the|all|all the|all of the|all these|all those) dates?\b(?! of birth)"),
        re.compile(
            r"\d|\b(?:mon|tues|wednes|thurs|fri|satur|sun)days?\b|\b(?:tonight|today|tomorrow)\b"
            r"|\b(?:january|february|march|april|may|june|july|august|september|october|november|december)\b",
            re.I,
        ),
        lambda ask: True,
        "Write them into that story: an ask with its deadline or dates, a listing, or in the text.",
    ),
    _Fact(
        "list",
        re.compile(r"\b(?:the|a|our)(?: (?:full|whole|complete|long))? list\b"),
        # In prose, three things in a row are one.
        re.compile(r"^[ \t]*(?:[-*+]|\d+[.)]|\|)[ \t]|,[^.!?\n]+\b(?:and|or)\b", re.M),
        lambda ask: True,
        "Write it into that story: what an ask accepts, its places, a listing, or lines that begin with '- '.",
    ),
)


def _facts_missing(episode: Episode, promise: Promise, desk: Desk) -> Iterator[Finding]:
    said = promise.said.lower()
    promised = [fact for fact in _FACTS if fact.said.search(said)]
    each = (
        next((each for each in desk.stories if each.story.id == promise.kept_by), None) if promised else None
    )
    if each is None or not desk.is_current(each) or (each.story.asks and not each.live):
        return  # Nothing of the kind was said, or what it was said of is over.
    languages = (each.story.language or each.language, each.language)
    if not all(language.lower().startswith("en") for language in languages):
        return
    if each.story.listing or each.story.links or _places_promised(promise) is not None:
        return  # A round-up and a link may have it; places are looked at by themselves.
    texts = [text.text for text in (*each.texts, *(text for live in each.live for text in live.texts))]
    lead = "PROMISED ON AIR" if _said_at(episode, promise, desk) <= desk.as_of else "To be promised on air"
    for fact in promised:
        if any(fact.in_ask(live.ask) for live in each.live) or any(map(fact.found.search, texts)):
            continue
        yield concern(
            promise.origin.of("said"),
            "promise-facts-missing",
            f"{lead}, and {promise.kept_by} has no {fact.name}: '{promise.said.rstrip('.')}'.",
            fact.instead,
        )


def _same_goal(ask: Ask, goal: Goal, before: Story) -> Goal | None:
    """The goal of an earlier story that an ask's figure speaks of: of its key, or the only one that counts the same things."""
    goals = [(each.key, each.goal) for each in before.asks if each.goal is not None]
    same = [each for key, each in goals if key == ask.key and each.unit == goal.unit]
    same = same or [each for _, each in goals if each.unit and each.unit == goal.unit]
    return same[0] if len(same) == 1 else None
