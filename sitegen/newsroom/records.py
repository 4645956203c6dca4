"""The records every other room works on: what the newsroom wrote, typed, frozen, with its place in the files.

Nothing here knows the present moment, HTML or output paths. Times are kept as written, in the station's
wall time; `sitegen.newsroom.times` turns them into instants.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum
from typing import TYPE_CHECKING, Any, Protocol

from sitegen.newsroom.when import When as When


@dataclass(frozen=True, slots=True)
class Spot:
    """A position in a file as the producer sees it in an editor."""

    path: str
    """Relative to the root folder, with forward slashes: `content/stories/2026/coat-closet.md`."""
    line: int = 1
    """From 1, front matter included."""
    column: int = 1
    """From 1, in characters."""


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a record was written, and where each of its keys stands."""

    spot: Spot
    keys: str = ""
    """`key line column` of each key's value, one behind another: of an archive's origins hardly one is asked, and as records of their
    own they were a seventh of what it holds in memory."""

    @classmethod
    def at(cls, spot: Spot, keys: Iterable[tuple[str, int, int]]) -> Origin:
        """`keys`: (key, line, column) of each key's value."""
        return cls(spot, " ".join(f"{name} {line} {column}" for name, line, column in keys))

    def of(self, key: str) -> Spot:
        """The spot of a key's value, or of the record when the key was not written."""
        words = self.keys.split()
        for name, line, column in zip(words[::3], words[1::3], words[2::3], strict=True):
            if name == key:
                return Spot(self.spot.path, int(line), int(column))
        return self.spot

    @property
    def written(self) -> tuple[str, ...]:
        """The keys that were written, in their order."""
        return tuple(self.keys.split()[::3])


NOWHERE = Origin(Spot("", 0, 0))


class Weight(StrEnum):
    """How heavy a finding is: a fault stops a build, a concern is listed."""

    FAULT = "fault"
    CONCERN = "concern"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing wrong with the copy, in words a journalist can act on."""

    spot: Spot
    weight: Weight
    check: str
    """Stable name of the check, such as `unknown-county`."""
    message: str
    """What is wrong."""
    instead: str = ""
    """What to write instead; empty when only the producer can know."""


# --- time as written -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Span:
    """One entry of `dates`: from `first` to `last`, both included when they are bare dates."""

    first: When
    last: When
    """Equal to `first` for a single date or date-time."""


class Mode(StrEnum):
    """How opening hours are known."""

    REGULAR = "regular"
    BY_APPOINTMENT = "by appointment"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Rule:
    """One part of opening hours: on these weekdays, in these weeks of the month, in these ranges."""

    days: tuple[int, ...]
    """Weekdays, Monday 0 to Sunday 6, ascending."""
    weeks: tuple[int, ...]
    """1 to 5 for the nth such weekday of a month, -1 for the last; empty for every week."""
    ranges: tuple[tuple[int, int], ...]
    """(start, end) in minutes from the day's 00:00; 0 <= start < 1440; start < end <= 2880.
    An end above 1440 is on the next day, and the range belongs to the day it starts on."""


@dataclass(frozen=True, slots=True)
class Hours:
    """Opening hours: weekly rules, or the words `by appointment` or `unknown`."""

    mode: Mode
    rules: tuple[Rule, ...] = ()
    text: str = ""
    """The canonical writing, such as `Mo-Fr 09:00-17:00; Sa 10:00-14:00`."""


@dataclass(frozen=True, slots=True)
class DayHours:
    """`special_hours` of one date: they replace that day's ordinary hours."""

    day: date
    ranges: tuple[tuple[int, int], ...]
    """As in `Rule.ranges`."""


# --- the station -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Position:
    latitude: float
    """Degrees north, -90 to 90."""
    longitude: float
    """Degrees east, -180 to 180."""


@dataclass(frozen=True, slots=True)
class Town:
    name: str
    position: Position | None = None
    postal_codes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class County:
    name: str
    key: str
    """The slug in addresses: `/counties/<key>/`."""
    seat: str = ""
    position: Position | None = None
    towns: tuple[Town, ...] = ()


@dataclass(frozen=True, slots=True)
class StationContact:
    email: str = ""
    phone: str = ""
    answers: Hours | None = None
    """When the phone is answered."""
    mail: str = ""
    """Postal address, one line."""


