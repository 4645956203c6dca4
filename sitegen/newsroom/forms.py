"""What each kind of file asks of the person who writes it: fields with their labels, help, and how they are entered.

The keys are the readers', in the readers' order; a key without words here, or words without a key, fails the tests. Nothing
here knows HTML.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum, auto

from sitegen.newsroom.asks import (
    ASK_KEYS,
    CONFIRMED_KEYS,
    CONTACT_KEYS,
    GOAL_KEYS,
    KINDS,
    ONLY_FOR,
    RECIPIENTS,
)
from sitegen.newsroom.editing import Layout
from sitegen.newsroom.episodes import EPISODE_KEYS, PAGE_KEYS, PROMISE_KEYS, RUNDOWN_KEYS
from sitegen.newsroom.places import HOME_KEYS, PLACE_KEYS, STOP_KEYS, WINDOW_KEYS
from sitegen.newsroom.records import Access, CorrectionKind, Kind
from sitegen.newsroom.stories import (
    CORRECTION_KEYS,
    PHOTO_KEYS,
    STORY_KEYS,
    USES,
    VIDEO_KEYS,
    WITHDRAWN_KEYS,
)


class Input(Enum):
    """How a value is entered."""

    LINE = auto()
    """One line of text."""
    TEXT = auto()
    """Text of any length, whose line ends mean nothing."""
    LIST = auto()
    """Texts, one a line."""
    MAP = auto()
    """Names and texts, `name: text` one a line; or one text without a name."""
    DAY = auto()
    """A date."""
    MOMENT = auto()
    """A date, or a date and time; or a word such as `ongoing`."""
    CHOICE = auto()
    """One of few words."""
    COUNTIES = auto()
    """Any of the station's counties."""
    TOWN = auto()
    """A town, of the station's list or any other."""
    PLACE = auto()
    """A shared place, by its file's name."""
    STORY = auto()
    """A story, by its path."""
    PICTURE = auto()
    """A file of content/photos."""
    POSITION = auto()
    """Latitude and longitude."""
    GROUP = auto()
    """Fields of its own."""
    GROUPS = auto()
    """Any number of entries with fields of their own."""


FLAG = (("true", "Yes"), ("false", "No"))


@dataclass(frozen=True, slots=True)
class Entry:
    """One field."""

    key: str
    label: str
    input: Input = Input.LINE
    help: str = ""
    """What to write, with an example; one or two short sentences."""
    part: str = ""
    """The heading it stands under, for the fields of a file and of an ask."""
    choices: tuple[tuple[str, str], ...] = ()
    """(as written, in words) of a choice."""
    kinds: tuple[Kind, ...] = tuple(Kind)
    """Of asks: where it means something."""
    fields: tuple[Entry, ...] = ()
    """Of a group, or of each entry."""
    one: str = ""
    """What one entry is called."""
    alone: bool = False
    """Of a list: a single text is written by itself, without brackets."""


@dataclass(frozen=True, slots=True)
class Form:
    """One kind of file."""

    kind: str
    """`story`, `place`, `episode`, `page`."""
    folder: str
    """Under content/."""
    suffix: str
    name: str
    """What it is called in a sentence."""
    title_key: str
    fields: tuple[Entry, ...]
    parts: tuple[str, ...]
    """Headings in their order on the page."""
    layout: Layout = field(default_factory=Layout)

    @property
    def has_body(self) -> bool:
        return self.suffix == ".md"

    @property
    def can_wait(self) -> bool:
        """True where `hold` keeps it from being published."""
        return any(each.key == "hold" for each in self.fields)


