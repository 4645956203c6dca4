"""What intake knows of a broadcast: words with their times, sentences, and the facts found in them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum


class IntakeError(ValueError):
    """Captions or a rundown that cannot be used; the text says why and what to do instead."""


@dataclass(frozen=True, slots=True)
class SpokenWord:
    """One word of the captions as it stands there."""

    text: str
    start: int
    """Milliseconds from the start of the programme, below 0 for what was said before it."""
    speaker: str = ""
    """As the captions name him or her, or empty."""
    turn: bool = False
    """Somebody else begins to speak with it."""
    story: bool = False
    """The captioner marked a new story here."""
    after_sound: bool = False
    """Music, applause or a long silence lies before it."""


@dataclass(frozen=True, slots=True)
class Sentence:
    """What is said between two full stops."""

    text: str
    """In sentence case."""
    plain: str
    """In small letters, with digits for numbers: what recognisers read."""
    start: int
    """Milliseconds from the start of the captions."""
    end: int
    speaker: str = ""
    turn: bool = False
    story: bool = False
    after_sound: bool = False
    restored: bool = False
    """The captions were in capitals, so that small letters are our reading."""


@dataclass(frozen=True, slots=True)
class Said:
    """Words and when they were said."""

    words: str
    time: int
    """Milliseconds from the start of the captions."""


@dataclass(frozen=True, slots=True)
class Deadline:
    """Until when something is wanted."""

    day: date | None
    """None where only a bound was said."""
    said: Said
    clock: time | None = None
    latest: date | None = None
    """For `less than two months away`: it lies before this day."""
    unsure: str = ""
    """Why somebody should look at it; empty when the words can mean one day only."""


@dataclass(frozen=True, slots=True)
class EventDate:
    """When something takes place."""

    day: date
    said: Said
    clock: time | None = None
    last: date | None = None
    unsure: str = ""
    """Why somebody should look at it; empty when the words can mean one day only."""
    passing: bool = False
    """`Tonight` without an hour: it may be the broadcast's own evening, and nothing that takes place."""


class Role(StrEnum):
    """What a viewer goes to a place for."""

    DROP_OFF = "drop-off"
    VENUE = "venue"


@dataclass(frozen=True, slots=True)
class NamedPlace:
    """A place that viewers are sent to."""

    name: str
    said: Said
    role: Role
    id: str = ""
    """Of the shared place it is, when the station knows it."""
    town: str = ""


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its unit."""

    number: float
    unit: str
    role: str
    """`goal`, `last_time`, `so_far`, `money` or `count`."""
    said: Said


@dataclass(frozen=True, slots=True)
class SpokenPromise:
    """A sentence that sends viewers to the site or the screen."""

    said: Said
    lists_places: bool
    """It promises a list of places or addresses."""
    places: int | None = None
    """How many places it promises, where it says so."""
    whole_show: bool = False
    """It speaks of everything in the programme."""


@dataclass(frozen=True, slots=True)
class SpokenContact:
    """A way to reach somebody, read aloud."""

    kind: str
    """`phone`, `email` or `web`."""
    value: str
    said: Said


@dataclass(frozen=True, slots=True)
class Named:
    """A name that the station knows or that reads like an organization's."""

    name: str
    said: Said


@dataclass(frozen=True, slots=True)
class Segment:
    """One story as it was aired."""

    start: int
    """Milliseconds from the start of the captions."""
    end: int
    headline: str
    slug: str
    """From the rundown, or empty."""
    sentences: tuple[Sentence, ...]
    deadlines: tuple[Deadline, ...] = ()
    dates: tuple[EventDate, ...] = ()
    places: tuple[NamedPlace, ...] = ()
    numbers: tuple[Amount, ...] = ()
    promises: tuple[SpokenPromise, ...] = ()
    contacts: tuple[SpokenContact, ...] = ()
    organizations: tuple[Named, ...] = ()
    towns: tuple[Named, ...] = ()
    counties: tuple[Named, ...] = ()


@dataclass(frozen=True, slots=True)
class Intake:
    """A broadcast, taken in."""

    segments: tuple[Segment, ...]
    around: tuple[SpokenPromise, ...]
    """Promises made before the first story or after the last."""
    notes: tuple[str, ...] = ()
    """What was done to the captions and the rundown that somebody should know."""