@dataclass(frozen=True, slots=True)
class SecurityContact:
    """What `.well-known/security.txt` says (RFC 9116)."""

    contact: str
    """An address: `mailto:` or `https:`."""
    expires: When


@dataclass(frozen=True, slots=True)
class Station:
    station: str
    programme: str
    address: str
    """Where viewers will find the site; ends with a slash."""
    time_zone: str
    """IANA name."""
    language: str
    """BCP 47."""
    contact: StationContact
    counties: tuple[County, ...]
    theme: str = "tidetable"
    last_days: int = 3
    """Days before a deadline in which an ask counts as in its last days, 0 or more."""
    recheck_days: int = 7
    """An open ask must have been confirmed this recently, 1 or more."""
    area_word: str = "county"
    media_host: str = ""
    """`https://host`, the one other host, asked only when a viewer presses play; empty for none."""
    holidays: tuple[date, ...] = ()
    as_of: str = ""
    """A fixed moment as written, for a demonstration or a frozen archive; empty for the present."""
    map: str = ""
    """File name of the RFC 7946 map, beside station.yaml; empty for none."""
    security: SecurityContact | None = None
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


# --- places ----------------------------------------------------------------------------------


class Access(StrEnum):
    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Place:
    """Somewhere with an address and hours: a shared place, or one written in an ask."""

    id: str
    """The file's name without suffix for a shared place; empty for one written in an ask."""
    name: str
    town: str
    county: str
    """A county's key."""
    hours: Hours
    street: str = ""
    postal_code: str = ""
    position: Position | None = None
    closed: tuple[date, ...] = ()
    special_hours: tuple[DayHours, ...] = ()
    step_free: Access = Access.UNKNOWN
    transit: str = ""
    parking: str = ""
    drive_up: Access = Access.UNKNOWN
    note: str = ""
    phone: str = ""
    web: str = ""
    withheld: bool = False
    """The street, postal code and position are shown nowhere; only the town is."""
    home_consent: date | None = None
    """For a private home: when its owner agreed to publication."""
    is_home: bool = False
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Stop:
    """`stopped`: full, moved, called off, from a moment on."""

    when: When | None
    """None in a listing entry that does not date its stop: it counts from the start."""
    say: str
    instead: str = ""


@dataclass(frozen=True, slots=True)
class DropOff:
    """A place for one ask (under `drop_off` or `where`), with its own window inside the ask's."""

    place: Place
    """With the entry's own hours, closed days and special hours already applied."""
    from_: When | None = None
    until: When | None = None
    stopped: Stop | None = None
    own_hours: bool = False
    """True when the entry names a shared place and replaces its hours for this ask."""
    note: str = ""
    """What is said of a shared place for this ask alone, in the story's language."""
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


# --- asks ------------------------------------------------------------------------------------


class Kind(StrEnum):
    BRING = "bring"
    GIVE = "give"
    VOLUNTEER = "volunteer"
    GO = "go"
    GET_HELP = "get help"
    TUNE_IN = "tune in"


@dataclass(frozen=True, slots=True)
class Goal:
    number: float
    unit: str = ""
    so_far: float | None = None
    last_time: float | None = None
    counted_on: date | None = None


@dataclass(frozen=True, slots=True)
class Contact:
    name: str = ""
    phone: str = ""
    email: str = ""
    web: str = ""
    pick_up: str = ""
    """Words on how things are collected from the giver."""
    ship_to: str = ""
    languages: tuple[str, ...] = ()
    """BCP 47 tags of the languages spoken."""


@dataclass(frozen=True, slots=True)
class Confirmed:
    """For the newsroom only: when and with whom the ask was last checked."""

    date: date
    with_: str = ""


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing a viewer can do."""

    title: str
    kind: Kind
    key: str
    """Stable within its story: the written `key`, else the title's slug."""
    starts: When | None = None
    deadline: When | None = None
    """None for `ongoing` asks and for kinds that end by their dates."""
    ongoing: bool = False
    check_again_by: When | None = None
    stopped: Stop | None = None
    dates: tuple[Span, ...] = ()
    """For go and tune in, in time order."""
    hours: Hours | None = None
    """For go: when it is open on its dates."""
    closed: tuple[date, ...] = ()
    quieter: tuple[int, ...] = ()
    """Weekdays, Monday 0, on which organizers expect fewer people."""
    minutes: int | None = None
    """For tune in: how long an airing runs, 1 or more."""
    accepts: tuple[str, ...] = ()
    not_accepted: tuple[str, ...] = ()
    helps: tuple[str, ...] = ()
    """Keys of the counties that benefit; the story's when not written. May hold `beyond`."""
    goal: Goal | None = None
    contact: Contact | None = None
    confirmed: Confirmed | None = None
    drop_off: tuple[DropOff, ...] = ()
    """Entries of `drop_off` and `where` alike."""
    who_for: str = ""
    cost: str = ""
    bring: str = ""
    """For get help: what to bring along."""
    payee: str = ""
    goes_to: str = ""
    """For give: `organization` or `named person`; empty when not said."""
    registration: str = ""
    if_too_much: str = ""
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


