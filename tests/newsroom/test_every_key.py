"""Every key of every file a producer writes arrives in its record."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from hashlib import sha256
from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom import asks as asks_module
from sitegen.newsroom import episodes as episodes_module
from sitegen.newsroom import listings as listings_module
from sitegen.newsroom import places as places_module
from sitegen.newsroom import station as station_module
from sitegen.newsroom import stories as stories_module
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.hours import read_hours
from sitegen.newsroom.nodes import Mapping, Node, Scalar, Sequence, compose
from sitegen.newsroom.records import (
    Access,
    Ask,
    Confirmed,
    Contact,
    Correction,
    CorrectionKind,
    County,
    Cue,
    DayHours,
    Goal,
    Hours,
    Kind,
    Link,
    ListingEntry,
    Mode,
    Newsroom,
    Picture,
    Place,
    Position,
    Promise,
    RundownEntry,
    SecurityContact,
    Span,
    Station,
    StationContact,
    StationPage,
    Stop,
    Story,
    Town,
    When,
    Withdrawn,
)
from tests.newsroom import whole_station as whole


@pytest.fixture(scope="module")
def newsroom(tmp_path_factory: pytest.TempPathFactory) -> Newsroom:
    reading = read_newsroom(whole.write_whole(tmp_path_factory.mktemp("whole")), read_map)
    assert [finding.check for finding in reading.findings] == ["photo-air-only"]
    assert reading.newsroom is not None
    return reading.newsroom


def hours(text: str) -> Hours:
    found = read_hours(text).hours
    assert found is not None
    return found


def story(newsroom: Newsroom) -> Story:
    return next(each for each in newsroom.stories if each.id == "2026/coat-closet")


def ask(newsroom: Newsroom, number: int) -> Ask:
    return story(newsroom).asks[number]


LIBRARY = Place(
    id="millrace-library",
    name="Millrace Library",
    town="Millrace",
    county="tidewick-shore",
    hours=Hours(Mode.UNKNOWN),
    street="2 Pier Lane",
    postal_code="07",
    position=Position(34.71, -60.51),
    closed=(date(2026, 11, 26), date(2026, 12, 25)),
    special_hours=(
        DayHours(date(2026, 12, 12), ((480, 720), (1320, 1500))),
        DayHours(date(2026, 12, 24), ((540, 720),)),
    ),
    step_free=Access.YES,
    transit="Bus 4 to Pier Lane",
    parking="Behind the building",
    drive_up=Access.NO,
    note="Ring the side bell",
    phone="237-555-0142",
    web="https://library.example.org/",
)


def with_hours(place: Place, text: str) -> Place:
    return replace(place, hours=hours(text))


def test_station(newsroom: Newsroom) -> None:
    towns = (Town("Millrace", Position(34.7, -60.5), ("SC-104", "0123")), Town("Sandy End"))
    assert newsroom.station == Station(
        station="Saltmarsh Community Television",
        programme="Small Wonders",
        address="https://www.example.org/small-wonders/",
        time_zone="America/New_York",
        language="en-US",
        contact=StationContact(
            "goodnews@example.org", "237-555-0100", hours("Mo-Fr 09:00-17:00"), "1 Quay Street, Tidewick"
        ),
        counties=(
            County("Tidewick", "tidewick-shore", "Port Tidewick", Position(34.61, -60.42), towns),
            County("Pellam", "pellam"),
        ),
        theme="tidetable",
        last_days=4,
        recheck_days=9,
        area_word="parish",
        media_host="https://video.example.org",
        holidays=(date(2026, 11, 26), date(2026, 12, 25)),
        as_of="2026-12-01 12:00",
        map="counties.geojson",
        security=SecurityContact("mailto:security@example.org", When(date(2027, 11, 1))),
    )
    assert [area.county for area in newsroom.areas] == ["tidewick-shore", "pellam"]


def test_what_station_yaml_need_not_say(tmp_path: Path) -> None:
    least = """station: S
