"""Reading asks: what a viewer can do, and whether the record says enough to do it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from zoneinfo import ZoneInfo

from sitegen.newsroom.context import Context
from sitegen.newsroom.fields import RANGE, WHILE_HELD, Fields
from sitegen.newsroom.hours import days_text, read_days
from sitegen.newsroom.misplaced import GOAL_KEYS as GOAL_KEYS  # One of the readers' lists of keys.
from sitegen.newsroom.nodes import Scalar, Sequence
from sitegen.newsroom.places import read_drop_offs, read_stop
from sitegen.newsroom.records import Ask, Confirmed, Contact, Goal, Kind, Span, Spot, When
from sitegen.newsroom.slugs import slug
from sitegen.newsroom.station import is_language

ASK_KEYS = (
    "title", "kind", "key", "starts", "deadline", "check_again_by", "stopped", "dates", "hours", "closed", "quieter",
    "minutes", "accepts", "not_accepted", "helps", "goal", "contact", "confirmed", "drop_off", "where", "who_for", "cost",
    "bring", "payee", "goes_to", "registration", "if_too_much", "desk",
)  # fmt: skip
CONTACT_KEYS = ("name", "phone", "email", "web", "pick_up", "ship_to", "languages")
RECIPIENTS = ("organization", "named person")
CONFIRMED_KEYS = ("date", "with")
MOST_MINUTES = 7 * 24 * 60
"""Of one airing."""
KINDS = tuple(kind.value for kind in Kind)
BY_DEADLINE = (Kind.BRING, Kind.GIVE, Kind.VOLUNTEER, Kind.GET_HELP)
"""Kinds that end by their deadline; the others end by their dates."""

ONLY_FOR: Mapping[str, tuple[Kind, ...]] = {
    "deadline": BY_DEADLINE,
    "check_again_by": BY_DEADLINE,
    "dates": (Kind.GO, Kind.TUNE_IN),
    "hours": (Kind.GO,),
    "closed": (Kind.GO,),
    "quieter": (Kind.GO,),
    "minutes": (Kind.TUNE_IN,),
    "payee": (Kind.GIVE,),
    "goes_to": (Kind.GIVE,),
    "registration": (Kind.GIVE,),
    "if_too_much": (Kind.GIVE, Kind.BRING),
    "who_for": (Kind.GET_HELP,),
    "cost": (Kind.GET_HELP, Kind.GO),
    "bring": (Kind.GET_HELP, Kind.GO, Kind.VOLUNTEER),
}
"""Keys that mean something for some kinds alone; every other key may stand in any ask."""


def read_asks(groups: tuple[Fields, ...], counties: tuple[str, ...], context: Context) -> tuple[Ask, ...]:
    """The asks of a story whose counties are `counties`; an ask with a fault or a blank of its own is left out."""
    asks: list[Ask] = []
    taken: set[str] = set()
    for fields in groups:
        ask = _ask(fields, counties, context)
        if ask is None:
            continue
        if ask.key in taken:
            fields.concern(
                "title",
                "ask-key",
                f"Two asks of this story would share the key '{ask.key}'.",
                "Give one of them a key of its own: key: second-drive",
            )
            number = 2
            while f"{ask.key}-{number}" in taken:
                number += 1
            ask = replace(ask, key=f"{ask.key}-{number}")
        taken.add(ask.key)
        asks.append(ask)
    return tuple(asks)


def _ask(fields: Fields, counties: tuple[str, ...], context: Context) -> Ask | None:
    zone = context.zone
    before = len(context.findings.found)
    fields.require("title", "Bring a winter coat")
    word = fields.choice("kind", KINDS) if fields.require("kind", "bring") else ""
    kind = Kind(word) if word else None
    title = fields.text("title")
    keys = fields.slugs("key")
    deadline, ongoing = _deadline(fields, zone)
    stopped = read_stop(fields, context)
    drop_off = (*read_drop_offs(fields, "drop_off", context), *read_drop_offs(fields, "where", context))
    contact = _contact(fields)
    quieter: tuple[int, ...] = ()
    if fields.has("quieter"):
        quieter, problem, instead = read_days(fields.text("quieter"))
        if problem:
            fields.fault("quieter", "hours", f"'quieter' of an ask: {problem}", instead)
    minutes = fields.whole("minutes", 1, MOST_MINUTES, 0) or None
    ask = Ask(
        title=title,
        kind=kind or Kind.BRING,
        key=(keys[0] if keys else slug(title)) or "ask",
        starts=fields.when("starts", zone),
        deadline=deadline,
        ongoing=ongoing,
        check_again_by=fields.when("check_again_by", zone, ends=True),
        stopped=stopped,
        dates=_dates(fields, kind, zone),
        hours=fields.hours("hours"),
        closed=fields.days("closed"),
        quieter=quieter,
        minutes=minutes,
        accepts=fields.texts("accepts"),
        not_accepted=fields.texts("not_accepted"),
        helps=context.counties(fields, "helps", beyond=True) or counties,
        goal=_goal(fields),
        contact=contact,
        confirmed=_confirmed(fields),
        drop_off=drop_off,
        who_for=fields.text("who_for"),
        cost=fields.text("cost"),
        bring=fields.text("bring"),
        payee=fields.text("payee"),
        goes_to=fields.choice("goes_to", RECIPIENTS),
        registration=fields.text("registration"),
        if_too_much=fields.text("if_too_much"),
        origin=fields.origin,
    )
    if kind is not None:
        _check_kind(fields, kind, ask)
    found = context.findings.found[before:]
    whole = not any(finding.weight == "fault" or finding.check == WHILE_HELD for finding in found)
    return ask if whole else None


def _deadline(fields: Fields, zone: ZoneInfo | None) -> tuple[When | None, bool]:
    written = fields.text("deadline")
    if re.fullmatch(r"on[ -]?going\.?", written, re.IGNORECASE):
        if written != "ongoing":
            fields.fault(
                "deadline",
                "unknown-word",
                f"'deadline' of an ask is '{written}'.",
                "Write instead: deadline: ongoing",
            )
        return None, True
    return fields.when("deadline", zone, ends=True), False


def _check_kind(fields: Fields, kind: Kind, ask: Ask) -> None:
    """What each kind must say, and keys that mean nothing for it."""
    for key, kinds in ONLY_FOR.items():
        if fields.has(key) and kind not in kinds:
            fields.concern(
                key,
                "key-without-effect",
                f"'{key}' says nothing about an ask of kind '{kind}'.",
                f"It belongs to: {', '.join(kinds)}. Remove it here.",
            )
    reachable = ask.contact is not None
    placed = fields.has("drop_off") or fields.has("where")
    if kind in BY_DEADLINE:
        if not fields.has("deadline"):
            fields.missing(
                "deadline",
                f"'{ask.title}' has no deadline.",
                "Write: deadline: 2026-12-15, or: deadline: ongoing, with check_again_by",
            )
        if ask.ongoing:
            fields.require("check_again_by", "2027-01-15")
        elif fields.has("check_again_by"):
            fields.concern(
                "check_again_by",
                "key-without-effect",
                "'check_again_by' counts only with 'deadline: ongoing'.",
                "Remove it, or write: deadline: ongoing",
            )
    elif fields.require("dates", "2026-12-18 19:00") and kind is Kind.TUNE_IN:
        fields.require("minutes", "60")
    if kind is Kind.GIVE:
        if not ask.payee and not reachable:
            fields.missing(
                "payee",
                f"'{ask.title}' does not say whom to give to.",
                "Write: payee: Friends of Millrace Library, or a contact",
            )
    elif kind is not Kind.TUNE_IN and not placed and not reachable:
        key = "drop_off" if kind is Kind.BRING else "where"
        fields.missing(
            key,
            f"'{ask.title}' has neither a place nor a contact.",
            f"Write: {key}: [millrace-library], or: contact: {{phone: 237-555-0142}}",
        )


def _dates(fields: Fields, kind: Kind | None, zone: ZoneInfo | None) -> tuple[Span, ...]:
    node = fields.node("dates")
    if node is None:
        return ()
    spans: list[Span] = []
    for item in node.items if isinstance(node, Sequence) else (node,):
        if not isinstance(item, Scalar):
            fields.findings.fault(
                Spot(fields.path, item.line, item.column),
                "wrong-shape",
                "'dates' holds dates, ranges or date-times.",
                "Write: dates: 2026-11-27..2026-12-26",
            )
            continue
        days = _recurring(item.text)
        if days:
            fields.findings.fault(
                Spot(fields.path, item.line, item.column),
                "time",
                f"'dates' of an ask: '{item.text}' says on which days, and not from when to when.",
                f"Write the first and the last date, and the days as hours: dates: YYYY-MM-DD..YYYY-MM-DD, and "
                f'hours: "{days} 09:00-12:00"; dates to leave out go under closed.'
                if kind is not Kind.TUNE_IN
                else "Write each date with its time: dates: [YYYY-MM-DD 19:00, YYYY-MM-DD 19:00]",
            )
            continue
        parts = RANGE.split(item.text.strip())
        if len(parts) > 2:
            fields.findings.fault(
                Spot(fields.path, item.line, item.column),
                "time",
                f"'{item.text}' has more than two ends.",
                "Write: 2026-11-27..2026-12-26",
            )
            continue
        ends = [
            fields.when_of("dates", Scalar(part, item.line, item.column), zone, ends=number > 0)
            for number, part in enumerate(parts)
        ]
        first, last = ends[0], ends[-1]
        if first is None or last is None:
            continue
        if last.day < first.day or (
            last.day == first.day and first.clock and last.clock and last.clock < first.clock
        ):
            fields.findings.fault(
                Spot(fields.path, item.line, item.column),
                "time",
                f"'{item.text}' ends before it begins.",
                f"Write instead: {parts[-1]}..{parts[0]}",
            )
            continue
        if kind is Kind.TUNE_IN and (first.clock is None or first != last):
            fields.findings.fault(
                Spot(fields.path, item.line, item.column),
                "time",
                f"'{item.text}' does not say when to tune in.",
                f"Write a date and time: {first.day} 19:00",
            )
            continue
        spans.append(Span(first, last))
    return tuple(
        sorted(
            spans,
            key=lambda span: span.first.order,
        )
    )


_EVERY = re.compile(r"\b(?:every|each|weekly|on)\b", re.IGNORECASE)


def _recurring(text: str) -> str:
    """Days of the week as hours have them, where a text says nothing else: `every Sat` is `Sa`; else an empty text."""
    days, problem, _ = (
        read_days(_EVERY.sub(" ", text).strip()) if re.search("[A-Za-z]", text) else ((), "", "")
    )
    return days_text(days) if not problem else ""


def _goal(fields: Fields) -> Goal | None:
    goal = fields.group("goal", GOAL_KEYS, "a goal")
    if goal is None or not goal.require("number", "400"):
        return None
    number = goal.number("number", 0)
    if number is None:
        return None
    return Goal(
        number,
        goal.text("unit"),
        goal.number("so_far", 0),
        goal.number("last_time", 0),
        goal.day("counted_on"),
    )


def _contact(fields: Fields) -> Contact | None:
    contact = fields.group("contact", CONTACT_KEYS, "a contact")
    if contact is None:
        return None
    languages = contact.texts("languages")
    for language in languages:
        if not is_language(language):
            contact.fault(
                "languages",
                "language",
                f"'{language}' is not a language tag.",
                "Write, for example: languages: [en, es]",
            )
    if not any(contact.has(key) for key in ("name", "phone", "email", "web", "pick_up", "ship_to")):
        contact.missing("", "This contact is empty.", "Write, for example: contact: {phone: 237-555-0142}")
        return None
    return Contact(
        contact.text("name"),
        contact.phone("phone"),
        contact.email("email"),
        contact.web("web"),
        contact.text("pick_up"),
        contact.text("ship_to"),
        languages,
    )


def _confirmed(fields: Fields) -> Confirmed | None:
    confirmed = fields.group("confirmed", CONFIRMED_KEYS, "confirmed")
    if confirmed is None or not confirmed.require("date", "2026-11-20"):
        return None
    day = confirmed.day("date")
    return Confirmed(day, confirmed.text("with")) if day is not None else None
