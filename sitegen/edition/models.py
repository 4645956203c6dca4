"""The page models: for each kind of page, an immutable record of everything its template may read.

A page is a pure function of its model, the theme and the program's version. So a model holds no present
moment, nothing relative to one, and no HTML: only what is true from this edition's moment until its
`true_until`, as plain frozen values. Addresses are site addresses without a leading slash ("" is the home
page, `counties/tidewick/` a folder); the typesetter makes them relative to the page that links.
"""

from __future__ import annotations

from datetime import date, datetime, time
from typing import TypeAlias

from msgspec import Struct

from sitegen.edition.vocabulary import Node
from sitegen.geography.lettering import Label
from sitegen.newsroom.records import Access, CorrectionKind, DayHours, Hours, Kind

# --- small parts -----------------------------------------------------------------------------


class Ref(Struct, frozen=True):
    """A link to a page of this site."""

    label: str
    """Empty for pages whose name is the theme's: those of stories from beyond, the archive, the topics."""
    address: str
    """Site address, perhaps with a `#fragment`."""
    language: str = ""
    """BCP 47, of a label that is a story's own words; empty for names, and for words in the station's language."""


class Counted(Struct, frozen=True):
    """A link with how many things stand behind it."""

    ref: Ref
    count: int
    then: tuple[tuple[str, int | None], ...] = ()
    """(instant, count from then on) of the next changes that time alone will bring, in order. None: no longer known."""


class Moment(Struct, frozen=True):
    """An instant, and how to say it in the station's wall time."""

    iso: str
    """For `datetime`: date, time and offset, such as `2026-12-16T00:00:00-05:00`."""
    day: date
    """The day to say. For the end of a whole day that is the day itself, though `iso` is the next 00:00."""
    clock: time | None = None
    """The wall time to say; None when the whole day is meant."""


class Standing(Struct, frozen=True):
    """What an ask is as of the edition: one of the five words, as booleans and text for templates."""

    word: str
    """`coming`, `open`, `last days`, `ended` or `lapsed`."""

    @property
    def live(self) -> bool:
        """True while a viewer can act on it or prepare to."""
        return self.word in ("coming", "open", "last days")


class Body(Struct, frozen=True):
    """A text with markup, and where its links lead."""

    galley: str
    """As `sitegen/newsroom/galley.py` sets it."""
    links: tuple[tuple[str, str], ...] = ()
    """(target as written, site address) for links into the site. An empty address means the words stay
    and the link goes: what it led to is not published."""

    @property
    def is_empty(self) -> bool:
        return not self.galley.strip()


class PictureSource(Struct, frozen=True):
    """One picture in one format, in the widths a browser may choose from."""

    media_type: str
    """Such as `image/webp`."""
    files: tuple[tuple[str, int], ...]
    """(address of the derived file, its width in pixels), narrowest first."""


class PictureView(Struct, frozen=True):
    """A picture to show, already allowed to be shown."""

    address: str
    """Of the derived JPEG for a program that cannot choose among `sources`."""
    width: int
    """Pixels, of the widest derived file: the picture is never shown larger."""
    height: int
    alt: str
    credit: str = ""
    courtesy: str = ""
    sources: tuple[PictureSource, ...] = ()
    """Best format first; empty for a poster, for which a page can name only one file."""
    original: str = ""
    """Digest of the picture it is made from: equal for a photo and the poster cut from it."""


class TranscriptLine(Struct, frozen=True):
    start: int
    """Whole seconds from the start of the video."""
    speaker: str
    text: str


class VideoView(Struct, frozen=True):
    """A video to show, already allowed to be shown; it always has captions."""

    src: str
    """Absolute address on the media host."""
    captions: str
    """Site address of the WebVTT file."""
    captions_language: str
    poster: PictureView | None
    runs: int | None
    """Seconds."""
    described: str
    courtesy: str
    transcript: tuple[TranscriptLine, ...]


class ContactView(Struct, frozen=True):
    name: str = ""
    phone: str = ""
    email: str = ""
    web: str = ""
    pick_up: str = ""
    ship_to: str = ""
    languages: tuple[str, ...] = ()