programme: P
address: https://www.example.org
time_zone: Europe/London
language: en
contact: {mail: 1 Quay Street}
counties: [Tidewick]
"""
    (tmp_path / "content").mkdir()
    (tmp_path / "content" / "station.yaml").write_text(least, "utf-8")
    reading = read_newsroom(tmp_path, read_map)
    assert not reading.findings and reading.newsroom is not None
    station = reading.newsroom.station
    assert station.address == "https://www.example.org/"
    assert (station.theme, station.last_days, station.recheck_days, station.area_word) == (
        "tidetable",
        3,
        7,
        "county",
    )
    assert (station.counties, station.as_of, station.map, station.security) == (
        (County("Tidewick", "tidewick"),),
        "",
        "",
        None,
    )
    assert (reading.newsroom.stories, reading.newsroom.places, reading.newsroom.areas) == ((), (), ())


def test_places(newsroom: Newsroom) -> None:
    library, porch = newsroom.places
    assert library == with_hours(LIBRARY, "Mo-Fr 09:00-17:00; 2nd Sa 10:00-12:00")
    assert porch == Place(
        id="oakes-porch",
        name="The Oakes' porch",
        town="Sandy End",
        county="tidewick-shore",
        hours=hours("by appointment"),
        withheld=True,
        home_consent=date(2026, 11, 1),
        is_home=True,
    )


def test_story(newsroom: Newsroom) -> None:
    found = story(newsroom)
    picture = Picture(
        "content/photos/coat-closet.png",
        8,
        4,
        found.photo.picture.digest if found.photo and found.photo.picture else "",
    )
    assert len(picture.digest) == 64
    assert (found.headline, found.summary) == (
        "A library closet wants 400 winter coats",
        "The Friends of Millrace Library fill the coat closet again.",
    )
    assert (found.aired, found.counties, found.town) == (
        When(date(2026, 11, 21)),
        ("tidewick-shore", "pellam"),
        "Millrace",
    )
    assert (found.reporter, found.topics) == ("Ada Quill", ("clothing", "Public Libraries"))
    assert (found.embargo, found.hold) == (When(date(2026, 11, 21), time(18, 30)), False)
    assert (found.say_on_air, found.heard_as) == ("coats", ("coat", "cotes"))
    photo = found.photo
    assert photo is not None
    assert (photo.picture, photo.alt, photo.credit, photo.courtesy) == (
        picture, "Two volunteers hang coats on a rail", "Ada Quill", "The Friends",
    )  # fmt: skip
    assert (photo.air_only, photo.focus, photo.children, photo.consent, photo.rights_end) == (
        True, (0.25, 0.3), True, "form 12", When(date(2027, 1, 31)),
    )  # fmt: skip
    video = found.video
    assert video is not None and video.captions is not None
    assert video.captions.cues == (Cue(1000, 3000, "Coats are warm.", "Ada"),)
    assert video.captions.digest == sha256(whole.CAPTIONS.encode()).hexdigest()
    assert (video.file, video.poster, video.runs, video.described) == (
        "https://video.example.org/coats.mp4", picture, 95, "in the narration",
    )  # fmt: skip
    assert (video.courtesy, video.air_only, video.rights_end, video.web_offset) == (
        "The Friends", False, When(date(2027, 1, 31), time(12)), 0,
    )  # fmt: skip
    assert (found.sponsored_by, found.language) == ("Quay Bakery", "es")
    assert (found.follows, found.translates) == ("2025/coat-closet", "2025/coat-closet")
    assert found.old_addresses == ("old/coats/", "coats-2026/")
    assert found.withdrawn == Withdrawn(date(2026, 12, 24), "Withdrawn at the family's wish.")
    assert found.corrections == (
        Correction(
            date(2026, 11, 23),
            CorrectionKind.CLARIFICATION,
            "An earlier version gave the wrong closing time.",
        ),
        Correction(date(2026, 11, 25), CorrectionKind.UPDATE, "The drive goes on."),
    )
    assert found.body == whole.STORY.split("---\n")[2].strip()
    assert whole.STORY.splitlines()[found.body_line - 1] == found.body
    assert found.links == (
        Link("https://friends.example.org/", found.body_line),
        Link("2025/coat-closet", found.body_line),
    )
    assert found.episodes == ("2026-11-21",)


def test_asks_that_end_by_their_deadline(newsroom: Newsroom) -> None:
    bring = ask(newsroom, 0)
    assert (bring.title, bring.kind, bring.key) == ("Bring a winter coat", Kind.BRING, "coat-drive")
    assert (bring.starts, bring.deadline, bring.ongoing) == (
        When(date(2026, 11, 15)),
        When(date(2026, 12, 15)),
        False,
    )
    assert bring.stopped == Stop(
        When(date(2026, 12, 10), time(15)), "The shelves are full.", "Bring food instead."
    )
    assert (bring.accepts, bring.not_accepted) == (("clean winter coats", "gloves: in pairs"), ("shoes",))
    assert bring.helps == ("pellam", "beyond")
    assert bring.goal == Goal(400, "coats", 120, 210.5, date(2026, 11, 20))
    assert bring.contact == Contact(
        "Friends of Millrace Library", "237-555-0142", "coats@example.org", "https://friends.example.org/",
        "We come by van", "4 Hill Road", ("en", "es"),
    )  # fmt: skip
    assert bring.confirmed == Confirmed(date(2026, 11, 20), "branch manager")
    assert bring.if_too_much == "goes to the spring drive"
    ongoing = ask(newsroom, 1)
    assert (ongoing.ongoing, ongoing.deadline, ongoing.check_again_by) == (
        True,
        None,
        When(date(2027, 1, 15)),
    )
    assert (ongoing.key, ongoing.helps) == (
        "bring-food",
        ("tidewick-shore", "pellam"),
    )  # the title's, the story's
    help_ask, give, volunteer = (ask(newsroom, number) for number in (4, 5, 6))
    assert (help_ask.kind, help_ask.who_for, help_ask.cost, help_ask.bring) == (
        Kind.GET_HELP, "anyone, no papers asked", "free", "nothing",
    )  # fmt: skip
    assert [entry.place.id for entry in help_ask.drop_off] == ["oakes-porch"]
    assert (give.kind, give.deadline) == (Kind.GIVE, When(date(2026, 12, 15), time(17, 30)))
    assert (give.payee, give.goes_to, give.registration, give.if_too_much) == (
        "Friends of Millrace Library", "organization", "12-345", "goes to the spring reading fund",
    )  # fmt: skip
    assert (volunteer.kind, volunteer.bring) == (Kind.VOLUNTEER, "gloves")
    assert [entry.place.id for entry in volunteer.drop_off] == ["millrace-library"]


def test_asks_that_end_by_their_dates(newsroom: Newsroom) -> None:
    lights, airing = ask(newsroom, 2), ask(newsroom, 3)
    evening = When(date(2026, 12, 18), time(19))
    assert lights.dates == (Span(When(date(2026, 11, 27)), When(date(2026, 12, 26))), Span(evening, evening))
    assert (lights.hours, lights.closed, lights.quieter) == (
        hours("Mo-Su 17:30-22:00"), (date(2026, 12, 24),), (0, 1, 2, 3),
    )  # fmt: skip
    assert (lights.cost, lights.bring) == ("free", "a lamp")
    assert (airing.kind, airing.dates, airing.minutes) == (Kind.TUNE_IN, (Span(evening, evening),), 60)


def test_drop_offs(newsroom: Newsroom) -> None:
    plain, referred, inline = ask(newsroom, 0).drop_off
    assert plain.place == newsroom.places[0] and not plain.own_hours
    assert (plain.from_, plain.until, plain.stopped) == (None, None, None)
    # A reference keeps what it does not say, and adds its closed days and special hours to the place's.
    assert referred.place.hours == hours("Mo-Sa 07:00-13:00") and referred.own_hours
    assert referred.place.closed == (date(2026, 11, 26), date(2026, 11, 27), date(2026, 12, 25))
    assert referred.place.special_hours == (
        DayHours(date(2026, 12, 12), ((480, 540),)),
        DayHours(date(2026, 12, 24), ((540, 720),)),
    )
    assert (referred.note, referred.place.note, plain.note) == ("ask inside", "Ring the side bell", "")
    assert (referred.place.id, referred.place.street) == ("millrace-library", "2 Pier Lane")
    assert (referred.from_, referred.until) == (When(date(2026, 11, 18)), When(date(2026, 12, 12), time(13)))
    assert referred.stopped == Stop(When(date(2026, 12, 11)), "Full.")
    assert inline.place == Place(
        id="",
        name="Pellam Fire Station 2",
        town="Pellam Cross",
        county="pellam",
        hours=hours("unknown"),
        street="4 Hill Road",
        postal_code="SC-300",
        position=Position(34.8, -60.2),
        closed=(date(2026, 12, 1),),
        special_hours=(DayHours(date(2026, 12, 2), ()),),
        step_free=Access.NO,
        transit="none",
        parking="In front",
        drive_up=Access.YES,
        note="Ring twice",
        phone="237-555-0143",
        web="https://station.example.org/",
        withheld=True,
        home_consent=date(2026, 11, 2),
        is_home=True,
    )
    assert (inline.from_, inline.until) == (When(date(2026, 11, 19)), When(date(2026, 12, 13)))
    assert inline.stopped == Stop(When(date(2026, 12, 9)), "Moved.", "Go to the library.")


def test_listing(newsroom: Newsroom) -> None:
    band, boats, lanterns = story(newsroom).listing
    day = date(2026, 12, 5)
    assert lanterns == ListingEntry(
        "Lantern parade", "Millrace", "tidewick-shore", day, time(18), time(20, 30), "Pier Lane, north end", "Bring a lamp",
    )  # fmt: skip
    assert (boats.starts, boats.ends, boats.stopped) == (time(17), time(1), Stop(None, "called off"))
    assert (band.county, band.starts, band.ends) == ("pellam", None, None)
    assert band.stopped == Stop(When(date(2026, 12, 3), time(12)), "moved indoors")
    assert [entry.origin.spot.line for entry in (lanterns, boats, band)] == [2, 3, 4]


def test_episode(newsroom: Newsroom) -> None:
    (episode,) = newsroom.episodes
    assert (episode.id, episode.aired) == ("2026-11-21", When(date(2026, 11, 21), time(18, 30)))
    assert episode.repeats == (When(date(2026, 11, 21), time(23)), When(date(2026, 11, 22), time(9)))
    assert (episode.hold, episode.title) == (True, "Coats, carols and a hundredth birthday")
    assert episode.rundown == (RundownEntry("2026/coat-closet", 35), RundownEntry("2025/coat-closet"))
    assert episode.promises == (Promise("the list is on our website", 560, "2026/coat-closet"),)
    video = episode.video
    assert video is not None
    assert (video.web_offset, video.runs, video.described) == (-130, 28 * 60 + 30, "no")
    assert (episode.body, episode.body_line) == (
        "All of it.",
        whole.EPISODE.splitlines().index("All of it.") + 1,
    )


def test_station_page(newsroom: Newsroom) -> None:
    (page,) = newsroom.pages
    assert page == StationPage(
        "about", "About us", "Who we are.", "en-GB", "We tell good news. Write to [us](mailto:goodnews@example.org).", 7,
        links=(Link("mailto:goodnews@example.org", 7),),
    )  # fmt: skip


def test_a_story_takes_its_air_date_from_its_episode(tmp_path: Path) -> None:
    unaired = whole.STORY.replace("aired: 2026-11-21\n", "")
    reading = read_newsroom(whole.write_whole(tmp_path, {"stories/2026/coat-closet.md": unaired}), read_map)
    assert not reading.faults and reading.newsroom is not None
    assert story(reading.newsroom).aired == When(date(2026, 11, 21), time(18, 30))


def test_a_story_takes_its_county_from_its_town(tmp_path: Path) -> None:
    homeless = whole.STORY.replace("county: [Tidewick, Pellam]\n", "")
    reading = read_newsroom(whole.write_whole(tmp_path, {"stories/2026/coat-closet.md": homeless}), read_map)
    assert not reading.faults and reading.newsroom is not None
    assert story(reading.newsroom).counties == ("tidewick-shore",)


# --- the station above leaves no key out -----------------------------------------------------


def keys_of(node: Node) -> set[str]:
    if isinstance(node, Mapping):
        return {key.text for key, _ in node.entries}.union(*(keys_of(value) for _, value in node.entries))
    return set().union(*(keys_of(item) for item in node.items)) if isinstance(node, Sequence) else set()


@pytest.mark.parametrize(
    ("texts", "known"),
    [
        (
            (whole.STATION,),
            station_module.KEYS + station_module.CONTACT_KEYS + station_module.COUNTY_KEYS
            + station_module.TOWN_KEYS + station_module.SECURITY_KEYS,
        ),
        ((whole.PLACE, whole.HOME), places_module.PLACE_KEYS),
        (
            (whole.STORY,),
            stories_module.STORY_KEYS + stories_module.PHOTO_KEYS + stories_module.VIDEO_KEYS
            + stories_module.CORRECTION_KEYS + asks_module.ASK_KEYS + asks_module.GOAL_KEYS
            + asks_module.CONTACT_KEYS + places_module.REFERENCE_KEYS + places_module.PLACE_KEYS + places_module.STOP_KEYS,
        ),
        (
            (whole.EPISODE,),
            episodes_module.EPISODE_KEYS + episodes_module.RUNDOWN_KEYS + episodes_module.PROMISE_KEYS
            + stories_module.VIDEO_KEYS + ("web_offset",),
        ),
        ((whole.PAGE,), episodes_module.PAGE_KEYS),
    ],
    ids=["station", "place", "story", "episode", "page"],
)  # fmt: skip
def test_the_whole_station_has_every_key_the_readers_know(
    texts: tuple[str, ...], known: tuple[str, ...]
) -> None:
    written: set[str] = set()
    for text in texts:
        node, problems = compose(text.split("---\n")[1] if text.startswith("---") else text)
        assert node is not None and not isinstance(node, Scalar) and not problems
        written |= keys_of(node)
    assert not set(known) - written


def test_the_whole_listing_has_every_column() -> None:
    assert tuple(whole.LISTING.splitlines()[0].split(",")) == listings_module.COLUMNS