# --- stories, episodes, listings, pages ------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Picture:
    """A local picture file, measured and named by its bytes."""

    file: str
    """Relative to the root folder."""
    width: int
    """Pixels, after turning upright."""
    height: int
    digest: str
    """SHA-256 of the file's bytes, hexadecimal."""


@dataclass(frozen=True, slots=True)
class Photo:
    picture: Picture | None
    """None when the file could not be read; a fault says why."""
    alt: str = ""
    credit: str = ""
    courtesy: str = ""
    air_only: bool = False
    focus: tuple[float, float] = (0.5, 0.5)
    """Point of interest, from the left and from the top, 0 to 1."""
    children: bool = False
    consent: str = ""
    """For the newsroom only: the consent on file; empty for none."""
    rights_end: When | None = None
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption."""

    start: int
    """Milliseconds from the start of the video."""
    end: int
    text: str
    """Without markup; lines joined by a space."""
    speaker: str = ""


@dataclass(frozen=True, slots=True)
class Captions:
    """A WebVTT file."""

    file: str
    """Relative to the root folder."""
    digest: str
    """SHA-256 of the file's bytes, hexadecimal."""
    cues: tuple[Cue, ...] = ()


@dataclass(frozen=True, slots=True)
class Video:
    file: str
    """Absolute https address on the station's media host."""
    captions: Captions | None = None
    poster: Picture | None = None
    runs: int | None = None
    """Seconds."""
    described: str = ""
    """How the pictures are described for people who do not see them, such as `in the narration`."""
    courtesy: str = ""
    air_only: bool = False
    rights_end: When | None = None
    web_offset: int = 0
    """Seconds to add to a broadcast time to find it in the web video."""
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


class CorrectionKind(StrEnum):
    CORRECTION = "correction"
    CLARIFICATION = "clarification"
    UPDATE = "update"


@dataclass(frozen=True, slots=True)
class Correction:
    date: date
    kind: CorrectionKind
    text: str
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Withdrawn:
    date: date
    notice: str


@dataclass(frozen=True, slots=True)
class Link:
    """A link or picture address in a body, as written."""

    target: str
    line: int
    """In the file, from 1."""
    picture: bool = False
    column: int = field(default=1, compare=False)
    """Of the bracket that it begins with, from 1; 1 where it cannot be told."""

    def spot(self, path: str) -> Spot:
        """Where it stands in the file that it was found in."""
        return Spot(path, self.line, self.column)


@dataclass(frozen=True, slots=True)
class ListingEntry:
    """One dated row of a round-up."""

    what: str
    town: str
    county: str
    """A county's key."""
    day: date
    starts: time | None = None
    ends: time | None = None
    """Before `starts` means the next day."""
    place: str = ""
    note: str = ""
    stopped: Stop | None = None
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


_LATER = ("asks", "body", "galley")
"""The parts of a story that may be left packed."""


class _PartsLater:
    """A story whose asks and body are unpacked when somebody looks at them, and then are what they would have been: of an archive
    nearly all asks are over, and these are most of what a record holds."""

    __slots__ = ("_unpack",)

    if not TYPE_CHECKING:  # it would make every other name look like one of a story's

        def __getattr__(self, name: str) -> Any:
            # Called where a slot is empty.
            if name not in _LATER:
                raise AttributeError(name)
            parts = dict(zip(_LATER, object.__getattribute__(self, "_unpack")(self), strict=True))
            for each, part in parts.items():
                object.__setattr__(self, each, part)
            return parts[name]


class Unpacking(Protocol):
    """Gives what was left packed of stories."""

    def __call__(self, story: Story) -> tuple[tuple[Ask, ...], str, str]:
        """Its asks, its body and the body's galley."""

    def whole(self, name: str) -> Story | None:
        """The record of a story by its id, where it is still the same: an equal one that shares nothing with any other. None where
        that would save nothing."""