class GoalView(Struct, frozen=True):
    number: float
    unit: str
    so_far: float | None
    last_time: float | None
    counted_on: date | None


class PlaceView(Struct, frozen=True):
    """A place as a page may show it. Street, postal code and position are empty when withheld."""

    name: str
    town: str
    county: Ref
    page: str
    """Address of the place's own page; empty for a place written in an ask."""
    street: str
    postal_code: str
    latitude: float | None
    longitude: float | None
    position_is_towns: bool
    """The position is the town's, not the door's."""
    withheld: bool
    hours: Hours
    closed: tuple[date, ...]
    """Closed days still to come that matter to the viewer, ascending."""
    special_hours: tuple[DayHours, ...]
    """The same for days with hours of their own."""
    step_free: Access
    drive_up: Access
    transit: str
    parking: str
    note: str
    phone: str
    web: str
    ask_note: str = ""
    """What an ask's story says of a shared place for that ask alone."""
    language: str = ""
    """Of `ask_note`, and of every text of a place without a page of its own; empty for the station's."""


class DropOffView(Struct, frozen=True):
    """A live drop-off or venue of one ask: its last chance is still to come."""

    place: PlaceView
    from_: Moment | None
    """Set while its own window has not begun."""
    last_chance: Moment
    """The moment its door shuts for the last time inside the ask's window and its own."""
    before_close: bool
    """True when the last chance comes before the ask's own close, so that it must be said."""


class DatesView(Struct, frozen=True):
    """One entry of a go or tune-in ask's dates, still to come or running."""

    first: Moment
    last: Moment
    """Equal to `first` for a single day or time."""
    ends: str = ""
    """The first instant after it, as `Moment.iso`."""


class Ending(Struct, frozen=True):
    """All that is left of an ask that has ended or lapsed, or of a stopped place or listing entry."""

    when: Moment | None
    """None when only the fact is known."""
    how: str
    """`ended`, `stopped` or `lapsed`."""
    say: str = ""
    """The organizer's line, for `stopped`."""
    instead: str = ""
    """What to do instead, for `stopped`."""
    organizer: str = ""
    """Name to ask, for `lapsed` only."""
    phone: str = ""
    """Phone to ask, for `lapsed` only."""


class AskView(Struct, frozen=True):
    """An ask in full, on its story's page and the get-help page. When it is not live only `anchor`,
    `kind`, `title`, `standing`, `story`, `ending` and `next_step` are filled."""

    anchor: str
    """Fragment id on its story's page."""
    story: Ref
    kind: Kind
    title: str
    standing: Standing
    opens: Moment | None = None
    """Set while coming."""
    closes: Moment | None = None
    """The effective end; None for ongoing."""
    check_again_by: Moment | None = None
    """For ongoing asks."""
    accepts: tuple[str, ...] = ()
    not_accepted: tuple[str, ...] = ()
    helps: tuple[Ref, ...] = ()
    goal: GoalView | None = None
    contact: ContactView | None = None
    places: tuple[DropOffView, ...] = ()
    stopped_places: tuple[tuple[str, str, Ending], ...] = ()
    """(name, town, ending) of places stopped before the ask's end."""
    no_places_left: bool = False
    """It had places and none has a last chance left, though the ask goes on."""
    dates: tuple[DatesView, ...] = ()
    hours: Hours | None = None
    closed: tuple[date, ...] = ()
    quieter: tuple[int, ...] = ()
    minutes: int | None = None
    who_for: str = ""
    cost: str = ""
    bring: str = ""
    payee: str = ""
    goes_to: str = ""
    registration: str = ""
    if_too_much: str = ""
    ending: Ending | None = None
    next_step: Ref | None = None
    """For an ended ask: the follow-up, or the county's open asks."""
    calendar: str = ""
    """Site address of its calendar; empty once it is over."""

    @property
    def last_place_closes(self) -> Moment | None:
        """When its last place takes for the last time, where that is before the ask's own end."""
        if not self.places or not all(entry.before_close for entry in self.places):
            return None
        return max(
            (entry.last_chance for entry in self.places), key=lambda each: datetime.fromisoformat(each.iso)
        )


