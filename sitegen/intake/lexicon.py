"""What words are: a dictionary that keeps capitals, and the names a station knows from its own files.

The dictionary is Hunspell's for the English of the United States: it knows `coats` and not `Coats`, `Barbara` and not `barbara`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from sitegen.intake.vocabulary import word_set
from sitegen.newsroom.records import Newsroom

CALENDAR = word_set(
    "monday tuesday wednesday thursday friday saturday sunday january february april june july september october november "
    "december thanksgiving christmas halloween easter hanukkah kwanzaa juneteenth"
)
"""Names of days and months that are nothing else; March, May and August are told by what stands beside them."""

_CAPITALISED = re.compile(
    r"(?:[A-ZÀ-Þ][\w'’.-]*)(?:\s+(?:(?:of|the|and|for|de|la|del)\s+)?[A-ZÀ-Þ0-9][\w'’.-]*)+"
)


@lru_cache(maxsize=1)
def _dictionary() -> Any:
    import hunspell

    return hunspell.Hunspell("en_US")


def _is_spelt(word: str) -> bool:
    """The dictionary knows it as written. No word of it has letters beyond those of Western Europe, which it cannot even be asked about."""
    try:
        return bool(_dictionary().spell(word))
    except UnicodeEncodeError:
        return False


@lru_cache(maxsize=32768)
def is_common(word: str) -> bool:
    """True for a word that is written small: `coats`, `wasn't`."""
    word = word.lower().replace("’", "'")
    if word in CALENDAR:
        return False
    if _is_spelt(word):
        return True
    if word.endswith("'s") and len(word) > 2:
        return is_common(word[:-2])
    return word.endswith(("in'", "'em", "'re", "'ll", "'ve", "'d", "n't"))


@lru_cache(maxsize=32768)
def is_name(word: str) -> bool:
    """True for a word that is only ever written with a capital: `Barbara`, `Boston`."""
    bare = word.lower().replace("’", "'").removesuffix("'s")
    return not is_common(bare) and _is_spelt(bare[:1].upper() + bare[1:])


@lru_cache(maxsize=32768)
def is_shouted(word: str) -> bool:
    """True for what is written in capitals only: `TV`, `DIY`."""
    bare = word.upper().removesuffix("'S")
    return 1 < len(bare) < 6 and not is_common(bare) and not is_name(bare) and _is_spelt(bare)


def known_names(newsroom: Newsroom) -> dict[str, str]:
    """Every name in a station's files, by its small letters."""
    names: dict[str, str] = {}
    for name in _names(newsroom):
        clean = " ".join(name.split())
        if clean:
            names.setdefault(clean.lower(), clean)
            # Captions often have no accents.
            names.setdefault(folded(clean.lower()), clean)
    return names


def folded(text: str) -> str:
    """A text without its accents."""
    if text.isascii():
        return text
    return "".join(sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))


def _names(newsroom: Newsroom) -> Iterator[str]:
    station = newsroom.station
    yield from (station.station, station.programme)
    for county in station.counties:
        yield from (county.name, county.seat, f"{county.name} {station.area_word.title()}")
        for town in county.towns:
            yield town.name
    for place in newsroom.places:
        yield from (place.name, place.town)
        if place.street:
            yield re.sub(r"\A\d+\w*\s+", "", place.street)
    for story in newsroom.stories:
        yield from (story.reporter, story.town)
        for ask in story.asks:
            if ask.contact is not None:
                yield ask.contact.name
            yield ask.payee
            for entry in ask.drop_off:
                yield entry.place.name
        # Two words with capitals inside a sentence of an earlier story are a name.
        for match in _CAPITALISED.finditer(story.body):
            before = story.body[: match.start()].rstrip(" ")[-1:]
            if before.isalnum() or before in ",;":
                yield match[0].rstrip(".'’-")
