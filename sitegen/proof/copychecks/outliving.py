"""Text that repeats what an ask will hide: when the ask is over, the text still sends people to its door.

An ask's contact, places and dates leave every page the moment it ends. Words in a headline, a summary, a photo's
text or a body stay for good.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from msgspec import msgpack

from sitegen.edition.searching import PHONE
from sitegen.newsroom.records import Ask, Finding, Place, Story, Weight
from sitegen.proof.copychecks.base import Desk, DeskStory, concern, day_words
from sitegen.proof.copychecks.past import withheld_places
from sitegen.proof.copychecks.texts import Text, ask_texts

FEWEST_DIGITS = 7
"""A shorter number than a local one may be anything: a house, a year, a count."""
_STREET = re.compile(r"(?P<stem>\d+[a-z]?\s+.+?)(?:\s+(?P<kind>[^\W\d_]+)\.?)?\Z", re.IGNORECASE)
_STREET_KINDS = (
    {"street", "st"}, {"avenue", "ave", "av"}, {"road", "rd"}, {"lane", "ln"}, {"drive", "dr"},
    {"boulevard", "blvd"}, {"court", "ct"}, {"place", "pl"}, {"square", "sq"}, {"highway", "hwy"},
    {"terrace", "ter"}, {"parkway", "pkwy"}, {"circle", "cir"}, {"route", "rte"},
)  # fmt: skip
"""Ways of writing the same last word of a street (common practice, no source)."""


def text_outlives_ask(desk: Desk) -> Iterator[Finding]:
    """A phone, e-mail, street, web address or date of an ask in the text of its story."""
    station = desk.newsroom.station
    kept = _Kept(_digits(station.contact.phone), station.contact.email.casefold())
    # What the words say does not change with time; that is kept, and only whether the ask is over is looked at anew.
    kind = f"told by texts {station.language} {kept.phone} {kept.email}"
    for each in desk.stories:
        if each.story.asks:
            packed = desk.drawer.take(kind, each.story)
            if packed is None:
                mentions = tuple(_mentions(each, kept))
                desk.drawer.put(kind, each.story, msgpack.encode(mentions))
            else:
                mentions = _MENTIONS.decode(packed)
            yield from _outliving(each, mentions)


class _Kept(NamedTuple):
    """What the station says on every page anyway; a story may say it too."""

    phone: str
    """Digits."""
    email: str
    """In small letters."""


class _Mention(NamedTuple):
    """A detail of an ask in a text of its story."""

    text: int
    """Index in the story's texts."""
    offset: int
    what: str
    ask: int
    """Index in the story's asks."""


_MENTIONS = msgpack.Decoder(tuple[_Mention, ...])


def _outliving(each: DeskStory, mentions: tuple[_Mention, ...]) -> Iterator[Finding]:
    live = {ask.rank for ask in each.live}
    for mention in mentions:
        text, ask = each.texts[mention.text], each.story.asks[mention.ask]
        over = mention.ask not in live
        yield concern(
            text.at(mention.offset),
            "text-outlives-ask",
            f"{text.name} gives {mention.what} of '{ask.title}', "
            + ("which is over." if over else "and will still give it when that is over."),
            "Take it out of the text."
            if over
            else "Leave it to the ask, which shows it while it counts and hides it afterward.",
        )


def _mentions(each: DeskStory, kept: _Kept) -> Iterator[_Mention]:
    story = each.story
    asks = story.asks
    indexes = {id(ask): index for index, ask in enumerate(asks)}
    phones, addresses, streets = _details(asks, kept)
    dates = _dates(story, asks)
    for index, text in enumerate(each.texts):
        told: set[tuple[int, str]] = set()
        for offset, what, ask in (
            *_phones_in(text, phones),
            *_addresses_in(text, addresses),
            *_streets_in(text, streets),
            *_dates_in(text, dates),
        ):
            if (offset, what) not in told:
                told.add((offset, what))
                yield _Mention(index, offset, what, indexes[id(ask)])


# --- what asks say -----------------------------------------------------------------------------

_Details = dict[str, Ask]
"""What is sought, and the first ask that says it."""


def _details(asks: tuple[Ask, ...], kept: _Kept) -> tuple[_Details, _Details, _Details]:
    """(phones as digits, mail and web addresses, streets) of asks and their places."""
    phones: _Details = {}
    addresses: _Details = {}
    streets: _Details = {}
    for ask in asks:
        contact = ask.contact
        if contact is not None:
            phones.setdefault(_digits(contact.phone), ask)
            addresses.setdefault(contact.email.casefold(), ask)
            addresses.setdefault(_web(contact.web), ask)
        for entry in ask.drop_off:
            phones.setdefault(_digits(entry.place.phone), ask)
            addresses.setdefault(_web(entry.place.web), ask)
            if not entry.place.withheld:
                streets.setdefault(entry.place.street, ask)
    for nothing in ("", kept.email):
        addresses.pop(nothing, None)
    short = [phone for phone in phones if len(phone) < FEWEST_DIGITS]
    for phone in (*short, kept.phone):
        phones.pop(phone, None)
    return phones, addresses, {street: ask for street, ask in streets.items() if street[:1].isdigit()}