def ordered(keys: Iterable[str], entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Entries in the order of a reader's keys. Raises KeyError where the two differ."""
    by_key = {entry.key: entry for entry in entries}
    fields = tuple(by_key.pop(key) for key in keys)
    if by_key:
        raise KeyError(f"no reader knows {sorted(by_key)}")
    return fields


def _words(*texts: str) -> tuple[tuple[str, str], ...]:
    return tuple((text, text[:1].upper() + text[1:]) for text in texts)


def layout_of(fields: Iterable[Entry]) -> Layout:
    """How new parts of a record with these fields are written: an ask over several lines, all else in braces."""
    fields = tuple(fields)
    inside = {entry.key: layout_of(entry.fields) for entry in fields if entry.fields}
    if "asks" in inside:
        inside["asks"] = replace(inside["asks"], is_open=True)
    return Layout(tuple(entry.key for entry in fields), inside)


# --- what several files have -------------------------------------------------------------------

_MOMENT = "Such as 2026-12-15, or 2026-12-15 17:00."
_DESK = "For the newsroom alone, one note a line, such as cleared: M. Oake, 2026-11-20. Never published."
_HOURS = "Such as Mo-Fr 09:00-17:00; Sa 10:00-14:00, or: by appointment, or: unknown."
_ACCESS = (("yes", "Yes"), ("no", "No"), ("unknown", "Not known"))
assert {word for word, _ in _ACCESS} == set(Access)

_STOPPED = Entry(
    "stopped", "Stopped early", Input.GROUP, "Full, moved or called off: it ends at this moment and says why.", "Until when",
    fields=ordered(STOP_KEYS, (
        Entry("when", "From when", Input.MOMENT, _MOMENT),
        Entry("say", "What viewers read", help="Such as The shelves are full."),
        Entry("instead", "What to do instead"),
    )),
)  # fmt: skip

_PLACE_FIELDS = ordered(PLACE_KEYS, (
    Entry("name", "Name of the place", help="Such as Millrace Library.", part="What"),
    Entry("street", "Street and number", part="Where"),
    Entry("town", "Town", Input.TOWN, part="Where"),
    Entry("county", "County", Input.CHOICE, part="Where"),
    Entry("postal_code", "Postal code", part="Where"),
    Entry("position", "Position", Input.POSITION, "Without one the middle of the town is used, and the page says so.", "Where"),
    Entry("hours", "Opening hours", help=_HOURS, part="When"),
    Entry("closed", "Closed on", Input.LIST, "Dates, one a line; for many days 2026-12-24..2027-01-01.", "When"),
    Entry("special_hours", "Other hours on single days", Input.MAP, "One day a line, such as 2026-12-12: 08:00-12:00.", "When"),
    Entry("step_free", "Step-free", Input.CHOICE, "Can it be reached without a step?", "Getting in", choices=_ACCESS),
    Entry("transit", "Bus or train", part="Getting in"),
    Entry("parking", "Parking", part="Getting in"),
    Entry("drive_up", "Taken from the car", Input.CHOICE, part="Getting in", choices=_ACCESS),
    Entry("note", "Note for viewers", Input.TEXT, "Such as Ring the side bell.", "Getting in"),
    Entry("phone", "Phone", help="Such as 237-555-0142.", part="Reaching somebody"),
    Entry("web", "Web address", help="In full, with https://.", part="Reaching somebody"),
    Entry("address", "Address withheld", Input.CHOICE, "Only the town is shown, everywhere. For a refuge or a home.", "Care",
          choices=(("withheld", "Yes, show the town only"),)),
    Entry("home", "A private home", Input.GROUP, "Only with its owner's consent.", "Care",
          fields=ordered(HOME_KEYS, (Entry("consent", "Its owner agreed on", Input.DAY),))),
    Entry("desk", "Notes of the newsroom", Input.MAP, _DESK, "For the newsroom"),
))  # fmt: skip
PLACE_PARTS = ("What", "Where", "When", "Getting in", "Reaching somebody", "Care", "For the newsroom")

_WINDOW = ordered(WINDOW_KEYS, (
    Entry("from", "Takes things from", Input.MOMENT, "When it begins later than the ask. " + _MOMENT),
    Entry("until", "Takes things until", Input.MOMENT, "When it ends before the ask does. " + _MOMENT),
    next(entry for entry in _PLACE_FIELDS if entry.key == "note"),
    _STOPPED,
))  # fmt: skip
_SHARED = Entry(
    "place",
    "Shared place",
    Input.PLACE,
    "Begin to type a name and choose. Or leave it empty and write the place out below.",
)
_BEFORE_WINDOW = PLACE_KEYS[: PLACE_KEYS.index("hours")]
DROP_OFF = ordered(
    dict.fromkeys(("place", *_BEFORE_WINDOW, "from", "until", *PLACE_KEYS, "stopped")),
    (_SHARED, *_WINDOW, *_PLACE_FIELDS),
)
"""Every field of a drop-off. With a shared place those of `REFERENCE_KEYS` count, and instead of what the place's file says."""


def _places(key: str, label: str, kinds: tuple[Kind, ...]) -> Entry:
    return Entry(key, label, Input.GROUPS, part="Where", kinds=kinds, fields=DROP_OFF, one="place")


# --- asks --------------------------------------------------------------------------------------

_CONTACT = Entry(
    "contact", "Contact", Input.GROUP, "Whom viewers may ask. Everything here is published.", "Who",
    fields=ordered(CONTACT_KEYS, (
        Entry("name", "Name", help="An organization, or a person who agreed to be named."),
        Entry("phone", "Phone", help="Such as 237-555-0142."),
        Entry("email", "Email"),
        Entry("web", "Web address", help="In full, with https://."),
        Entry("pick_up", "Picking up", help="Whether and where things are fetched."),
        Entry("ship_to", "Where to send things"),
        Entry("languages", "Languages spoken", Input.LIST, "Tags, one a line, such as en or es."),
    )),
)  # fmt: skip

_ASK_FIELDS = ordered(ASK_KEYS, (
    Entry("title", "What is asked", help="In a few words, such as Bring a winter coat.", part="What"),
    Entry("kind", "Kind", Input.CHOICE, part="What", choices=_words(*KINDS)),
    Entry("key", "Name that lasts", help="Only when the title changes after it was published: the old title's words, joined by hyphens.",
          part="For the newsroom"),
    Entry("starts", "Opens", Input.MOMENT, "When it opens later than at once. " + _MOMENT, "Until when"),
    Entry("deadline", "Deadline", Input.MOMENT, _MOMENT + " A date lasts to its end. Or: ongoing.", "Until when"),
    Entry("check_again_by", "Ask again by", Input.MOMENT, "Of what is ongoing: past it, it is hidden until somebody has asked.", "Until when"),
    _STOPPED,
    Entry("dates", "Dates", Input.LIST, "One a line: 2026-12-18 19:00, or 2026-11-27..2026-12-26.", "Until when", alone=True),
    Entry("hours", "Hours", help="On its dates, such as Mo-Su 17:30-22:00.", part="Until when"),
    Entry("closed", "Not on", Input.LIST, "Dates, one a line; for many days 2026-12-24..2027-01-01.", "Until when"),
    Entry("quieter", "Quieter days", help="Where the organizers say so, such as Mo-Th.", part="Until when"),
    Entry("minutes", "Minutes on air", part="Until when"),
    Entry("accepts", "What is accepted", Input.LIST, "One thing a line.", "What"),
    Entry("not_accepted", "What is not accepted", Input.LIST, "One thing a line.", "What"),
    Entry("helps", "Counties it helps", Input.COUNTIES, "None ticked: the story's.", "Who"),
    Entry("goal", "Goal", Input.GROUP, "How much is wanted, and how far it has come.", "What", fields=ordered(GOAL_KEYS, (
        Entry("number", "Goal in figures", help="Such as 400."),
        Entry("unit", "Of what", help="Such as coats."),
        Entry("so_far", "So far"),
        Entry("last_time", "Last time"),
        Entry("counted_on", "Counted on", Input.DAY),
    ))),
    _CONTACT,
    Entry("confirmed", "Confirmed with the organizer", Input.GROUP, "For the newsroom; never published.", "For the newsroom",
          fields=ordered(CONFIRMED_KEYS, (Entry("date", "Confirmed on", Input.DAY), Entry("with", "With whom")))),
    _places("drop_off", "Drop-off places", (Kind.BRING, Kind.GIVE)),
    _places("where", "Places", (Kind.GO, Kind.VOLUNTEER, Kind.GET_HELP)),
    Entry("who_for", "Who it is for", help="Such as anyone, no papers asked.", part="Who"),
    Entry("cost", "What it costs", help="Such as free.", part="What"),
    Entry("bring", "What to bring along", part="What"),
    Entry("payee", "Who receives the money", part="Who"),
    Entry("goes_to", "The money goes to", Input.CHOICE, "Money for a named person is always looked at twice.", "Who", choices=_words(*RECIPIENTS)),
    Entry("registration", "Charity's number", help="Viewers are told to look it up. The law of the place counts.", part="Who"),
    Entry("if_too_much", "If more comes than is needed", help="Such as goes to the spring reading fund.", part="Who"),
    Entry("desk", "Notes of the newsroom", Input.MAP, _DESK, "For the newsroom"),
))  # fmt: skip
ASK = tuple(replace(entry, kinds=tuple(ONLY_FOR.get(entry.key, entry.kinds))) for entry in _ASK_FIELDS)
ASK_PARTS = ("What", "Who", "Where", "Until when", "For the newsroom")

# --- files -------------------------------------------------------------------------------------

_COURTESY = Entry("courtesy", "Courtesy of", help="Who lent it.")
_USE = Entry("use", "May be used", Input.CHOICE, "What it was cleared for.", choices=_words(*USES))
_RIGHTS = Entry("rights_end", "Rights end", Input.MOMENT, "From then on it is not shown. " + _MOMENT)
_PHOTO = ordered(PHOTO_KEYS, (
    Entry("file", "Picture", Input.PICTURE, "A file of content/photos."),
    Entry("alt", "Words for people who do not see it", Input.TEXT, "What it shows, such as Two volunteers hang coats on a rail. Without them it is not shown."),
    Entry("credit", "Credit", help="Who took it."),
    _COURTESY,
    _USE,
    Entry("focus", "What matters in it", Input.LIST, "Two numbers from 0 to 1, one a line: from the left, and from the top. 0.5 is the middle."),
    Entry("children", "Children can be recognized", Input.CHOICE, "With children it is shown only with a consent on file.", choices=FLAG),
    Entry("consent", "Where the consent is kept", help="Such as form of 2026-11-18. Never published."),
    _RIGHTS,
))  # fmt: skip
_VIDEO = ordered(VIDEO_KEYS, (
    Entry("file", "Video's address", help="In full, with https://."),
    Entry("captions", "Captions", help="A WebVTT file of content/captions. The video waits for them."),
    Entry("poster", "Picture before it plays", Input.PICTURE, "A file of content/photos."),
    Entry("runs", "Runs", help="Such as 1:35."),
    Entry("described", "Described for people who do not see it", help="Such as in the narration."),
    _COURTESY,
    _USE,
    _RIGHTS,
))  # fmt: skip
_HOLD = Entry("hold", "On hold", Input.CHOICE, "What is on hold is not published.", "When", choices=FLAG)
_LANGUAGE = Entry(
    "language", "Language", help="Where it is not the station's; a tag such as es.", part="More"
)
_DESK_ENTRY = Entry("desk", "Notes of the newsroom", Input.MAP, _DESK, "For the newsroom")

STORY = Form("story", "stories", ".md", "a story", "headline", ordered(STORY_KEYS, (
    Entry("headline", "Headline", part="What"),
    Entry("summary", "Summary", Input.TEXT, "One or two sentences: what happens, and what viewers can do.", "What"),
    Entry("aired", "Aired", Input.MOMENT, _MOMENT + " Or name it in an episode's rundown.", "When"),
    Entry("county", "County", Input.COUNTIES, "One or more, or beyond.", "Where"),
    Entry("town", "Town", Input.TOWN, "The dateline.", "Where"),
    Entry("reporter", "Reporter", part="Who"),
    Entry("topics", "Topics", Input.LIST, "One a line.", "What"),
    Entry("embargo", "Not before", Input.MOMENT, "Else it is released when its episode airs. " + _MOMENT, "When"),
    _HOLD,
    Entry("say_on_air", "Short address read out on air", help="One plain word of at most twelve letters.", part="On air"),
    Entry("heard_as", "Other spellings that lead there", Input.LIST, "One a line.", "On air"),
    Entry("photo", "Picture", Input.GROUP, part="Picture and video", fields=_PHOTO),
    Entry("video", "Video", Input.GROUP, part="Picture and video", fields=_VIDEO),
    Entry("sponsored_by", "Sponsored by", help="Said plainly on the page.", part="Who"),
    _LANGUAGE,
    Entry("follows", "Follows up", Input.STORY, "The earlier story.", "More"),
    Entry("translates", "Translates", Input.STORY, "The story that this one tells in another language.", "More"),
    Entry("old_addresses", "Old addresses", Input.LIST, "One a line, new ones last, such as /old/coats/.", "More"),
    Entry("withdrawn", "Withdrawn", Input.GROUP, "Takes the story out of everything and leaves a notice.", "Corrections",
          fields=ordered(WITHDRAWN_KEYS, (Entry("date", "Withdrawn on", Input.DAY), Entry("notice", "Notice", Input.TEXT)))),
    Entry("corrections", "Corrections", Input.GROUPS, "Shown on the page with their dates.", "Corrections", one="correction",
          fields=ordered(CORRECTION_KEYS, (
              Entry("date", "Date", Input.DAY),
              Entry("kind", "Kind", Input.CHOICE, choices=_words(*CorrectionKind)),
              Entry("text", "What is said", Input.TEXT),
          ))),
    _DESK_ENTRY,
    Entry("asks", "What viewers can do", Input.GROUPS, part="What viewers can do", fields=ASK, one="ask"),
    Entry("listing", "Round-up", help="A CSV file of content/listings with many dated entries.", part="More"),
)), ("What", "Who", "Where", "When", "Picture and video", "On air", "What viewers can do", "Corrections", "More", "For the newsroom"))  # fmt: skip

PLACE = Form("place", "places", ".yaml", "a place", "name", _PLACE_FIELDS, PLACE_PARTS)

EPISODE = Form("episode", "episodes", ".md", "an episode", "title", ordered(EPISODE_KEYS, (
    Entry("aired", "Aired", Input.MOMENT, "Date and time, such as 2026-11-21 18:30.", "When"),
    Entry("repeats", "Repeated", Input.LIST, "Dates and times, one a line.", "When"),
    replace(_HOLD, help="A show that did not air as planned holds its stories with it."),
    Entry("title", "Title", part="What"),
    Entry("video", "Video", Input.GROUP, part="Video", fields=(
        *_VIDEO, Entry("web_offset", "Web video differs by", help="Where breaks were cut, such as -0:02:10."),
    )),
    Entry("rundown", "Rundown", Input.GROUPS, "In the order of the show.", "Rundown", one="story", fields=ordered(RUNDOWN_KEYS, (
        Entry("time", "Starts at", help="Such as 00:00:35."), Entry("story", "Story", Input.STORY),
    ))),
    Entry("promises", "Promises", Input.GROUPS, "What was said on air that the site must hold. Never published.", "Promises", one="promise",
          fields=ordered(PROMISE_KEYS, (
              Entry("time", "Said at", help="Such as 00:09:20."), Entry("said", "What was said", Input.TEXT),
              Entry("kept_by", "Kept by", Input.STORY),
          ))),
    _DESK_ENTRY,
)), ("What", "When", "Video", "Rundown", "Promises", "For the newsroom"))  # fmt: skip

PAGE = Form("page", "pages", ".md", "a station page", "title", ordered(PAGE_KEYS, (
    Entry("title", "Title", part="What"),
    Entry("summary", "Summary", Input.TEXT, part="What"),
    _LANGUAGE,
    _DESK_ENTRY,
)), ("What", "More", "For the newsroom"))  # fmt: skip

FORMS: Mapping[str, Form] = {
    form.kind: replace(form, layout=layout_of(form.fields)) for form in (STORY, PLACE, EPISODE, PAGE)
}
"""By kind."""


def form_for(path: str) -> Form | None:
    """The form of a file by its path, such as `content/places/hall.yaml`; None for what has none."""
    parts = path.split("/")
    for form in FORMS.values():
        if len(parts) >= 3 and parts[:2] == ["content", form.folder] and parts[-1].endswith(form.suffix):
            return form
    return None