class TakeTerms(Struct, frozen=True):
    """How a place takes one thing, where that is otherwise than its door."""

    hours: Hours | None
    """None when they are the door's."""
    closed: tuple[date, ...]
    special_hours: tuple[DayHours, ...]
    """Both empty with the door's hours."""
    note: str
    language: str
    """Of the note; empty for the station's."""


class AskLine(Struct, frozen=True):
    """A live ask as one row of a list: what, where, until when."""

    kind: Kind
    title: str
    standing: Standing
    ask: Ref
    """To the ask on its story's page; the label is the story's headline."""
    opens: Moment | None
    closes: Moment | None
    check_again_by: Moment | None
    where: tuple[str, ...]
    """Names of the towns with a live place, in order; empty without places."""
    places: int
    """How many live places it has."""
    counties: tuple[Ref, ...]
    dates: tuple[DatesView, ...] = ()
    hours: Hours | None = None
    last_place_closes: Moment | None = None
    """The latest last chance of its places, when that is before `closes`."""
    no_places_left: bool = False
    """As in `AskView`."""
    phone: str = ""
    """The organizer's, only for get help."""
    contact: ContactView | None = None
    """Whom to ask once it lapses; only of an ask that does."""
    places_change: str = ""
    """The first instant at which a place of `places` is no longer one, as `Moment.iso`; empty without places."""
    terms: TakeTerms | None = None
    """On the page of a place that takes it on terms of its own."""
    closed: tuple[date, ...] = ()
    """Days still to come on which an event's hours do not count, ascending."""


class StoryLine(Struct, frozen=True):
    """A story as one row of a list."""

    story: Ref
    aired: date
    town: str
    counties: tuple[Ref, ...]
    summary: str = ""


class ListingLine(Struct, frozen=True):
    """One entry of a round-up that is still to come."""

    what: str
    town: str
    county: Ref
    day: date
    starts: Moment | None
    ends: Moment
    """Its end; the whole day when no time is written."""
    place: str
    note: str
    stopped: Ending | None
    """When set, `starts`, `place` and `note` are empty."""
    story: Ref


class CorrectionView(Struct, frozen=True):
    date: date
    kind: CorrectionKind
    text: str
    story: Ref


class MapArea(Struct, frozen=True):
    """One county of the map: an outline to press, and what stands in it."""

    number: int
    """Its place in the list of counties, from 1; the list beside the map says it too."""
    page: str
    """Address of the county's page."""
    outline: str
    """SVG path data, to be filled by the even-odd rule."""
    label: Label | None
    """For a wide drawing: the county's name, else its number, else nothing, whichever has room."""
    is_named: bool
    """The label is its name."""
    large_number: Label | None
    """For a narrow drawing, where only numbers are large enough to read."""


class MapView(Struct, frozen=True):
    """The map of all counties, every one of them a link."""

    width: int
    height: int
    """Of the drawing, in its own units."""
    label_size: int
    number_size: int
    """Of letters, in units of the drawing: for names when it is wide, for numbers when it is narrow."""
    areas: tuple[MapArea, ...]
    """In the order of the list; a county without a shape is missing here only."""

    @property
    def all_named(self) -> bool:
        return all(area.is_named for area in self.areas)


class OutlineView(Struct, frozen=True):
    """One county among the others, small."""

    width: int
    height: int
    others: str
    """SVG path data of all other counties."""
    here: str
    """SVG path data of this one."""
    neighbours: tuple[Ref, ...]
    """The counties it shares a border with."""


class TownMark(Struct, frozen=True):
    """A town on a locator map."""

    is_seat: bool
    x: int
    y: int
    label: Label | None
    """Its name; None where the words would not fit."""


