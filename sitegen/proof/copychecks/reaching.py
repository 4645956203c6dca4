"""Asks against the people behind them: whether they were asked lately, can be reached, and may be given to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta

from sitegen.edition.due import needs_confirming
from sitegen.edition.published import PublishedAsk
from sitegen.newsroom.phones import split_extension
from sitegen.newsroom.records import Ask, Contact, Finding, Kind, Mode
from sitegen.proof.copychecks.base import Desk, LiveAsk, concern, day_words, end_words


def unconfirmed(desk: Desk) -> Iterator[Finding]:
    """An open ask that nobody has confirmed with its organizer lately, or one about to be published."""
    days = desk.newsroom.station.recheck_days
    for live in desk.live_asks:
        if live.release > desk.as_of + timedelta(days=days):
            continue  # Time enough to call; and what is confirmed today is old by then.
        published = PublishedAsk(live.story, live.rank, live.times, live.standing, ())
        if needs_confirming(published, days, desk.as_of, desk.zone):
            yield concern(
                live.ask.origin.of("confirmed"),
                "unconfirmed",
                f"'{live.ask.title}' is open, and {_last_confirmed(live.ask, desk)}.",
                f"Call{_whom(live.ask)}, then write: confirmed: {{date: {desk.today}, with: …}}",
            )


def confirmed_ahead(desk: Desk) -> Iterator[Finding]:
    """An ask that is said to have been confirmed on a day to come: until then and after it, nobody would be told to call."""
    for live in desk.live_asks:
        confirmed = live.ask.confirmed
        if confirmed is not None and confirmed.date > desk.today:
            yield concern(
                live.ask.origin.of("confirmed"),
                "confirmed-ahead",
                f"'{live.ask.title}' is said to be confirmed on {day_words(confirmed.date)}, a day to come.",
                f"Write the day on which somebody asked, {day_words(desk.today)} at the latest.",
            )


def _last_confirmed(ask: Ask, desk: Desk) -> str:
    if ask.confirmed is None:
        return "nobody has confirmed it"
    days = (desk.today - ask.confirmed.date).days
    return f"it was confirmed {days} days ago ({ask.confirmed.date})"


def _whom(ask: Ask) -> str:
    name = ask.confirmed.with_ if ask.confirmed is not None else ""
    contact = ask.contact or Contact()
    name = name or contact.name
    reach = contact.phone or contact.email
    return (f" {name}" if name else "") + (f" ({reach})" if reach else "") or " the organizer"


def check_again_soon(desk: Desk) -> Iterator[Finding]:
    """An ongoing ask that lapses, and is hidden, unless somebody looks at it within the station's days for that."""
    soon = desk.as_of + timedelta(days=desk.newsroom.station.recheck_days)
    for live in desk.live_asks:
        if live.times.lapses and not live.times.stopped_early and live.times.closes <= soon:
            yield concern(
                live.ask.origin.of("check_again_by"),
                "check-again-soon",
                f"'{live.ask.title}' is hidden after {end_words(live.times.closes, desk.zone)} unless it is checked again.",
                f"Call{_whom(live.ask)}, then write a later check_again_by, or a deadline.",
            )


def named_person(desk: Desk) -> Iterator[Finding]:
    """Money for a named person: viewers give on the station's word alone."""
    for live in desk.live_asks:
        if live.ask.kind is Kind.GIVE and live.ask.goes_to == "named person":
            yield concern(
                live.ask.origin.of("goes_to"),
                "named-person",
                f"'{live.ask.title}' sends money to a named person.",
                "Have it cleared: who holds the account, what happens to what is too much, and what local law asks.",
            )


def goes_to_not_said(desk: Desk) -> Iterator[Finding]:
    """A fund that does not say whether an organization or a person gets the money."""
    for live in desk.live_asks:
        if live.ask.kind is Kind.GIVE and not live.ask.goes_to:
            yield concern(
                live.ask.origin.of("payee"),
                "goes-to-missing",
                f"'{live.ask.title}' does not say who gets the money.",
                "Write: goes_to: organization, or: goes_to: named person",
            )


def too_much_not_said(desk: Desk) -> Iterator[Finding]:
    """A fund that does not say what becomes of money beyond what is needed."""
    for live in desk.live_asks:
        if live.ask.kind is Kind.GIVE and not live.ask.if_too_much:
            yield concern(
                live.ask.origin.of("title"),
                "too-much-missing",
                f"'{live.ask.title}' does not say what happens when more money comes in than is needed.",
                "Ask the organizer and write, such as: if_too_much: goes to the spring reading fund",
            )