@dataclass(frozen=True, slots=True)
class Story(_PartsLater):
    id: str
    """Path under content/stories without suffix: `2026/coat-closet`."""
    headline: str
    aired: When
    """As written, else its episode's."""
    counties: tuple[str, ...]
    """County keys, or `("beyond",)`."""
    summary: str = ""
    town: str = ""
    reporter: str = ""
    topics: tuple[str, ...] = ()
    embargo: When | None = None
    hold: bool = False
    say_on_air: str = ""
    heard_as: tuple[str, ...] = ()
    photo: Photo | None = None
    video: Video | None = None
    sponsored_by: str = ""
    language: str = ""
    """Empty for the station's."""
    follows: str = ""
    """Id of the earlier story."""
    translates: str = ""
    """Id of the story that this one tells in another language."""
    old_addresses: tuple[str, ...] = ()
    """Site addresses without leading slash, each ending with one: `old/coats/`."""
    withdrawn: Withdrawn | None = None
    corrections: tuple[Correction, ...] = ()
    """Oldest first."""
    asks: tuple[Ask, ...] = ()
    listing: tuple[ListingEntry, ...] = ()
    """In time order."""
    body: str = ""
    """Markdown."""
    body_line: int = 1
    """The line of the file the body starts on."""
    galley: str = field(default="", compare=False, repr=False)
    """The body, set: see `galley.py`. Follows from the Markdown alone."""
    links: tuple[Link, ...] = ()
    episodes: tuple[str, ...] = ()
    """Ids of the episodes whose rundown has it."""
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)

    def leave_packed(self, unpack: Unpacking) -> None:
        """Lets a record have the asks, the body and its galley that `unpack` gives for it, again whenever they were let go: called by whoever
        made it, before anybody else has it."""
        object.__setattr__(self, "_unpack", unpack)
        self.let_go()

    @property
    def unpacking(self) -> Unpacking | None:
        """What gives the parts that were left packed; None of a story that holds all of its record."""
        unpack: Unpacking | None = getattr(self, "_unpack", None)
        return unpack

    def let_go(self) -> None:
        """Holds no longer what it can unpack again; only of a story that was left packed."""
        for name in _LATER:
            with suppress(AttributeError):
                object.__delattr__(self, name)


@dataclass(frozen=True, slots=True)
class RundownEntry:
    story: str
    """A story's id."""
    time: int | None = None
    """Seconds from the start of the broadcast."""
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Promise:
    """Something said on air that the site must hold. For the newsroom only."""

    said: str
    time: int | None = None
    kept_by: str = ""
    """A story's id; or the episode's own, for all the stories of its rundown."""
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Episode:
    id: str
    """The file's name without suffix: `2026-11-21`."""
    aired: When
    title: str = ""
    repeats: tuple[When, ...] = ()
    hold: bool = False
    video: Video | None = None
    rundown: tuple[RundownEntry, ...] = ()
    promises: tuple[Promise, ...] = ()
    body: str = ""
    body_line: int = 1
    galley: str = field(default="", compare=False, repr=False)
    links: tuple[Link, ...] = ()
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class StationPage:
    id: str
    """The file's name without suffix; the page's address is `/<id>/`."""
    title: str
    summary: str = ""
    language: str = ""
    body: str = ""
    body_line: int = 1
    galley: str = field(default="", compare=False, repr=False)
    links: tuple[Link, ...] = ()
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Area:
    """One county's outline from the map."""

    county: str
    """A county's key."""
    polygons: tuple[tuple[tuple[tuple[float, float], ...], ...], ...]
    """Polygons of rings of (longitude, latitude), as RFC 7946 orders them."""


@dataclass(frozen=True, slots=True)
class Newsroom:
    """Everything under content/, read once."""

    station: Station
    places: tuple[Place, ...] = ()
    stories: tuple[Story, ...] = ()
    """By id."""
    episodes: tuple[Episode, ...] = ()
    """By id."""
    pages: tuple[StationPage, ...] = ()
    areas: tuple[Area, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """What reading a content folder came to: the records and every finding, together."""

    newsroom: Newsroom | None
    """None when station.yaml could not be read; otherwise every record that could be."""
    findings: tuple[Finding, ...] = ()
    """In file, line, column order."""

    @property
    def faults(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.weight is Weight.FAULT)