class LocatorView(Struct, frozen=True):
    """Where in its county a place is."""

    width: int
    height: int
    label_size: int
    outline: str
    """SVG path data of the county."""
    x: int
    y: int
    """Of the place's mark."""
    towns: tuple[TownMark, ...]
    seat: str
    """The county's seat, when its position is known; else empty."""
    direction: str
    """From the seat to the place: one of `n ne e se s sw w nw`, or `in` for a place in the seat; empty without a seat."""


class Paging(Struct, frozen=True):
    """Where a page stands in a list that goes over several."""

    number: int = 1
    of: int = 1
    pages: tuple[Ref, ...] = ()
    """Every page of the list, in order; empty when there is only one."""


# --- the frame every page shares -------------------------------------------------------------


class Frame(Struct, frozen=True):
    """What stands around every page. Nothing in it can be changed by a single story."""

    station: str
    programme: str
    address: str
    """The site's public address, ending with a slash."""
    language: str
    area_word: str
    email: str
    phone: str
    answers: Hours | None
    mail: str
    counties: tuple[Ref, ...]
    beyond: Ref
    pages: tuple[Ref, ...]
    """Station pages that exist, in order."""
    giving_safely: Ref | None
    """The station page on giving safely, where there is one."""
    demonstration: bool
    """The site is fixed at one moment and says so."""
    time_zone: str = "UTC"
    """The station's, an IANA name: the script reckons in it whatever the reader's zone."""


# --- pages -----------------------------------------------------------------------------------


class HomePage(Struct, frozen=True):
    frame: Frame
    address: str
    closing_next: tuple[AskLine, ...]
    """The soonest ends first, giving side only."""
    open_now: tuple[AskLine, ...]
    """Other open asks, giving side, soonest end first."""
    more: int
    """Asks, open or coming, that are on the deadlines page but not here."""
    coming: tuple[AskLine, ...]
    help_count: int
    """Live get-help asks."""
    episode: Ref | None
    episode_aired: Moment | None
    episode_stories: tuple[StoryLine, ...]
    latest: tuple[StoryLine, ...]
    """Stories newest first, those of the episode left out."""
    counties: tuple[Counted, ...]
    """Every county with its count of open asks."""
    help_then: tuple[tuple[str, int | None], ...] = ()
    """How `help_count` changes, as `Counted.then`."""
    more_then: tuple[tuple[str, int], ...] = ()
    """How `more` changes; 0 from where nothing is known."""
    map: MapView | None = None
    """Of the same counties; None without one, or with a single county on it."""
    tongues: tuple[Ref, ...] = ()
    """As in `IndexPage`."""
    linked: tuple[Node, ...] = ()
    """What it is about, as linked data; empty for nothing to say."""


class PlaceTakes(Struct, frozen=True):
    """A live place and what it takes."""

    place: PlaceView
    takes: tuple[tuple[AskLine, Moment], ...]
    """(ask, that place's last chance for it)."""


class CountyPage(Struct, frozen=True):
    frame: Frame
    address: str
    name: str
    """Empty for the page of good news from beyond the station's area."""
    seat: str
    paging: Paging
    """Over the open asks, the coming, the listing and the places together; the first page has the archive."""
    open_now: tuple[AskLine, ...]
    help: tuple[AskLine, ...]
    coming: tuple[AskLine, ...]
    listing: tuple[ListingLine, ...]
    places: tuple[PlaceTakes, ...]
    archive: tuple[StoryLine, ...]
    """Newest first."""
    years: tuple[Counted, ...]
    """The rest of the archive by year; empty when `archive` has all."""
    outline: OutlineView | None = None
    """On the first page, where the map has the county and others."""
    calendar: str = ""
    """Site address of the county's calendar."""
    linked: tuple[Node, ...] = ()
    """What it is about, as linked data; empty for nothing to say."""


class StoryListPage(Struct, frozen=True):
    """Stories of a year, of a county's year, of a topic or of a language, newest first."""

    frame: Frame
    address: str
    kind: str
    """`year`, `county year`, `topic`, `topic year`, `language` or `language year`."""
    subject: str
    """The county's or topic's name, the language's BCP 47 tag; empty for a year of the whole archive."""
    year: int | None
    up: Ref
    paging: Paging
    stories: tuple[StoryLine, ...]
    years: tuple[Counted, ...] = ()
    """For a topic or language that goes on by year."""