def _dates(story: Story, asks: tuple[Ask, ...]) -> list[tuple[date, str, Ask]]:
    """(date, what it is, ask) for every date at which something of an ask is over or happens.

    A date before the story aired was past when it was told: that is history, not an invitation.
    """
    found: list[tuple[date, str, Ask]] = []
    for ask in asks:
        if ask.deadline is not None:
            found.append((ask.deadline.day, "the deadline", ask))
        for span in ask.dates:
            found.append((span.first.day, "a date", ask))
            found.append((span.last.day, "a date", ask))
        found += [(entry.until.day, "a last day", ask) for entry in ask.drop_off if entry.until is not None]
    return [each for each in found if each[0] >= story.aired.day]


def _digits(text: str) -> str:
    return "".join(letter for letter in text if letter.isdigit())


def _web(address: str) -> str:
    """A web address without what people leave out when they write it."""
    plain = re.sub(r"\Ahttps?://(?:www\.)?", "", address.casefold())
    return plain.rstrip("/")


# --- what texts say ----------------------------------------------------------------------------

_Found = Iterator[tuple[int, str, Ask]]
"""(offset, what it is, whose)"""


def _phones_in(text: Text, phones: _Details) -> _Found:
    if not phones:
        return
    for match in PHONE.finditer(text.text):
        run = _digits(match.group())
        for phone, ask in phones.items():
            # The local part is enough: text often leaves the area code out.
            if phone[-FEWEST_DIGITS:] in run and (phone in run or run.endswith(phone[-len(run) :])):
                yield match.start(), "the phone number", ask


def _addresses_in(text: Text, addresses: _Details) -> _Found:
    if not addresses:
        return
    folded = text.text.casefold()
    if len(folded) != len(text.text):
        folded = text.text.lower()
    for address, ask in addresses.items():
        start = folded.find(address)
        while start >= 0:
            end = start + len(address)
            before, after = folded[start - 1 : start], folded[end : end + 2]
            if not (before.isalnum() or before in ("@", "-")) and not _goes_on(after):
                what = "the e-mail address" if "@" in address else "the web address"
                yield start, what, ask
                break
            start = folded.find(address, end)


def _goes_on(after: str) -> bool:
    """True when an address continues with these characters, so that it is another one."""
    return after[:1].isalnum() or (after[:1] in ("/", "-", ".", "_") and after[1:].isalnum())


def _streets_in(text: Text, streets: _Details) -> _Found:
    if not streets:
        return
    folded = text.text.lower()
    for street, ask in streets.items():
        at = street_in(folded, street)
        if at >= 0:
            yield at, "the street address", ask


def street_in(folded: str, street: str) -> int:
    """The offset of a street with its number in a text in small letters, also where the last word is shortened
    (`4 Hill Rd.`); -1 when it is not there."""
    stem, kind = _street_parts(street)
    start = folded.find(stem)
    while start >= 0:
        end = start + len(stem)
        if not folded[start - 1 : start].isalnum() and not folded[end : end + 1].isalnum():
            word = re.match(r"\s+([^\W\d_]+)", folded[end:])
            written = word.group(1) if word else ""
            if not kind or written == kind or any({written, kind} <= same for same in _STREET_KINDS):
                return start
        start = folded.find(stem, end)
    return -1


@lru_cache(maxsize=4096)
def _street_parts(street: str) -> tuple[str, str]:
    """(number and name, last word) of a street in small letters: `4 hill`, `road`; the last word may be missing."""
    plain = " ".join(street.lower().split())
    match = _STREET.match(plain)
    return (match["stem"], match["kind"] or "") if match is not None else (plain, "")


def is_same_street(one: str, other: str) -> bool:
    """Two writings of a street with its number, either of which may shorten its last word."""
    (stem, kind), (other_stem, other_kind) = _street_parts(one), _street_parts(other)
    return stem == other_stem and (
        kind == other_kind
        or not (kind and other_kind)
        or any({kind, other_kind} <= same for same in _STREET_KINDS)
    )


def _dates_in(text: Text, dates: list[tuple[date, str, Ask]]) -> _Found:
    if not dates:
        return
    for mention in text.dates:
        for day, what, ask in dates:
            if mention.is_on(day):
                yield mention.start, f"{what} ({day_words(day)})", ask
                break


# --- what must never be in a text --------------------------------------------------------------


def withheld_address(desk: Desk) -> Iterator[Finding]:
    """A street that is withheld, told in words. A fault: whoever keeps it back may be in danger."""
    hidden = _withheld(desk)
    if not hidden:
        return
    for each in desk.stories:
        texts = list(each.texts)
        for ask in each.story.asks:
            texts += ask_texts(ask, each.story, desk.newsroom.station.language)
        for text in texts:
            folded = text.text.lower()
            for place in hidden:
                at = street_in(folded, place.street)
                if at >= 0:
                    yield Finding(
                        text.at(at),
                        Weight.FAULT,
                        "withheld-address",
                        f"{text.name} gives the street of {place.name}, whose address is withheld.",
                        f"Name the town only: {place.town}.",
                    )


def _withheld(desk: Desk) -> list[Place]:
    """Every place whose address is withheld and whose street is known, once."""
    places = list(desk.newsroom.places)
    for story in desk.newsroom.stories:
        past = desk.past.get(story.id)
        places += withheld_places(story) if past is None else past.withheld
    found = {place.street: place for place in places if place.withheld and place.street[:1].isdigit()}
    return list(found.values())
