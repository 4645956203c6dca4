"""Sentences as captions bring them, for tests of what is found in them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sitegen.intake.lexicon import known_names
from sitegen.intake.plain import plain
from sitegen.intake.records import Sentence, SpokenWord
from sitegen.intake.sentences import sentences as read_sentences
from sitegen.newsroom.records import (
    County,
    Hours,
    Mode,
    Newsroom,
    Place,
    Station,
    StationContact,
    Town,
)

AIRED = date(2026, 11, 21)
"""A Saturday."""
STATION = Station(
    station="Heron Flats Television",
    programme="Bright Side",
    address="https://www.example.com/bright/",
    time_zone="America/New_York",
    language="en-US",
    contact=StationContact(),
    counties=(
        County("Heron Flats", "heron-flats", towns=(Town("Lowgate"), Town("Sandy End"))),
        County("Gull Bank", "gull-bank", towns=(Town("Bankfoot"),)),
    ),
)
PLACES = (
    Place("lowgate-library", "Lowgate Library", "Lowgate", "heron-flats", Hours(Mode.UNKNOWN)),
    Place("fire-2", "Bankfoot Fire Station 2", "Bankfoot", "gull-bank", Hours(Mode.UNKNOWN)),
)
NEWSROOM = Newsroom(STATION, PLACES)


def sentences(*texts: str, restored: bool = False) -> Sequence[Sentence]:
    """Sentences four seconds apart."""
    return [
        Sentence(text, plain(text), number * 4000, number * 4000 + 3500, restored=restored)
        for number, text in enumerate(texts)
    ]


def captioned(text: str, *, capitals: bool) -> Sequence[Sentence]:
    """Sentences as they are read from captions, in capitals or not, 0.4 seconds a word."""
    words = [
        SpokenWord(word.upper() if capitals else word, number * 400)
        for number, word in enumerate(text.split())
    ]
    return read_sentences(words, known_names(NEWSROOM))