class IndexGroup(Struct, frozen=True):
    heading: str
    """Empty when the list needs none."""
    entries: tuple[Counted, ...]


class SearchView(Struct, frozen=True):
    """A page's search: what it can be narrowed to, and what its script fetches first. None of it changes with a story."""

    data: str
    """Site address."""
    counties: tuple[Ref, ...]


class IndexPage(Struct, frozen=True):
    """A list of links with counts."""

    frame: Frame
    address: str
    kind: str
    """`counties`, `archive`, `topics`, `episodes` or `places`; says what the counts count."""
    paging: Paging
    groups: tuple[IndexGroup, ...]
    map: MapView | None = None
    """For `counties` only, of the single group's entries."""
    search: SearchView | None = None
    """For `archive` only; None while there is no story."""
    tongues: tuple[Ref, ...] = ()
    """For `archive` only: the lists of stories in other languages than the station's, labelled by BCP 47 tags."""


class HelpTown(Struct, frozen=True):
    town: str
    """Empty when its asks have no place in the county."""
    asks: tuple[AskView, ...]
    elsewhere: bool = False
    """Its asks are for the county, too, and all their places lie in others. Else one without a town has only a
    contact."""


class HelpCounty(Struct, frozen=True):
    county: Ref
    towns: tuple[HelpTown, ...]


class GetHelpPage(Struct, frozen=True):
    frame: Frame
    address: str
    paging: Paging
    counties: tuple[HelpCounty, ...]


class FindTown(Struct, frozen=True):
    town: str
    postal_codes: tuple[str, ...]
    places: tuple[PlaceTakes, ...]
    anchor: str
    """Fragment id of the town in its page."""


class FindCounty(Struct, frozen=True):
    county: Ref
    towns: tuple[FindTown, ...]
    anchor: str
    """Fragment id of the county in its page."""


class TownRef(Struct, frozen=True):
    """A town with a place that takes something."""

    town: str
    postal_codes: tuple[str, ...]
    address: str
    """Where its places are listed: a site address with a fragment."""
    last: Moment
    """When the last of them takes no more."""


class FindIndex(Struct, frozen=True):
    """A county of the finder's list, and its towns in the order of the list."""

    county: Ref
    address: str
    """Where its list begins: a page of its own, or a fragment of the finder's."""
    towns: tuple[TownRef, ...]


class FindPage(Struct, frozen=True):
    """Every place that takes something, by county and town, or those of one county. Help asks are not among them."""

    frame: Frame
    address: str
    paging: Paging
    counties: tuple[FindCounty, ...]
    """Empty on the finder's own page when its counties have pages of their own."""
    data: PlacesFile | None = None
    """What the finder searches, on its own page; the published name of the file carries a digest of its bytes."""
    county: Ref | None = None
    """Set on the pages of one county."""
    index: tuple[FindIndex, ...] = ()
    """Of the whole list, on the finder's own page."""


class DeadlineMonth(Struct, frozen=True):
    first: date
    """The month's first day."""
    asks: tuple[AskLine, ...]
    """By close."""


class DeadlinesPage(Struct, frozen=True):
    frame: Frame
    address: str
    paging: Paging
    months: tuple[DeadlineMonth, ...]
    ongoing: tuple[AskLine, ...]
    coming: tuple[AskLine, ...]
    calendar: str = ""
    """Site address of the calendar of the whole site."""


class ShareView(Struct, frozen=True):
    """What a story's own share picture says beside its headline and counties."""

    ask: AskLine | None
    """The first live ask as the newsroom ordered them, of the giving side where there is one; None when nothing is
    live."""