def help_phone_only(desk: Desk) -> Iterator[Finding]:
    """Help that can only be had by phone: not by people who do not hear, or have no phone."""
    for live in desk.live_asks:
        contact = live.ask.contact
        if (
            live.ask.kind is Kind.GET_HELP
            and contact is not None
            and contact.phone
            and not (contact.email or contact.web or live.ask.drop_off)
        ):
            yield concern(
                live.ask.origin.of("contact"),
                "help-phone-only",
                f"'{live.ask.title}' can only be had by phone; not everyone can call.",
                "Add another way: an e-mail, a web address, or a place under where",
            )


def contact_unreachable(desk: Desk) -> Iterator[Finding]:
    """A name with no way to reach it, or money asked for with no way to give it."""
    for live in desk.live_asks:
        ask = live.ask
        if ask.contact is not None and not _ways(ask.contact):
            yield concern(
                ask.origin.of("contact"),
                "contact-unreachable",
                f"The contact of '{ask.title}' is {ask.contact.name} and no way to reach them.",
                "Add a phone, an e-mail or a web address.",
            )
        elif ask.kind is Kind.GIVE and ask.contact is None and not ask.drop_off:
            yield concern(
                ask.origin.of("payee"),
                "contact-unreachable",
                f"'{ask.title}' names {ask.payee} and no way to give.",
                "Add a contact with a phone, an e-mail or a web address, or a place.",
            )


def phone_length(desk: Desk) -> Iterator[Finding]:
    """A number with a digit more or less than numbers have here, by the station's own."""
    usual = _digits(desk.newsroom.station.contact.phone)
    if not usual:
        return
    told: set[str] = set()
    for live in desk.live_asks:
        numbers = (
            [(live.ask.contact.phone, live.ask.origin.of("contact"))] if live.ask.contact is not None else []
        )
        numbers += [(entry.place.phone, entry.place.origin.of("phone")) for entry in live.ask.drop_off]
        for phone, spot in numbers:
            digits = _digits(phone)
            # Without the area code, short as a public service's, or with the 1 of long distance (common practice, no source).
            good = len(digits) in (0, 3, 7, len(usual)) or (
                digits[0] == "1" and len(digits) == len(usual) + 1
            )
            if good or f"{spot.path} {phone}" in told:
                continue
            told.add(f"{spot.path} {phone}")
            yield concern(
                spot,
                "phone-length",
                f"The number {phone} has {len(digits)} digits, and the station's own has {len(usual)}.",
                "Call it once, and write it as it is dialled; a number of another country begins with +.",
            )


def _digits(phone: str) -> str:
    """What is dialled; empty where it says nothing of how long a number is: with letters, from abroad, or where there is none."""
    number, _ = split_extension(phone)
    return "" if "+" in number or re.search(r"[^\W\d_]", number) else re.sub(r"\D", "", number)


def _ways(contact: Contact) -> bool:
    return bool(contact.phone or contact.email or contact.web or contact.pick_up or contact.ship_to)


def unknown_hours_no_phone(desk: Desk) -> Iterator[Finding]:
    """A place whose hours nobody knows, and nobody can be called about."""
    for live in desk.live_asks:
        if live.ask.contact is not None and live.ask.contact.phone:
            continue
        for entry in live.ask.drop_off:
            hours, place = _binding(live, entry.own_hours, entry.place.hours.mode), entry.place
            if hours is not Mode.REGULAR and not place.phone and entry.stopped is None:
                said = "are not known" if hours is Mode.UNKNOWN else "are by appointment"
                yield concern(
                    entry.origin.spot,
                    "unknown-hours-no-phone",
                    f"The hours of {place.name} {said}, and '{live.ask.title}' gives no phone to ask.",
                    "Add a phone to the place or to the ask's contact, or find out the hours.",
                )


def _binding(live: LiveAsk, own_hours: bool, place: Mode) -> Mode:
    """How the hours that count at a place are known: an event's own come first, unless the entry writes others."""
    if live.ask.kind is Kind.GO and not own_hours:
        if live.ask.hours is not None:
            return live.ask.hours.mode
        if all(span.first.clock is not None for span in live.ask.dates):
            return Mode.REGULAR  # Its dates say when.
    return place


def goal_passed(desk: Desk) -> Iterator[Finding]:
    """A goal that is reached: good news, and perhaps no more is wanted."""
    for live in desk.live_asks:
        goal = live.ask.goal
        if goal is not None and goal.so_far is not None and goal.number > 0 and goal.so_far >= goal.number:
            unit = f" {goal.unit}" if goal.unit else ""
            yield concern(
                live.ask.origin.of("goal"),
                "goal-passed",
                f"Good news: '{live.ask.title}' has {goal.so_far:,g} of {goal.number:,g}{unit}. "
                f"It is still shown as {live.standing}.",
                "Ask whether to stop (stopped: {when: …, say: …}) or to write a new goal.",
            )
