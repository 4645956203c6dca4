"""Page models of every kind, filled to the last optional part and empty of all of them, for tests that set pages.

Everyone and everything in them is invented.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time

from msgspec.structs import replace

from sitegen.edition.models import (
    AskLine,
    AskView,
    Body,
    ContactView,
    CorrectionView,
    Counted,
    CountyPage,
    DatesView,
    DeadlineMonth,
    DeadlinesPage,
    DropOffView,
    Ending,
    EpisodePage,
    FindCounty,
    FinderPlace,
    FinderTake,
    FinderTown,
    FindIndex,
    FindPage,
    FindTown,
    Frame,
    GetHelpPage,
    GoalView,
    HelpCounty,
    HelpTown,
    HomePage,
    IndexGroup,
    IndexPage,
    LeadPage,
    ListingLine,
    LocatorView,
    MapArea,
    MapView,
    Moment,
    NotFoundPage,
    OutlineView,
    Page,
    Paging,
    PictureSource,
    PictureView,
    PlacePage,
    PlacesFile,
    PlaceTakes,
    PlaceView,
    Ref,
    RobotsFile,
    RundownLine,
    SearchView,
    SecurityFile,
    ShareView,
    SitemapFile,
    Standing,
    StoryLine,
    StoryListPage,
    StoryPage,
    TextPage,
    TownMark,
    TownRef,
    TranscriptLine,
    VideoView,
    WithdrawnPage,
)
from sitegen.edition.outlets import AskTiming
from sitegen.edition.searching import SearchAsk, SearchFile, SearchStory, SearchTexts
from sitegen.geography.lettering import Label
from sitegen.newsroom.galley import set_body
from sitegen.newsroom.records import Access, CorrectionKind, DayHours, Hours, Kind, Mode, Rule

# --- hours and moments -------------------------------------------------------------------------

WEEKDAYS = Hours(Mode.REGULAR, (Rule((0, 1, 2, 3, 4), (), ((540, 1020),)),), "Mo-Fr 09:00-17:00")
LIBRARY_HOURS = Hours(
    Mode.REGULAR,
    (Rule((0, 1, 2, 3, 4), (), ((540, 720), (780, 1020))), Rule((5,), (), ((600, 840),))),
    "Mo-Fr 09:00-12:00,13:00-17:00; Sa 10:00-14:00",
)
PANTRY_HOURS = Hours(Mode.REGULAR, (Rule((3,), (2, 4), ((600, 720),)),), "2nd and 4th Th 10:00-12:00")
NIGHTS = Hours(Mode.REGULAR, (Rule((0, 1, 2, 3, 4, 5, 6), (), ((1200, 1860),)),), "Mo-Su 20:00-07:00")
EVENINGS = Hours(Mode.REGULAR, (Rule((0, 1, 2, 3, 4, 5, 6), (), ((1050, 1320),)),), "Mo-Su 17:30-22:00")
BY_APPOINTMENT = Hours(Mode.BY_APPOINTMENT, (), "by appointment")
UNKNOWN = Hours(Mode.UNKNOWN, (), "unknown")


def whole_day(year: int, month: int, day: int) -> Moment:
    """The end of a whole day: the next 00:00."""
    after = date.fromordinal(date(year, month, day).toordinal() + 1)
    return Moment(f"{after.isoformat()}T00:00:00-05:00", date(year, month, day))


def day_start(year: int, month: int, day: int) -> Moment:
    """The beginning of a day, as bare dates that begin something are said."""
    return Moment(f"{date(year, month, day).isoformat()}T00:00:00-05:00", date(year, month, day))


def at(year: int, month: int, day: int, hour: int, minute: int = 0) -> Moment:
    clock = time(hour, minute)
    return Moment(
        f"{date(year, month, day).isoformat()}T{clock.isoformat()}-05:00", date(year, month, day), clock
    )


# --- links -------------------------------------------------------------------------------------

TIDEWICK = Ref("Tidewick", "counties/tidewick/")
SPANISH = Ref("es", "archive/es/")
"""The list of stories in Spanish."""
PELLAM = Ref("Pellam", "counties/pellam/")
BEYOND = Ref("Beyond the coast", "counties/beyond/")
COATS = Ref("A library closet wants 400 winter coats", "stories/2026/coat-closet/")
LIGHTS = Ref("The square lights up again", "stories/2026/market-lights/")
SHELTER = Ref("A warm bed at St. Brine’s Hall, whatever the night", "stories/2026/night-shelter/")

FULL_FRAME = Frame(
    station="Saltmarsh Community Television",
    programme="Small Wonders",
    address="https://www.example.org/small-wonders/",
    language="en-US",
    area_word="county",
    email="goodnews@example.org",
    phone="237-555-0100",
    answers=WEEKDAYS,
    mail="1 Quay Street, Port Tidewick",
    counties=(TIDEWICK, PELLAM),
    beyond=BEYOND,
    pages=(
        Ref("About us", "about/"),
        Ref("Corrections", "corrections/"),
        Ref("Send a story", "send-a-story/"),
        Ref("Giving safely", "giving-safely/"),
    ),
    giving_safely=Ref("Giving safely", "giving-safely/"),
    demonstration=True,
)
BARE_FRAME = Frame(
    station="Saltmarsh Community Television",
    programme="Small Wonders",
    address="https://www.example.org/",
    language="en-US",
    area_word="county",
    email="",
    phone="",
    answers=None,
    mail="",
    counties=(),
    beyond=BEYOND,
    pages=(),
    giving_safely=None,
    demonstration=False,
)

# --- places ------------------------------------------------------------------------------------

LIBRARY = PlaceView(
    name="Millrace Library",
    town="Millrace",
    county=TIDEWICK,
    page="places/millrace-library/",
    street="12 Weir Lane",
    postal_code="SC-104",
    latitude=34.7,
    longitude=-60.5,
    position_is_towns=False,
    withheld=False,
    hours=LIBRARY_HOURS,
    closed=(date(2026, 11, 26), date(2026, 12, 25)),
    special_hours=(DayHours(date(2026, 12, 12), ((480, 720),)),),
    step_free=Access.YES,
    drive_up=Access.YES,
    transit="Harbour line 4 to Weir Lane",
    parking="free behind the building",
    note="Ring the side bell",
    phone="237-555-0142 ext. 3",
    web="https://friends.example.org/library/",
)
BARE_PLACE = PlaceView(
    name="Pellam Fire Station 2",
    town="Pellam Cross",
    county=PELLAM,
    page="",
    street="",
    postal_code="",
    latitude=None,
    longitude=None,
    position_is_towns=True,
    withheld=False,
    hours=UNKNOWN,
    closed=(),
    special_hours=(),
    step_free=Access.UNKNOWN,
    drive_up=Access.UNKNOWN,
    transit="",
    parking="",
    note="",
    phone="",
    web="",
)
REFUGE = replace(
    BARE_PLACE,
    name="The Refuge",
    town="Millrace",
    county=TIDEWICK,
    withheld=True,
    hours=BY_APPOINTMENT,
    phone="237-555-0177",
)
HALL = replace(
    BARE_PLACE,
    name="St. Brine’s Hall",
    town="Port Tidewick",
    county=TIDEWICK,
    street="3 Bell Street",
    hours=NIGHTS,
    step_free=Access.NO,
)

# --- asks --------------------------------------------------------------------------------------

BRING = AskView(
    anchor="bring-a-winter-coat",
    story=COATS,
    kind=Kind.BRING,
    title="Bring a winter coat",
    standing=Standing("last days"),
    closes=whole_day(2026, 12, 15),
    accepts=("clean winter coats, all sizes", "gloves in pairs", "<b>not bold</b> & plain"),
    not_accepted=("shoes", "single gloves"),
    helps=(TIDEWICK, PELLAM),
    goal=GoalView(1400, "coats", 1120, 210, date(2026, 11, 20)),
    contact=ContactView(
        name="Friends of Millrace Library",
        phone="237-555-0142",
        email="coats@example.org",
        web="https://friends.example.org/",
        pick_up="Call and a van comes on Fridays",
        ship_to="Box 12, Millrace",
        languages=("en", "es"),
    ),
    places=(
        DropOffView(LIBRARY, None, at(2026, 12, 12, 12), True),
        DropOffView(BARE_PLACE, day_start(2026, 11, 28), whole_day(2026, 12, 15), False),
        DropOffView(REFUGE, None, whole_day(2026, 12, 15), False),
    ),
    stopped_places=(
        (
            "Quay Bakery",
            "Port Tidewick",
            Ending(at(2026, 12, 1, 9), "stopped", "The shelf is full.", "Take coats to the library."),
        ),
    ),
)
GO = AskView(
    anchor="see-the-lights",
    story=LIGHTS,
    kind=Kind.GO,
    title="See the lights",
    standing=Standing("coming"),
    opens=at(2026, 12, 4, 17, 30),
    closes=at(2027, 1, 2, 22),
    dates=(
        DatesView(day_start(2026, 12, 4), whole_day(2026, 12, 26)),
        DatesView(at(2027, 1, 2, 17, 30), at(2027, 1, 2, 22)),
    ),
    hours=EVENINGS,
    closed=(date(2026, 12, 24),),
    quieter=(0, 1, 2, 3),
    cost="free",
    places=(DropOffView(LIBRARY, None, at(2026, 12, 26, 22), False),),
)
TUNE_IN = AskView(
    anchor="watch-the-anniversary-hour",
    story=LIGHTS,
    kind=Kind.TUNE_IN,
    title="Watch the anniversary hour",
    standing=Standing("open"),
    closes=at(2026, 12, 18, 20),
    dates=(DatesView(at(2026, 12, 18, 19), at(2026, 12, 18, 19)),),
    minutes=60,
)
GIVE = AskView(
    anchor="help-refill-the-coat-fund",
    story=COATS,
    kind=Kind.GIVE,
    title="Help refill the coat fund",
    standing=Standing("open"),
    closes=at(2026, 12, 15, 17),
    goal=GoalView(5000, "$", 1250.5, None, None),
    contact=ContactView(phone="1-800-555-0199"),
    payee="Friends of Millrace Library",
    goes_to="named person",
    registration="SC-4711",
    if_too_much="goes to the spring reading fund",
)
VOLUNTEER = AskView(
    anchor="sort-coats",
    story=COATS,
    kind=Kind.VOLUNTEER,
    title="Sort coats on Saturdays",
    standing=Standing("open"),
    check_again_by=whole_day(2027, 1, 5),
    contact=ContactView(email="coats@example.org"),
    no_places_left=True,
)
HELP = AskView(
    anchor="a-warm-coat",
    story=COATS,
    kind=Kind.GET_HELP,
    title="A warm coat for anyone who needs one",
    standing=Standing("open"),
    closes=at(2026, 12, 18, 12),
    contact=ContactView(name="The coat desk", phone="237-555-0142", languages=("en", "es", "pt")),
    places=(DropOffView(HALL, None, at(2026, 12, 18, 7), True),),
    who_for="anyone, no papers asked",
    cost="free",
    bring="nothing",
)
BARE_ASK = AskView(
    anchor="lend-a-hand", story=COATS, kind=Kind.VOLUNTEER, title="Lend a hand", standing=Standing("open")
)


def over(anchor: str, kind: Kind, ending: Ending | None, next_step: Ref | None) -> AskView:
    return AskView(
        anchor=anchor,
        story=COATS,
        kind=kind,
        title=f"What is over: {anchor}",
        standing=Standing("lapsed" if ending and ending.how == "lapsed" else "ended"),
        ending=ending,
        next_step=next_step,
    )


ENDED = (
    over(
        "by-deadline",
        Kind.BRING,
        Ending(whole_day(2026, 12, 1), "ended"),
        Ref("Open asks in Tidewick", "counties/tidewick/"),
    ),
    over("at-midnight", Kind.GO, Ending(at(2026, 12, 2, 0), "ended"), None),
    over(
        "by-stop",
        Kind.GIVE,
        Ending(at(2026, 11, 30, 14, 30), "stopped", "The fund is full.", "Give to the reading fund."),
        LIGHTS,
    ),
    over("undated", Kind.VOLUNTEER, Ending(None, "stopped", "Called off."), None),
    over(
        "lapsed",
        Kind.GET_HELP,
        Ending(whole_day(2026, 11, 1), "lapsed", organizer="Ada Quill", phone="237-555-0150"),
        None,
    ),
    over("lapsed-nameless", Kind.GET_HELP, Ending(whole_day(2026, 11, 1), "lapsed"), None),
    over("unknown", Kind.BRING, None, None),
)

BRING_LINE = AskLine(
    kind=Kind.BRING,
    title="Bring a winter coat",
    standing=Standing("last days"),
    ask=Ref(COATS.label, f"{COATS.address}#bring-a-winter-coat"),
    opens=None,
    closes=whole_day(2026, 12, 15),
    check_again_by=None,
    where=("Millrace", "Pellam Cross"),
    places=3,
    counties=(TIDEWICK, PELLAM),
    last_place_closes=at(2026, 12, 12, 12),
)
GIVE_LINE = replace(
    BRING_LINE,
    kind=Kind.GIVE,
    title="Help refill the coat fund",
    standing=Standing("open"),
    ask=Ref(COATS.label, f"{COATS.address}#help-refill-the-coat-fund"),
    closes=at(2026, 12, 15, 17),
    where=(),
    places=0,
    last_place_closes=None,
)
GO_LINE = AskLine(
    kind=Kind.GO,
    title="See the lights",
    standing=Standing("coming"),
    ask=Ref(LIGHTS.label, f"{LIGHTS.address}#see-the-lights"),
    opens=at(2026, 12, 4, 17, 30),
    closes=at(2027, 1, 2, 22),
    check_again_by=None,
    where=("Millrace",),
    places=1,
    counties=(TIDEWICK,),
    dates=GO.dates,
    hours=EVENINGS,
)
ONGOING_LINE = replace(
    GIVE_LINE,
    kind=Kind.VOLUNTEER,
    title="Sort coats on Saturdays",
    ask=Ref(COATS.label, f"{COATS.address}#sort-coats"),
    closes=None,
    check_again_by=whole_day(2027, 1, 5),
)
HELP_LINE = replace(
    BRING_LINE,
    kind=Kind.GET_HELP,
    title="A bed for the night",
    standing=Standing("open"),
    ask=Ref(SHELTER.label, f"{SHELTER.address}#a-bed-for-the-night"),
    closes=at(2027, 3, 5, 7),
    where=("Port Tidewick",),
    places=1,
    counties=(TIDEWICK,),
    last_place_closes=None,
    phone="237-555-0188",
)

# --- stories, listings, pictures ---------------------------------------------------------------

COAT_STORY = StoryLine(
    COATS,
    date(2026, 11, 21),
    "Millrace",
    (TIDEWICK, PELLAM),
    "The closet fills again, and wants twice last year’s.",
)
BARE_STORY = StoryLine(LIGHTS, date(2024, 5, 5), "", ())

PARADE = ListingLine(
    what="Lantern parade",
    town="Millrace",
    county=TIDEWICK,
    day=date(2026, 12, 5),
    starts=at(2026, 12, 5, 18),
    ends=at(2026, 12, 5, 20, 30),
    place="Weir Lane",
    note="Bring a lamp",
    stopped=None,
    story=Ref("Every parade this winter", "stories/2026/parades/"),
)
DAY_LONG = replace(
    PARADE,
    what="Boat blessing",
    town="Pellam Cross",
    county=PELLAM,
    starts=None,
    ends=whole_day(2026, 12, 6),
    place="",
    note="",
)
OPEN_ENDED = replace(PARADE, what="Carols", starts=at(2026, 12, 7, 12), ends=whole_day(2026, 12, 7))
CALLED_OFF = replace(
    DAY_LONG,
    what="Harbour swim",
    stopped=Ending(None, "stopped", "Called off for the weather.", "Come to the carols."),
)

PHOTO = PictureView(
    address="pictures/1a2b3c4d5e6f7a8b9c0d-960.jpg",
    width=1600,
    height=1067,
    alt="Two volunteers hang coats on a rail",
    credit="Ada Quill",
    courtesy="Friends of Millrace Library",
    sources=tuple(
        PictureSource(
            media_type,
            tuple((f"pictures/1a2b3c4d5e6f7a8b9c0d-{width}.{ending}", width) for width in (480, 960, 1600)),
        )
        for media_type, ending in (("image/webp", "webp"), ("image/jpeg", "jpg"))
    ),
    original="1a2b3c4d5e6f",
)
POSTER = PictureView("pictures/0d9c8b7a6f5e4d3c2b1a-960.jpg", 960, 540, "", original=PHOTO.original)
VIDEO = VideoView(
    src="https://video.example.org/coats.mp4",
    captions="captions/coats-1a2b3c4d5e.vtt",
    captions_language="en",
    poster=POSTER,
    runs=95,
    described="in the narration",
    courtesy="Millrace Library",
    transcript=(
        TranscriptLine(0, "Ada Quill", "This closet was empty in October."),
        TranscriptLine(6, "Ada Quill", "It is not empty now."),
        TranscriptLine(41, "", "(Applause)"),
    ),
)
BARE_VIDEO = replace(VIDEO, poster=None, runs=None, described="", courtesy="", transcript=())

BODY = Body(
    set_body(
        "The closet stands beside the [reading room](page:about), and **anyone** may take a coat.\n\n"
        "# How it began\n\nA box, then a rail.\n\n### Since then\n\n- 2024: 90 coats\n- 2025: 210 coats\n\n"
        "| year | coats |\n| --- | ---: |\n| 2025 | 210 |\n\n> We never ask why.\n"
    )[0],
    (("page:about", "about/"),),
)
CORRECTIONS = (
    CorrectionView(date(2026, 11, 24), CorrectionKind.UPDATE, "The library opens an hour earlier.", COATS),
    CorrectionView(
        date(2026, 11, 23),
        CorrectionKind.CORRECTION,
        "An earlier version gave the wrong closing time.",
        COATS,
    ),
)

PAGES_OF_THREE = Paging(
    2,
    3,
    (Ref("1", "counties/tidewick/"), Ref("2", "counties/tidewick/2/"), Ref("3", "counties/tidewick/3/")),
)

STORY = StoryPage(
    frame=FULL_FRAME,
    address=COATS.address,
    headline=COATS.label,
    summary="The Friends of Millrace Library fill the coat closet again, and want twice last year’s.",
    language="en-US",
    aired=at(2026, 11, 21, 18, 30),
    town="Millrace",
    counties=(TIDEWICK, PELLAM),
    reporter="Ada Quill",
    topics=(Ref("clothing", "topics/clothing/"), Ref("libraries", "topics/libraries/")),
    sponsored_by="Merrow Credit Union",
    photo=PHOTO,
    video=VIDEO,
    video_waits=False,
    asks=(BRING, GO, TUNE_IN, GIVE, VOLUNTEER, BARE_ASK),
    help=(HELP,),
    ended=ENDED,
    had_listing=True,
    listing=(PARADE, OPEN_ENDED, DAY_LONG, CALLED_OFF),
    some_ended=True,
    body=BODY,
    corrections=CORRECTIONS,
    follows=Ref("The coat closet’s first winter", "stories/2025/coat-closet/"),
    followed_by=(Ref("What became of the coats", "stories/2027/coat-closet/"),),
    episodes=(Ref("Coats, carols and a hundredth birthday", "episodes/2026-11-21/"),),
    share=ShareView(BRING_LINE),
    translations=(("es", Ref("Una biblioteca pide 400 abrigos", "stories/2026/abrigos/", "es")),),
    passed_on=(("coat", Ref("What became of the coats", "stories/2027/coat-closet/")),),
    said_on_air="coats/",
    from_county=TIDEWICK,
)
BARE_STORY_PAGE = StoryPage(
    frame=BARE_FRAME,
    address="stories/2024/otter/",
    headline="An otter comes home",
    summary="",
    language="en-US",
    aired=Moment("2024-05-05T00:00:00-04:00", date(2024, 5, 5)),
    town="",
    counties=(BEYOND,),
    reporter="",
    topics=(),
    sponsored_by="",
    photo=None,
    video=None,
    video_waits=False,
    asks=(),
    help=(),
    ended=(),
    had_listing=False,
    listing=(),
    some_ended=False,
    body=Body(""),
    corrections=(),
    follows=None,
    followed_by=(),
    episodes=(),
)


# --- maps --------------------------------------------------------------------------------------

MAP = MapView(
    720,
    400,
    22,
    46,
    (
        MapArea(
            1,
            TIDEWICK.address,
            "m4 4 356 0 0 392-356 0z",
            Label("Tidewick", 180, 200, "middle", 118, 186, 125, 28),
            True,
            Label("1", 180, 200, "middle", 163, 172, 34, 57),
        ),
        MapArea(
            2,
            PELLAM.address,
            "m360 4 20 0 0 392-20 0z",
            Label("2", 370, 200, "middle", 362, 186, 17, 28),
            False,
            None,
        ),
    ),
)
OUTLINE = OutlineView(200, 110, "m100 4 96 0 0 102-96 0z", "m4 4 96 0 0 102-96 0z", (PELLAM,))
LOCATOR = LocatorView(
    320,
    300,
    21,
    "m4 4 312 0 0 292-312 0z",
    90,
    60,
    (
        TownMark(True, 160, 150, Label("Port Tidewick", 160, 178, "middle", 64, 165, 193, 27)),
        TownMark(False, 90, 60, None),
        TownMark(False, 200, 280, Label("Sallow", 216, 280, "start", 216, 267, 90, 27)),
    ),
    "Port Tidewick",
    "nw",
)

CHANGES = (
    ("2026-12-13T00:00:00-05:00", 3),
    ("2026-12-16T00:00:00-05:00", 1),
    ("2026-12-19T00:00:00-05:00", 0),
    ("2027-01-06T00:00:00-05:00", None),
)
"""A count that grows, shrinks, comes to nothing and is then no longer known."""

PLACES_FILE = PlacesFile(
    "data/places.json",
    (TIDEWICK, PELLAM),
    (
        FinderTown("Millrace", 0, 34.7, -60.5, ("SC-104", "SC-105")),
        FinderTown("Pellam Cross", 1, None, None, ()),
    ),
    (
        replace(BRING, places=(), stopped_places=()),
        replace(GO, places=(), stopped_places=()),
        replace(HELP, places=(), stopped_places=()),
    ),
    (
        FinderPlace(
            LIBRARY,
            (
                FinderTake(0, "", at(2026, 12, 12, 12)),
                FinderTake(
                    1,
                    "2026-11-27T00:00:00-05:00",
                    at(2026, 12, 26, 22),
                    EVENINGS,
                    (date(2026, 12, 24),),
                    (),
                    EVENINGS,
                ),
            ),
        ),
        FinderPlace(BARE_PLACE, (FinderTake(0, "2026-12-01T00:00:00-05:00", whole_day(2026, 12, 15)),)),
    ),
    (FinderPlace(REFUGE, (FinderTake(2, "", at(2026, 12, 18, 12)),)),),
    "county",
)


SEARCH = SearchFile(
    "data/search.json",
    "en-US",
    (TIDEWICK, PELLAM, Ref("", "counties/beyond/")),
    (
        SearchStory(
            id="2026/coat-closet",
            headline=COATS.label,
            language="",
            aired=date(2026, 11, 21),
            town="Millrace",
            counties=(0, 2),
            named=("Millrace", "Tidewick", "clothing"),
            record=b"coats",
            asks=(
                SearchAsk(
                    Kind.BRING,
                    "Bring a winter coat",
                    "ask-coat",
                    AskTiming(
                        at(2026, 11, 28, 9), (), whole_day(2026, 12, 15), None, at(2026, 12, 12, 12), 2
                    ),
                ),
                SearchAsk(
                    Kind.GET_HELP,
                    "Take a coat",
                    "ask-take",
                    AskTiming(None, (), None, at(2027, 1, 1, 9), None),
                ),
            ),
        ),
    ),
).with_texts(lambda story: SearchTexts(COATS.label, "The closet fills again.", "Coats hang in the hall."))


def sample_pages() -> dict[str, Page]:
    """A name for each model: the kind of page, and `full`, `bare` or what is special about it."""
    f, b = FULL_FRAME, BARE_FRAME
    takes = ((BRING_LINE, at(2026, 12, 12, 12)), (ONGOING_LINE, whole_day(2027, 1, 5)))
    library, station = (
        PlaceTakes(LIBRARY, takes),
        PlaceTakes(BARE_PLACE, ((BRING_LINE, whole_day(2026, 12, 15)),)),
    )
    listed = (
        FindCounty(
            TIDEWICK,
            (FindTown("Millrace", ("SC-104", "SC-105"), (library,), "in-tidewick-millrace"),),
            "in-tidewick",
        ),
        FindCounty(
            PELLAM, (FindTown("Pellam Cross", (), (station,), "in-pellam-pellam-cross"),), "in-pellam"
        ),
    )
    index = (
        FindIndex(
            TIDEWICK,
            "find/#in-tidewick",
            (TownRef("Millrace", ("SC-104", "SC-105"), "find/#in-tidewick-millrace", whole_day(2027, 1, 5)),),
        ),
        FindIndex(
            PELLAM,
            "find/#in-pellam",
            (TownRef("Pellam Cross", (), "find/#in-pellam-pellam-cross", whole_day(2026, 12, 15)),),
        ),
    )
    words = (Ref("coats", "coats/"), Ref("lights", "lights/"))
    return {
        "home-full": HomePage(
            frame=f,
            address="",
            closing_next=(BRING_LINE, GIVE_LINE),
            open_now=(GO_LINE, ONGOING_LINE),
            more=12,
            coming=(GO_LINE,),
            help_count=2,
            episode=Ref("Coats, carols and a hundredth birthday", "episodes/2026-11-21/"),
            episode_aired=at(2026, 11, 21, 18, 30),
            episode_stories=(COAT_STORY,),
            latest=(BARE_STORY, COAT_STORY),
            counties=(Counted(TIDEWICK, 2, CHANGES), Counted(PELLAM, 1)),
            map=MAP,
            tongues=(SPANISH,),
            help_then=CHANGES,
        ),
        "home-bare": HomePage(b, "", (), (), 0, (), 0, None, None, (), (), ()),
        "county-full": CountyPage(
            frame=f,
            address="counties/tidewick/2/",
            name="Tidewick",
            seat="Port Tidewick",
            paging=PAGES_OF_THREE,
            open_now=(BRING_LINE, GIVE_LINE),
            help=(HELP_LINE,),
            coming=(GO_LINE,),
            listing=(PARADE, CALLED_OFF),
            places=(library, station),
            archive=(COAT_STORY, BARE_STORY),
            years=(Counted(Ref("2025", "counties/tidewick/2025/"), 14),),
            outline=OUTLINE,
        ),
        "county-bare": CountyPage(b, "counties/pellam/", "Pellam", "", Paging(), (), (), (), (), (), (), ()),
        "county-beyond": CountyPage(
            f, "counties/beyond/", "", "", Paging(), (), (), (), (), (), (COAT_STORY,), ()
        ),
        "story-list-year": StoryListPage(
            f,
            "archive/2026/",
            "year",
            "",
            2026,
            Ref("Archive", "archive/"),
            PAGES_OF_THREE,
            (COAT_STORY, BARE_STORY),
        ),
        "story-list-county-year": StoryListPage(
            f, "counties/tidewick/2025/", "county year", "Tidewick", 2025, TIDEWICK, Paging(), (COAT_STORY,)
        ),
        "story-list-topic": StoryListPage(
            f,
            "topics/clothing/",
            "topic",
            "clothing",
            None,
            Ref("Topics", "topics/"),
            Paging(),
            (COAT_STORY,),
            (Counted(Ref("2025", "topics/clothing/2025/"), 1),),
        ),
        "story-list-topic-year": StoryListPage(
            f,
            "topics/clothing/2025/",
            "topic year",
            "clothing",
            2025,
            Ref("clothing", "topics/clothing/"),
            Paging(),
            (COAT_STORY,),
        ),
        # In a language that the theme has no words of.
        "story-list-language": StoryListPage(
            f,
            "archive/vi/",
            "language",
            "vi",
            None,
            Ref("", "archive/"),
            Paging(),
            (COAT_STORY,),
            (Counted(Ref("2025", "archive/vi/2025/"), 31),),
        ),
        "story-list-language-year": StoryListPage(
            f,
            "archive/vi/2025/",
            "language year",
            "vi",
            2025,
            Ref("vi", "archive/vi/"),
            Paging(),
            (COAT_STORY,),
        ),
        "story-list-bare": StoryListPage(
            b, "archive/2020/", "year", "", 2020, Ref("Archive", "archive/"), Paging(), ()
        ),
        **{
            f"index-{kind}": IndexPage(
                f,
                f"{kind}/",
                kind,
                Paging(),
                (
                    IndexGroup("", (Counted(TIDEWICK, 1, CHANGES),)),
                    IndexGroup("2026", (Counted(PELLAM, 1234),)),
                ),
            )
            for kind in ("counties", "archive", "topics", "episodes", "places")
        },
        "index-map": IndexPage(
            f,
            "counties/",
            "counties",
            Paging(),
            (IndexGroup("", (Counted(TIDEWICK, 1), Counted(PELLAM, 0))),),
            MAP,
        ),
        "index-search": IndexPage(
            f,
            "archive/",
            "archive",
            Paging(),
            (IndexGroup("", (Counted(Ref("2026", "archive/2026/"), 1),)),),
            search=SearchView("data/search.json", SEARCH.counties),
            tongues=(SPANISH, Ref("vi", "archive/vi/")),
        ),
        "index-bare": IndexPage(b, "topics/", "topics", Paging(), ()),
        "get-help-full": GetHelpPage(
            f,
            "get-help/",
            PAGES_OF_THREE,
            (
                HelpCounty(
                    TIDEWICK,
                    (
                        HelpTown("Port Tidewick", (HELP,)),
                        HelpTown("", (replace(HELP, places=()),)),
                        HelpTown("", (HELP,), elsewhere=True),
                    ),
                ),
                HelpCounty(PELLAM, (HelpTown("Pellam Cross", (replace(HELP, contact=None),)),)),
            ),
        ),
        "get-help-bare": GetHelpPage(b, "get-help/", Paging(), ()),
        "get-help-empty": GetHelpPage(f, "get-help/", Paging(), ()),
        "find-full": FindPage(f, "find/", Paging(), listed, PLACES_FILE, None, index),
        "find-divided": FindPage(
            f,
            "find/",
            Paging(),
            (),
            PLACES_FILE,
            None,
            tuple(
                replace(
                    each,
                    address=each.county.address.replace("counties/", "find/"),
                    towns=tuple(
                        replace(
                            town,
                            address=town.address.replace(
                                "find/", each.county.address.replace("counties/", "find/")
                            ),
                        )
                        for town in each.towns
                    ),
                )
                for each in index
            ),
        ),
        "find-county": FindPage(f, "find/tidewick/", PAGES_OF_THREE, listed[:1], None, TIDEWICK),
        "find-beyond": FindPage(f, "find/beyond/", Paging(), listed[1:], None, replace(BEYOND, label="")),
        "find-bare": FindPage(b, "find/", Paging(), ()),
        "deadlines-full": DeadlinesPage(
            f,
            "deadlines/",
            PAGES_OF_THREE,
            (
                DeadlineMonth(date(2026, 12, 1), (BRING_LINE, GIVE_LINE)),
                DeadlineMonth(date(2027, 1, 1), (replace(GO_LINE, opens=None, standing=Standing("open")),)),
            ),
            (ONGOING_LINE,),
            (GO_LINE,),
        ),
        "deadlines-bare": DeadlinesPage(b, "deadlines/", Paging(), (), (), ()),
        "story-full": STORY,
        "story-bare": BARE_STORY_PAGE,
        "story-waits": replace(
            STORY, video=None, video_waits=True, listing=(), address="stories/2026/waits/"
        ),
        "story-spanish": replace(
            STORY,
            address="stories/2026/abrigos/",
            language="es",
            headline="Un armario de la biblioteca pide 400 abrigos",
            summary="Los amigos de la biblioteca llenan otra vez el armario.",
            asks=(replace(BRING, title="Lleve un abrigo"), GO, GIVE),
            tongue=SPANISH,
        ),
        "story-unspoken": replace(
            STORY,
            address="stories/2026/gwisg/",
            language="cy",
            headline="Cotiau i bawb",
            tongue=Ref("cy", "archive/cy/"),
        ),
        "withdrawn": WithdrawnPage(
            f, "stories/2025/ferry-raffle/", date(2025, 9, 8), "The raffle was not ours to announce."
        ),
        "withdrawn-bare": WithdrawnPage(b, "stories/2025/x/", date(2025, 9, 8), "Withdrawn."),
        "episode-full": EpisodePage(
            frame=f,
            address="episodes/2026-11-21/",
            title="Coats, carols and a hundredth birthday",
            aired=at(2026, 11, 21, 18, 30),
            repeats=(at(2026, 11, 22, 9), at(2026, 11, 23, 12)),
            video=VIDEO,
            video_waits=False,
            some_ended=True,
            rundown=(RundownLine(COAT_STORY, 35, 35), RundownLine(BARE_STORY, None, None)),
            body=BODY,
        ),
        "episode-waits": EpisodePage(
            f,
            "episodes/2026-11-28/",
            "",
            at(2026, 11, 28, 18, 30),
            (),
            None,
            True,
            False,
            (RundownLine(COAT_STORY, 3700, None),),
            Body(""),
        ),
        "episode-bare": EpisodePage(
            b,
            "episodes/2024-05-05/",
            "",
            Moment("2024-05-05T00:00:00-04:00", date(2024, 5, 5)),
            (),
            None,
            False,
            False,
            (),
            Body(""),
        ),
        "episode-bare-video": EpisodePage(
            b,
            "episodes/2024-05-12/",
            "Otters",
            at(2024, 5, 12, 18, 30),
            (),
            BARE_VIDEO,
            False,
            False,
            (),
            Body(""),
        ),
        "place-full": PlacePage(
            f,
            LIBRARY.page,
            LIBRARY.name,
            LIBRARY.town,
            TIDEWICK,
            LIBRARY,
            takes,
            ((HELP_LINE, at(2026, 12, 18, 12)),),
            LOCATOR,
        ),
        "place-town": PlacePage(
            f,
            LIBRARY.page,
            LIBRARY.name,
            LIBRARY.town,
            TIDEWICK,
            replace(LIBRARY, position_is_towns=True),
            takes,
            (),
            replace(LOCATOR, direction="in", towns=LOCATOR.towns[:1]),
        ),
        "place-bare": PlacePage(
            b, "places/quay-bakery/", "Quay Bakery", "Port Tidewick", TIDEWICK, None, (), ()
        ),
        "place-withheld": PlacePage(
            f, "places/refuge/", "The Refuge", "Millrace", TIDEWICK, REFUGE, takes[:1], ()
        ),
        "lead": LeadPage(f, "coats/", COATS, "coats"),
        "lead-bare": LeadPage(b, "old/coats/", COATS),
        "text-full": TextPage(
            f,
            "corrections/",
            "Corrections",
            "How we correct what we said.",
            "en-US",
            BODY,
            CORRECTIONS,
            PAGES_OF_THREE,
        ),
        "text-spanish": TextPage(
            f, "ayuda/", "Ayuda", "Cómo pedir ayuda.", "es", Body("Llame."), (), Paging()
        ),
        "text-bare": TextPage(b, "about/", "About us", "", "en-US", Body(""), (), Paging()),
        "not-found-full": NotFoundPage(f, "404.html", "/small-wonders/", words),
        "not-found-bare": NotFoundPage(b, "404.html", "/", ()),
    }


def sample_files() -> dict[str, SitemapFile | RobotsFile | SecurityFile]:
    base = "https://www.example.org/small-wonders/"
    return {
        "sitemap": SitemapFile(
            "sitemap.xml", base, (("", ""), (COATS.address, "2026-11-23T05:00:00Z"), ("topics/a&b/", ""))
        ),
        "robots": RobotsFile("robots.txt", f"{base}sitemap.xml"),
        "security": SecurityFile(
            ".well-known/security.txt",
            "mailto:security@example.org",
            datetime(2027, 11, 2, 4, tzinfo=UTC),
            "https://www.example.org/.well-known/security.txt",
        ),
    }