class StoryPage(Struct, frozen=True):
    frame: Frame
    address: str
    headline: str
    summary: str
    language: str
    """BCP 47, the story's own."""
    aired: Moment
    town: str
    counties: tuple[Ref, ...]
    reporter: str
    topics: tuple[Ref, ...]
    sponsored_by: str
    photo: PictureView | None
    video: VideoView | None
    video_waits: bool
    """There is a video, and it may not be shown until it has captions."""
    asks: tuple[AskView, ...]
    """Live asks of the giving side."""
    help: tuple[AskView, ...]
    """Live get-help asks."""
    ended: tuple[AskView, ...]
    """Ended and lapsed asks of either side."""
    had_listing: bool
    listing: tuple[ListingLine, ...]
    """Entries still to come, by town then date."""
    some_ended: bool
    """An ask or listing entry of it has ended, so free text may speak of what is over."""
    body: Body
    corrections: tuple[CorrectionView, ...]
    follows: Ref | None
    followed_by: tuple[Ref, ...]
    """Newest first."""
    episodes: tuple[Ref, ...]
    share: ShareView | None = None
    """None once nothing is live and a year has passed since it aired: then the programme's picture serves."""
    tongue: Ref | None = None
    """The list of the stories in its language, where that is not the station's; the label is its BCP 47 tag."""
    translations: tuple[tuple[str, Ref], ...] = ()
    """(BCP 47 tag, story) of the same story in other languages, by tag."""
    passed_on: tuple[tuple[str, Ref], ...] = ()
    """(word, story) of its short addresses that lead to another story by now."""
    said_on_air: str = ""
    """The short address read out on air, as a site address; empty when it has none or it leads to another story."""
    from_county: Ref | None = None
    """The one of `counties` that it is from: where to go on from what has ended."""
    linked: tuple[Node, ...] = ()
    """What it is about, as linked data; empty for nothing to say."""


class WithdrawnPage(Struct, frozen=True):
    """All that is left of a withdrawn story."""

    frame: Frame
    address: str
    date: date
    notice: str


class RundownLine(Struct, frozen=True):
    story: StoryLine
    time: int | None
    """Seconds into the broadcast."""
    seek: int | None
    """Seconds into the web video, when there is one."""


class EpisodePage(Struct, frozen=True):
    frame: Frame
    address: str
    title: str
    """Empty when it has none; the date then serves."""
    aired: Moment
    repeats: tuple[Moment, ...]
    """Still to come."""
    video: VideoView | None
    video_waits: bool
    some_ended: bool
    rundown: tuple[RundownLine, ...]
    body: Body
    linked: tuple[Node, ...] = ()
    """What it is about, as linked data; empty for nothing to say."""


class PlacePage(Struct, frozen=True):
    frame: Frame
    address: str
    name: str
    town: str
    county: Ref
    place: PlaceView | None
    """None while nothing is wanted there: then neither street nor hours nor phone is shown."""
    takes: tuple[tuple[AskLine, Moment], ...]
    help: tuple[tuple[AskLine, Moment], ...]
    locator: LocatorView | None = None
    """While something is wanted there and its position, or its town's, may be shown."""
    linked: tuple[Node, ...] = ()
    """What it is about, as linked data; empty for nothing to say."""


class LeadPage(Struct, frozen=True):
    """A short or an old address: a page that leads to its story at once."""

    frame: Frame
    address: str
    story: Ref
    said: str = ""
    """The word that is read out on air or heard; empty for an old address."""
    counties: tuple[Ref, ...] = ()
    """The story's, for its share picture."""
    share: ShareView | None = None
    """As the story's own page has it: whoever passes the short address on shows the same picture."""


class TextPage(Struct, frozen=True):
    """A station page."""

    frame: Frame
    address: str
    title: str
    summary: str
    language: str
    body: Body
    corrections: tuple[CorrectionView, ...]
    """Every published correction, newest first, on the corrections page."""
    paging: Paging


class NotFoundPage(Struct, frozen=True):
    """`404.html`: served at any depth, so it alone links from the host's root."""

    frame: Frame
    address: str
    root: str
    """The path of the site on its host: `/` or `/small-wonders/`."""
    words: tuple[Ref, ...]
    """Short addresses that lead to a story now."""


