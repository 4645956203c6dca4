"""The edition as a whole: what is in it, what never is, until when it is true, and how large its pages may grow."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import (
    AskView,
    CountyPage,
    EpisodePage,
    FindPage,
    GetHelpPage,
    HomePage,
    IndexPage,
    NotFoundPage,
    PlacePage,
    Ref,
    StoryListPage,
    StoryPage,
    WithdrawnPage,
)
from sitegen.newsroom.records import County, Newsroom, Station, StationContact, Story, When
from sitegen.site.content import read_content
from tests.counts import tries
from tests.samples.station_folder import asking, story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)


def newsroom(root: Path, files: dict[str, str]) -> Newsroom:
    reading = read_content(write_folder(root, files))
    assert not reading.faults, reading.faults
    assert reading.newsroom is not None
    return reading.newsroom


def pages(room: Newsroom, now: datetime = NOW) -> dict[str, object]:
    return {page.address: page for page in compose_edition(room, now).edition.pages}


def story_page(room: Newsroom, address: str = "stories/2026/a/", now: datetime = NOW) -> StoryPage:
    page = pages(room, now)[address]
    assert isinstance(page, StoryPage)
    return page


def test_ended_ask_keeps_only_its_end(tmp_path: Path) -> None:
    more = "deadline: 2026-11-25\naccepts: [coats]\ncontact: {phone: 237-555-0142}"
    page = story_page(newsroom(tmp_path, {"stories/2026/a.md": story(asking(more=more))}))
    assert not page.asks and page.some_ended
    (over,) = page.ended
    assert over.ending is not None and over.ending.when is not None
    assert (over.ending.when.day, over.ending.when.iso) == (date(2026, 11, 25), "2026-11-26T00:00:00-05:00")
    blank = AskView(over.anchor, over.story, over.kind, over.title, over.standing)
    assert (over.places, over.contact, over.accepts) == (blank.places, blank.contact, blank.accepts)


def test_an_episode_of_which_no_story_is_out_is_nowhere(tmp_path: Path) -> None:
    episode = "---\naired: 2026-11-21 18:30\ntitle: Coats and carols\nrundown: [{story: 2026/a}, {story: 2026/b}]\n---\nIn the rain.\n"
    held = {"stories/2026/a.md": story("hold: true"), "stories/2026/b.md": story("hold: true")}
    room = newsroom(tmp_path, {**held, "episodes/2026-11-21.md": episode})
    assert "episodes/2026-11-21/" not in pages(room)
    assert "Coats and carols" not in repr(pages(room)) and "episodes/2026-11-21/" not in repr(pages(room))
    room = newsroom(tmp_path, {**held, "stories/2026/b.md": story(), "episodes/2026-11-21.md": episode})
    page = pages(room)["episodes/2026-11-21/"]
    assert isinstance(page, EpisodePage) and page.title == "Coats and carols"


def test_an_episode_without_a_rundown_is_there_for_its_words(tmp_path: Path) -> None:
    empty = "---\naired: 2026-11-21 18:30\n---\n"
    room = newsroom(
        tmp_path,
        {
            "episodes/2026-11-21.md": empty,
            "episodes/2026-11-14.md": empty.replace("21", "14", 1) + "Songs.\n",
        },
    )
    found = pages(room)
    assert "episodes/2026-11-14/" in found and "episodes/2026-11-21/" not in found


def test_ask_stands_on_every_county_it_serves(tmp_path: Path) -> None:
    room = newsroom(
        tmp_path, {"stories/2026/a.md": story(asking(more="deadline: 2026-12-15\nhelps: [Gull Bank]"))}
    )
    found = pages(room)
    for key in ("heron-flats", "gull-bank"):
        page = found[f"counties/{key}/"]
        assert isinstance(page, CountyPage)
        assert [line.title for line in page.open_now] == ["Bring a coat"], key


def test_get_help_is_apart_from_giving(tmp_path: Path) -> None:
    room = newsroom(tmp_path, {"stories/2026/a.md": story(asking("get help", "Take a coat"))})
    found = pages(room)
    home, find, help_page, county = (found[a] for a in ("", "find/", "get-help/", "counties/heron-flats/"))
    assert isinstance(home, HomePage) and not home.closing_next and not home.open_now and home.help_count == 1
    assert isinstance(find, FindPage) and not find.counties
    assert isinstance(help_page, GetHelpPage)
    assert [ask.title for ask in help_page.counties[0].towns[0].asks] == ["Take a coat"]
    assert isinstance(county, CountyPage) and county.help and not county.open_now
    page = story_page(room)
    assert page.help and not page.asks


def test_help_in_another_county_is_not_said_to_be_wherever_one_is(tmp_path: Path) -> None:
    more = "deadline: 2026-12-15\nhelps: [Heron Flats, Gull Bank]"
    call = "asks:\n  - {title: Call us, kind: get help, deadline: 2026-12-15, helps: [Gull Bank], contact: {phone: 237-555-0142}}\n"
    room = newsroom(
        tmp_path,
        {
            "stories/2026/a.md": story(asking("get help", "Take a coat", more)),
            "stories/2026/b.md": story(call),
        },
    )
    page = pages(room)["get-help/"]
    assert isinstance(page, GetHelpPage)
    assert [
        (county.county.label, town.town, town.elsewhere, [ask.title for ask in town.asks])
        for county in page.counties
        for town in county.towns
    ] == [
        ("Heron Flats", "Lowgate", False, ["Take a coat"]),
        ("Gull Bank", "", False, ["Call us"]),
        ("Gull Bank", "", True, ["Take a coat"]),
    ]


def test_what_has_ended_leads_on_to_the_county_its_story_is_from(tmp_path: Path) -> None:
    ended = asking(more="deadline: 2026-11-25")
    files = {
        # Its town says which; without one the county that was written first.
        "stories/2026/a.md": story(f"town: Sandy End\n{ended}", county="[Heron Flats, Gull Bank]"),
        "stories/2026/b.md": story(ended, county="[Gull Bank, Heron Flats]"),
        "stories/2026/c.md": story(f"town: Lowgate\n{ended}", county="[Gull Bank, Heron Flats]"),
    }
    room = newsroom(tmp_path, files)
    for name, county in (("a", "Gull Bank"), ("b", "Gull Bank"), ("c", "Heron Flats")):
        page = story_page(room, f"stories/2026/{name}/")
        (over,) = page.ended
        assert over.next_step == page.from_county and page.from_county is not None
        assert page.from_county.label == county


def test_withheld_address_gives_neither_street_nor_position(tmp_path: Path) -> None:
    place = "name: Safe House\nstreet: 9 Hidden Row\npostal_code: HF-9\ntown: Lowgate\ncounty: Heron Flats\nposition: [34.51, -60.52]\nhours: by appointment\naddress: withheld\n"
    files = {
        "places/safe-house.yaml": place,
        "stories/2026/a.md": story(asking("get help").replace("lowgate-hall", "safe-house")),
    }
    edition = compose_edition(newsroom(tmp_path, files), NOW).edition
    whole = repr(edition)
    assert "Safe House" in whole
    assert "Hidden Row" not in whole and "HF-9" not in whole and "34.51" not in whole


def test_place_page_shows_its_door_only_while_something_is_wanted_there(tmp_path: Path) -> None:
    room = newsroom(tmp_path, {"stories/2026/a.md": story(asking())})
    page = pages(room)["places/lowgate-hall/"]
    assert isinstance(page, PlacePage) and page.place is not None and page.place.street
    later = compose_edition(room, datetime(2026, 12, 20, tzinfo=UTC)).edition
    assert "Pier Lane" not in repr(later)
    assert any(isinstance(page, PlacePage) and page.place is None for page in later.pages)


def test_place_that_only_hidden_stories_name_has_no_page(tmp_path: Path) -> None:
    edition = compose_edition(
        newsroom(tmp_path, {"stories/2026/a.md": story("hold: true\n" + asking())}), NOW
    ).edition
    assert "Lowgate Hall" not in repr(edition) and "lowgate-hall" not in repr(edition)


def test_withdrawn_story_leaves_its_notice_and_nothing_else(tmp_path: Path) -> None:
    front = "topics: [birds]\nwithdrawn: {date: 2026-11-25, notice: Gone.}\n" + asking()
    edition = compose_edition(
        newsroom(tmp_path, {"stories/2026/a.md": story(front, "Secretword.")}), NOW
    ).edition
    whole = repr(edition)
    assert "Secretword" not in whole and "A headline" not in whole and "birds" not in whole
    notices = [page for page in edition.pages if isinstance(page, WithdrawnPage)]
    assert [page.notice for page in notices] == ["Gone."]


EPISODE = """---
aired: 2026-11-21 18:30
title: The show
video: {file: https://video.example.org/show.mp4, captions: show.vtt}
rundown:
  - {time: "00:01:00", story: 2026/a}
  - {time: "00:02:00", story: 2026/b}
---
"""
CAPTIONS = "WEBVTT\n\n00:00:01.000 --> 00:00:02.000\nSpokenword of b.\n"


def test_recording_waits_while_one_of_its_stories_may_not_be_heard(tmp_path: Path) -> None:
    from tests.samples.station_folder import STATION

    station = STATION + "media_host: https://video.example.org\n"
    files = {
        "episodes/2026-11-21.md": EPISODE,
        "captions/show.vtt": CAPTIONS,
        "stories/2026/a.md": story(),
        "stories/2026/b.md": story("hold: true"),
    }
    write_folder(tmp_path, files, station)
    reading = read_content(tmp_path)
    assert reading.newsroom is not None and not reading.faults
    edition = compose_edition(reading.newsroom, NOW).edition
    assert "Spokenword" not in repr(edition) and "show.mp4" not in repr(edition) and not edition.assets
    write_folder(tmp_path, {"stories/2026/b.md": story()}, station)
    reading = read_content(tmp_path)
    assert reading.newsroom is not None
    edition = compose_edition(reading.newsroom, NOW).edition
    (episode,) = (page for page in edition.pages if isinstance(page, EpisodePage))
    assert episode.video is not None and "Spokenword" in episode.video.transcript[0].text


def test_held_episode_holds_its_stories(tmp_path: Path) -> None:
    episode = "---\naired: 2026-11-21 18:30\nhold: true\nrundown: [{story: 2026/a}]\n---\n"
    edition = compose_edition(
        newsroom(tmp_path, {"episodes/2026-11-21.md": episode, "stories/2026/a.md": story()}), NOW
    ).edition
    assert "A headline" not in repr(edition) and "2026-11-21" not in repr(edition.pages)


dates = st.dates(date(2026, 11, 1), date(2026, 12, 20))
CHANGING = st.fixed_dictionaries(
    {
        "deadline": dates,
        "starts": st.none() | dates,
        "until": st.none() | dates,
        "embargo": st.none() | dates,
        "correction": st.none() | dates,
        "closed": st.none() | dates,
        "stopped": st.none() | dates,
        "rights": st.none() | dates,
    }
)


@settings(max_examples=tries(40), deadline=None)
@given(first=CHANGING, second=CHANGING, start=dates)
def test_edition_stays_equal_until_its_end_and_differs_at_it(
    first: dict[str, date | None], second: dict[str, date | None], start: date
) -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        files = {
            f"stories/2026/{name}.md": changing_story(each) for name, each in (("a", first), ("b", second))
        }
        reading = read_content(write_folder(Path(folder), files))
    assert not reading.faults and reading.newsroom is not None
    now = datetime(start.year, start.month, start.day, 15, tzinfo=UTC)
    edition = compose_edition(reading.newsroom, now).edition
    steps = 0
    while edition.true_until is not None:
        steps += 1
        assert steps < 60
        before = compose_edition(reading.newsroom, edition.true_until - timedelta(seconds=1)).edition
        assert (before.pages, before.files, before.assets) == (edition.pages, edition.files, edition.assets)
        after = compose_edition(reading.newsroom, edition.true_until).edition
        assert (after.pages, after.files, after.assets) != (edition.pages, edition.files, edition.assets)
        edition = after


def changing_story(each: dict[str, date | None]) -> str:
    front = [f"embargo: {each['embargo']}"] if each["embargo"] else []
    if each["correction"]:
        front.append(f"corrections: [{{date: {each['correction']}, kind: update, text: A change.}}]")
    front += ["asks:", "  - title: Bring a coat", "    kind: bring", f"    deadline: {each['deadline']}"]
    if each["starts"]:
        front.append(f"    starts: {each['starts']}")
    if each["stopped"]:
        front.append(f"    stopped: {{when: {each['stopped']}, say: full}}")
    window = f", until: {each['until']}" if each["until"] else ""
    closed = f", closed: [{each['closed']}]" if each["closed"] else ""
    front.append(f"    drop_off: [{{place: lowgate-hall{window}{closed}}}, lowgate-hall]")
    return story("\n".join(front), aired="2026-10-30")


def many(count: int, per_day: int) -> Newsroom:
    """An archive of stories, `per_day` on each day back from November 2026."""
    station = Station(
        "S", "P", "https://www.example.com/", "America/New_York", "en-US", StationContact(email="a@example.com"),
        (County("Heron Flats", "heron-flats"),),
    )  # fmt: skip
    stories = tuple(
        Story(
            id=f"old/s-{number:05d}",
            headline=f"A headline of the usual length, number {number}",
            aired=When(date(2026, 11, 20) - timedelta(days=number // per_day)),
            counties=("heron-flats",),
            summary="One sentence of summary that says a little more than the headline does.",
            topics=("clothing",),
        )
        for number in range(count)
    )
    return Newsroom(station, stories=tuple(sorted(stories, key=lambda each: each.id)))


def test_no_list_page_of_ten_thousand_stories_is_long() -> None:
    """20 years of one or two a day, and the worst case: all on one day."""
    for per_day in (2, 10_000):
        edition = compose_edition(many(10_000, per_day), NOW).edition
        listed = 0
        for page in edition.pages:
            if isinstance(page, StoryListPage):
                assert len(page.stories) <= 200
                listed += len(page.stories) if page.kind == "year" else 0
            if isinstance(page, CountyPage):
                assert len(page.archive) <= 200
        assert listed == 10_000


def test_range_of_dates_ends_with_its_last_day(tmp_path: Path) -> None:
    more = 'dates: 2026-11-27..2026-12-26\nhours: "Mo-Su 17:30-22:00"'
    page = story_page(newsroom(tmp_path, {"stories/2026/a.md": story(asking("go", "See the lights", more))}))
    (ask,) = page.asks
    (span,) = ask.dates
    assert (span.first.iso, span.first.day) == ("2026-11-27T00:00:00-05:00", date(2026, 11, 27))
    assert (span.last.iso, span.last.day) == ("2026-12-27T00:00:00-05:00", date(2026, 12, 26))
    assert ask.closes is not None and ask.closes.iso == "2026-12-26T22:00:00-05:00"


def test_headline_in_another_language_says_so_wherever_it_is_listed(tmp_path: Path) -> None:
    room = newsroom(
        tmp_path, {"stories/2026/a.md": story("language: es\n" + asking()), "stories/2026/b.md": story()}
    )
    home = pages(room)[""]
    assert isinstance(home, HomePage)
    assert [line.ask.language for line in home.closing_next] == ["es"]
    assert {line.story.address: line.story.language for line in home.latest} == {
        "stories/2026/a/": "es",
        "stories/2026/b/": "",
    }


def test_story_withdrawn_before_it_was_ever_out_leaves_no_notice(tmp_path: Path) -> None:
    front = "embargo: 2026-11-28 06:00\nwithdrawn: {date: 2026-11-25, notice: Secretnotice.}"
    room = newsroom(tmp_path, {"stories/2026/a.md": story(front)})
    for day in (24, 26, 30):
        edition = compose_edition(room, datetime(2026, 11, day, tzinfo=UTC)).edition
        assert "Secretnotice" not in repr(edition) and "stories/2026/a/" not in repr(edition)
        assert edition.true_until is None


def test_story_withdrawn_on_the_day_it_came_out_leaves_its_notice(tmp_path: Path) -> None:
    front = "embargo: 2026-11-25 18:30\nwithdrawn: {date: 2026-11-25, notice: Gone.}"
    edition = compose_edition(newsroom(tmp_path, {"stories/2026/a.md": story(front)}), NOW).edition
    assert [page.notice for page in edition.pages if isinstance(page, WithdrawnPage)] == ["Gone."]


def test_an_episode_without_a_title_is_named_by_its_day_on_the_home_page(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story(),
        "episodes/2026-11-21.md": "---\naired: 2026-11-21 18:30\nrundown: [{story: 2026/a}]\n---\n",
    }
    home = pages(newsroom(tmp_path, files))[""]
    assert isinstance(home, HomePage) and home.episode is not None
    assert home.episode.label == "2026-11-21"


OWN_TERMS = """asks:
  - title: Bring a book
    kind: bring
    starts: 2026-12-07
    deadline: 2026-12-30
    drop_off:
      - {place: lowgate-hall, hours: "Mo-Fr 06:00-10:00", note: Solo por la mañana.}
  - title: Bring a coat
    kind: bring
    deadline: 2026-12-30
    drop_off: [lowgate-hall]
"""
DOOR = """name: Lowgate Hall
street: 4 Pier Lane
town: Lowgate
county: Heron Flats
hours: "Mo-Fr 09:00-17:00"
closed: [2026-12-03, 2026-12-25]
special_hours: {2026-12-04: "09:00-12:00", 2026-12-24: "09:30-12:00"}
note: Ring the bell.
"""


def test_a_place_s_page_says_on_what_terms_it_takes_each_thing(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story("language: es\n" + OWN_TERMS),
        "places/lowgate-hall.yaml": DOOR,
    }
    page = pages(newsroom(tmp_path, files))["places/lowgate-hall/"]
    assert isinstance(page, PlacePage) and page.place is not None
    assert (page.place.note, page.place.ask_note) == ("Ring the bell.", "")
    assert [each.day for each in page.place.special_hours] == [date(2026, 12, 4), date(2026, 12, 24)]
    terms = {line.title: line.terms for line, _ in page.takes}
    assert terms["Bring a coat"] is None
    book = terms["Bring a book"]
    assert book is not None and book.hours is not None and book.hours.text == "Mo-Fr 06:00-10:00"
    assert (book.note, book.language) == ("Solo por la mañana.", "es")
    # Only the days from its beginning on, and only as far as its own hours go.
    assert book.closed == (date(2026, 12, 25),)
    assert [(each.day, each.ranges) for each in book.special_hours] == [(date(2026, 12, 24), ((570, 600),))]


def test_a_note_for_one_ask_keeps_its_story_s_language_everywhere(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story("language: es\n" + OWN_TERMS),
        "places/lowgate-hall.yaml": DOOR,
    }
    made = pages(newsroom(tmp_path, files))
    county = made["counties/heron-flats/"]
    assert isinstance(county, CountyPage)
    said = {each.place.ask_note: (each.place.language, each.place.note) for each in county.places}
    assert said == {"Solo por la mañana.": ("es", "Ring the bell."), "": ("", "Ring the bell.")}
    own = made["stories/2026/a/"]
    assert isinstance(own, StoryPage)
    assert [entry.place.language for ask in own.asks for entry in ask.places] == ["es", ""]


def test_home_counts_all_that_it_leaves_out(tmp_path: Path) -> None:
    coming = "starts: 2026-12-05\ndeadline: 2026-12-30"
    files = {f"stories/2026/c{number:02}.md": story(asking(more=coming)) for number in range(30)}
    files |= {f"stories/2026/o{number:02}.md": story(asking()) for number in range(40)}
    page = pages(newsroom(tmp_path, files))[""]
    assert isinstance(page, HomePage)
    shown = len(page.closing_next) + len(page.open_now) + len(page.coming)
    assert page.more == 70 - shown > 0
    assert page.more_then and page.more_then[-1][1] == 0


def test_the_page_for_the_lost_names_round_ups_with_something_ahead(tmp_path: Path) -> None:
    front = "listing: parades.csv\nsay_on_air: parades"
    for day, expected in (("2026-12-12", ["parades"]), ("2026-11-28", [])):
        files = {
            "stories/2026/a.md": story(front),
            "listings/parades.csv": f"what,town,county,date\nParade,Lowgate,Heron Flats,{day}\n",
        }
        page = pages(newsroom(tmp_path / day, files))["404.html"]
        assert isinstance(page, NotFoundPage)
        assert [each.label for each in page.words] == expected


# --- stories in other languages ------------------------------------------------------------------


def in_language(tag: str, count: int, year: int = 2026) -> dict[str, str]:
    """Stories of a year in one language, each aired on a day of its own."""
    return {
        f"stories/{year}/{tag.lower()}-{number:02d}.md": story(
            f"language: {tag}", aired=f"{year}-{number // 28 + 1:02d}-{number % 28 + 1:02d}"
        )
        for number in range(count)
    }


def tongues(room: Newsroom) -> dict[str, StoryListPage]:
    """The lists of stories in other languages, by address."""
    found = pages(room)
    return {
        address: page
        for address, page in found.items()
        if isinstance(page, StoryListPage) and page.kind.startswith("language")
    }


def test_stories_in_each_other_language_have_a_list_that_lookers_find(tmp_path: Path) -> None:
    files = in_language("es", 2) | in_language("es-MX", 1) | in_language("vi", 1) | in_language("en-GB", 1)
    room = newsroom(tmp_path, files | {"stories/2026/own.md": story()})
    found = tongues(room)
    assert {address: [line.story.address for line in page.stories] for address, page in found.items()} == {
        "archive/es/": ["stories/2026/es-01/", "stories/2026/es-00/", "stories/2026/es-mx-00/"],
        "archive/vi/": ["stories/2026/vi-00/"],
    }
    every = pages(room)
    home, archive = every[""], every["archive/"]
    assert isinstance(home, HomePage) and isinstance(archive, IndexPage)
    assert home.tongues == archive.tongues == (Ref("es", "archive/es/"), Ref("vi", "archive/vi/"))
    named = {
        address: page.tongue.address
        for address, page in every.items()
        if isinstance(page, StoryPage) and page.tongue
    }
    assert named == {
        **{f"stories/2026/{name}/": "archive/es/" for name in ("es-00", "es-01", "es-mx-00")},
        "stories/2026/vi-00/": "archive/vi/",
    }


def test_a_language_of_which_no_story_is_published_has_no_list(tmp_path: Path) -> None:
    files = {
        "stories/2026/held.md": story("language: es\nhold: true"),
        "stories/2026/later.md": story("language: es\nembargo: 2027-06-01"),
        "stories/2026/gone.md": story("language: es\nwithdrawn: {date: 2026-11-22, notice: Taken down}"),
        "stories/2026/own.md": story(),
    }
    room = newsroom(tmp_path, files)
    every = pages(room)
    archive = every["archive/"]
    assert isinstance(archive, IndexPage)
    assert not tongues(room) and archive.tongues == ()
    assert not [address for address in every if address.startswith("archive/es")]


def test_a_long_list_of_a_language_goes_on_by_year(tmp_path: Path) -> None:
    found = tongues(newsroom(tmp_path, in_language("es", 31) | in_language("es", 2, 2025)))
    first = found["archive/es/"]
    assert len(first.stories) == 30 and [each.ref.label for each in first.years] == ["2026", "2025"]
    assert len(found["archive/es/2026/"].stories) == 31 and len(found["archive/es/2025/"].stories) == 2
    assert found["archive/es/2025/"].up.address == "archive/es/"