Page: TypeAlias = (
    HomePage
    | CountyPage
    | StoryListPage
    | IndexPage
    | GetHelpPage
    | FindPage
    | DeadlinesPage
    | StoryPage
    | WithdrawnPage
    | EpisodePage
    | PlacePage
    | LeadPage
    | TextPage
    | NotFoundPage
)


# --- what is not a page ----------------------------------------------------------------------


class File(Struct, frozen=True):
    """What is not a page. Each kind says in fields of its own all that its bytes are made from."""

    address: str
    """Site address."""


class SitemapFile(File, frozen=True):
    base: str
    """The site's public address."""
    entries: tuple[tuple[str, str], ...]
    """(site address, lastmod as an RFC 3339 instant or empty)."""


class RobotsFile(File, frozen=True):
    sitemap: str
    """Absolute."""


class SecurityFile(File, frozen=True):
    contact: str
    expires: datetime
    """UTC."""
    canonical: str


class FinderTake(Struct, frozen=True):
    """One ask at one place."""

    ask: int
    """Its index in the file."""
    opens: str
    """The instant from which it is taken there, for an event that of its first day; may be empty when it is past."""
    last: Moment
    """Its last chance there."""
    hours: Hours | None = None
    """An event's own at the place, which are not those of the door; None for every other ask, and when not known."""
    closed: tuple[date, ...] = ()
    special_hours: tuple[DayHours, ...] = ()
    written: Hours | None = None
    """An event's hours as written, where they are not those that the place's own lines say."""


class FinderPlace(Struct, frozen=True):
    """A live place and what stands open there, of one side."""

    place: PlaceView
    takes: tuple[FinderTake, ...]


class FinderTown(Struct, frozen=True):
    name: str
    county: int
    """Index in the file's counties."""
    latitude: float | None
    longitude: float | None
    postal_codes: tuple[str, ...]


class PlacesFile(File, frozen=True):
    """What the finder searches: only what is open or coming, and no position that is withheld. Its published name carries
    a digest besides its address."""

    counties: tuple[Ref, ...]
    towns: tuple[FinderTown, ...]
    asks: tuple[AskView, ...]
    """Those of a place first, of either side; then get-help asks that have no place, only a contact."""
    places: tuple[FinderPlace, ...]
    """Of the giving side."""
    help: tuple[FinderPlace, ...]
    area_word: str
    """The station's, behind a county's name."""


class PictureAsset(Struct, frozen=True):
    """A picture to derive: the name says what it is made from and how."""

    address: str
    source: str
    """Relative to the root folder."""
    digest: str
    """SHA-256 the source's bytes must still have."""
    width: int
    height: int
    media_type: str = "image/jpeg"
    box: tuple[int, int, int, int] | None = None
    """(left, top, right, bottom) of the part to show, in pixels of the upright source; None for all of it."""


class CopyAsset(Struct, frozen=True):
    """A file published as it is."""

    address: str
    source: str
    """Relative to the root folder."""
    digest: str
    """SHA-256 the bytes must still have."""


Asset: TypeAlias = PictureAsset | CopyAsset


class RestingPage(Struct, frozen=True):
    """A page that nobody needs as a model before it is made: that of a story at rest."""

    address: str
    digest: bytes
    """Of its model, as whoever keeps digests takes them, where all that it would be made of is as it was; else empty."""
    aside: int
    """The number under which lies what it is composed of."""


class Edition(Struct, frozen=True):
    """The whole site as of one moment, as models; and until when it stays true."""

    pages: tuple[Page, ...]
    """By address, each address once; all but the resting ones."""
    files: tuple[File, ...]
    assets: tuple[Asset, ...]
    """By address, each address once."""
    true_until: datetime | None
    """UTC: the first instant at which some page would differ; None when nothing ever will."""
    resting: tuple[RestingPage, ...] = ()
    """By address."""

    @property
    def count(self) -> int:
        """All its pages."""
        return len(self.pages) + len(self.resting)
