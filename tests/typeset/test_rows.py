"""What lists say of asks, wherever they stand: on home, on its county's page, among the deadlines, at its place, in the finder."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.site.content import read_content
from tests.samples.outlet_files import Outlets
from tests.samples.search_reader import SearchReader
from tests.samples.station_folder import asking, story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)
WITH_ROWS = (
    "index.html",
    "counties/heron-flats/index.html",
    "deadlines/index.html",
    "find/index.html",
    "places/lowgate-hall/index.html",
)


def told(root: Path, now: datetime = NOW) -> tuple[dict[str, str], dict[str, bytes]]:
    """The words of each page, and the files."""
    room = read_content(root).newsroom
    assert room is not None
    outlets = Outlets(room)
    edition = outlets.edition(now)
    words = {
        path: " ".join(BeautifulSoup(data, "html5lib").get_text().split())
        for path, data in outlets.pages(edition).items()
    }
    return words, outlets.files(edition)


@pytest.mark.parametrize("hours", ['hours: "Mo-Su 17:30-22:00"\n', ""])
def test_a_row_of_an_event_says_its_closed_days_that_lie_ahead(tmp_path: Path, hours: str) -> None:
    more = f"dates: 2026-11-27..2026-12-26\n{hours}closed: [2026-11-30, 2026-12-24, 2026-12-25]"
    root = write_folder(tmp_path, {"stories/2026/a.md": story(asking("go", "See the lights", more))})
    pages, files = told(root)
    for path in WITH_ROWS:
        assert "See the lights" in pages[path] and "Nov. 30" not in pages[path]
        assert "Closed Thursday, Dec. 24 and Friday, Dec. 25" in pages[path], path
    (place,) = json.loads(files["data/places.json"])["places"]
    assert place["takes"][0][5].endswith("Closed Thursday, Dec.\xa024 and Friday, Dec.\xa025")
    if hours:
        later, _ = told(root, datetime(2026, 12, 25, 17, tzinfo=UTC))
        for path in WITH_ROWS:
            assert "Closed Friday, Dec. 25" in later[path], path


def test_the_day_of_checking_again_is_nowhere_a_last_chance(tmp_path: Path) -> None:
    """Lowgate Hall shuts on Friday; the ask, which has no closing date, is to be checked by Sunday."""
    more = "deadline: ongoing\ncheck_again_by: 2026-12-13"
    root = write_folder(tmp_path, {"stories/2026/a.md": story(asking(more=more))})
    shown = (*WITH_ROWS, "stories/2026/a/index.html")
    for now in (NOW, datetime(2026, 12, 13, 17, tzinfo=UTC)):
        pages, _ = told(root, now)
        for path in shown:
            assert "Bring a coat" in pages[path] and "Lowgate" in pages[path], path
            assert "Last chance" not in pages[path], path
            assert "No place is open for this any more" not in pages[path], path


TOWER = """asks:
  - title: Climb the tower
    kind: go
    dates: [2026-12-11, 2026-12-12]
    hours: "Fr-Sa 18:00-20:00"
    stopped: {when: STOP, say: "The stairs are wet", instead: "Watch at home"}
    where: [lowgate-hall]
  - title: Bring a coat
    kind: bring
    deadline: 2026-12-04
    where: [lowgate-hall]
"""


def test_an_event_that_its_stop_leaves_nothing_of_is_called_off_at_once(tmp_path: Path) -> None:
    root = write_folder(tmp_path, {"stories/2026/a.md": story(TOWER.replace("STOP", "2026-12-03 09:00"))})
    pages, files = told(root)
    assert (
        "Climb the tower: called off. The stairs are wet. Watch at home."
        in pages["stories/2026/a/index.html"]
    )
    for path in WITH_ROWS:
        assert "Bring a coat" in pages[path] and "tower" not in pages[path], path
    for path in ("data/asks.json", "data/places.json", "feed.atom"):
        assert b"Bring a coat" in files[path] and b"tower" not in files[path], path
    # Copies in people's calendars go at once, too, and do not come back with the day that is written.
    assert b"STATUS:CANCELLED" in files["deadlines.ics"]
    later, now = told(root, datetime(2026, 12, 3, 17, tzinfo=UTC))
    assert "Climb the tower: stopped Dec. 3, 2026. The stairs" in later["stories/2026/a/index.html"]
    assert now["deadlines.ics"] == files["deadlines.ics"]


def test_an_event_that_is_stopped_later_is_told_as_far_as_it_goes(tmp_path: Path) -> None:
    root = write_folder(tmp_path, {"stories/2026/a.md": story(TOWER.replace("STOP", "2026-12-12 09:00"))})
    pages, files = told(root)
    for path in (*WITH_ROWS, "stories/2026/a/index.html"):
        assert "Friday, Dec. 11" in pages[path] and "Dec. 12" not in pages[path], path
        assert "No place is open for this any more" not in pages[path]
    asks = {ask["title"]: ask for ask in json.loads(files["data/asks.json"])["asks"]}
    tower = asks["Climb the tower"]
    assert tower["closes"] == tower["dates"][-1]["ends"] == tower["places"][0]["last_chance"]
    assert tower["closes"] == "2026-12-11T20:00:00-05:00" and len(tower["dates"]) == 1
    assert b"20261212T180000" not in files["deadlines.ics"]
    # Once that night is over the rest is off, though the day that is written lies ahead.
    over, _ = told(root, datetime(2026, 12, 12, 2, tzinfo=UTC))
    assert "Climb the tower: called off. The stairs are wet." in over["stories/2026/a/index.html"]


def test_deadlines_lead_to_those_of_help_and_do_not_deny_them(tmp_path: Path) -> None:
    help_ = asking("get help", "A bed for the night")
    root = write_folder(tmp_path, {"stories/2026/a.md": story(help_)})
    room = read_content(root).newsroom
    assert room is not None
    outlets = Outlets(room)
    edition = outlets.edition(NOW)
    assert b"A bed for the night" in outlets.files(edition)["deadlines.ics"]
    pages = outlets.pages(edition)
    for path in ("index.html", "deadlines/index.html"):
        main = BeautifulSoup(pages[path], "html5lib").select_one("main")
        assert main is not None
        said = [" ".join(line.get_text().split()) for line in main.select("p")]
        denied = [line for line in said if "nothing with a closing date" in line.lower()]
        assert len(denied) == 1 and denied[0].startswith("Apart from offers of help,"), path
    led = BeautifulSoup(pages["deadlines/index.html"], "html5lib").select('main p a[href="../get-help/"]')
    assert [link.get_text() for link in led] == ["Get help"]
    # They are told of where something else is listed, too.
    both = write_folder(
        tmp_path / "both", {"stories/2026/a.md": story(asking()), "stories/2026/b.md": story(help_)}
    )
    assert "Offers of help are listed apart, under Get help" in told(both)[0]["deadlines/index.html"]


SHUT_EARLY = """asks:
  - title: Bring a book
    kind: bring
    deadline: 2026-12-13
    where: [{name: Harbor Barge, street: 1 Quay, town: Lowgate, county: heron-flats, hours: "Sa 10:00-14:00"}]
"""
AFTER_THE_LAST_DOOR = datetime(2026, 12, 12, 20, tzinfo=UTC)
NO_PLACE = "No place is open for this any more"


def test_once_the_last_door_has_shut_every_output_says_so_and_hurries_nobody(tmp_path: Path) -> None:
    root = write_folder(tmp_path, {"stories/2026/a.md": story(SHUT_EARLY)})
    room = read_content(root).newsroom
    assert room is not None
    outlets = Outlets(room)
    for now, is_shut in ((datetime(2026, 12, 12, 15, tzinfo=UTC), False), (AFTER_THE_LAST_DOOR, True)):
        edition = outlets.edition(now)
        pages, files = outlets.pages(edition), outlets.files(edition)
        paths = ["index.html", "counties/heron-flats/index.html", "deadlines/index.html"]
        for path in [*paths, "stories/2026/a/index.html"]:
            page = BeautifulSoup(pages[path], "html5lib")
            counted = page.select("main [data-left]")
            shown = " ".join(each.get_text() for each in page.select("main"))
            assert "Bring a book" in shown, path
            if path in paths or is_shut:
                assert (NO_PLACE in shown) == is_shut, path
            assert ("Last days" in shown) != is_shut, path
            assert bool(counted) != is_shut, path
            # What is said from then on lies ready in a page that stays open.
            if path in paths and not is_shut:
                assert any(NO_PLACE in each["data-then"] for each in page.select("[data-then]")), path
        (ask,) = json.loads(files["data/asks.json"])["asks"]
        assert (ask["standing"] == "open") == is_shut
        assert any(NO_PLACE in line for line in ask["when"]) == is_shut
        calendar = files["deadlines.ics"].replace(b"\r\n ", b"").decode()
        assert (NO_PLACE in calendar) == is_shut
        assert ("BEGIN:VALARM" in calendar) != is_shut, "nothing is left to be reminded of"
        assert (NO_PLACE in files["feed.atom"].decode()) == is_shut
        (found,) = SearchReader(files["data/search.json"], files.__getitem__).cards().values()
        ((*_, lines),) = found[7]
        said = [(line[0], line[2:]) for line in lines[1:]]
        if is_shut:
            assert [words for words, _ in said] == ["No place is open for this any more: ask the organizer"]
        else:
            ((words, (then,)),) = said
            assert "Last chance Saturday" in words and NO_PLACE in then


def test_the_finder_and_the_search_say_the_dates_of_events(tmp_path: Path) -> None:
    go = story(asking("go", "See the lights", 'dates: [2026-12-06, 2026-12-13]\nhours: "Su 12:00-14:00"'))
    watch = """asks:
  - title: Watch at home
    kind: tune in
    dates: [2026-12-18 19:00, 2026-12-24 16:00]
    minutes: 75
"""
    root = write_folder(tmp_path, {"stories/2026/a.md": go, "stories/2026/b.md": story(watch)})
    _, files = told(root)
    (ask,) = json.loads(files["data/places.json"])["asks"]
    assert [(words.replace("\xa0", " "), key, end[:10]) for words, key, end in ask["when"]] == [
        ("Sunday, Dec. 6", "end", "2026-12-07"),
        ("Sunday, Dec. 13", "end", "2026-12-13"),
    ]
    cards = SearchReader(files["data/search.json"], files.__getitem__).cards().values()
    lines = {ask[1]: ask[4] for card in cards for ask in card[7]}
    assert [line[0] for line in lines["See the lights"]] == ["Sunday, Dec. 6, 2026", "Sunday, Dec. 13, 2026"]
    assert lines["Watch at home"] == [
        ["Friday, Dec. 18, 2026, 7 p.m.", "2026-12-18T20:15:00-05:00"],
        ["Thursday, Dec. 24, 2026, 4 p.m.", "2026-12-24T17:15:00-05:00"],
    ]


def test_a_county_has_a_proper_name_in_every_language(tmp_path: Path) -> None:
    spanish = story(asking()).replace("---\n", "---\nlanguage: es\n", 1)
    root = write_folder(tmp_path, {"stories/2026/a.md": spanish})
    room = read_content(root).newsroom
    assert room is not None
    outlets = Outlets(room)
    page = BeautifulSoup(outlets.pages(outlets.edition(NOW))["stories/2026/a/index.html"], "html5lib")
    named = page.select('article[lang="es"] a[href*="counties/heron-flats/"]')
    assert named and not [each for each in named if each.has_attr("lang")]


def test_a_door_shuts_with_what_it_takes_and_not_with_an_event_behind_it(tmp_path: Path) -> None:
    """Beside a drop-off until Thursday, the hall has an evening on Dec. 20 that is no reason to bring anything."""
    event = asking("go", "Hear the choir", 'dates: 2026-12-20\nhours: "Su 19:00-21:00"')
    for asks, shuts in (
        ([asking(more="deadline: 2026-12-10"), event], "2026-12-10T17:00:00-05:00"),
        ([asking(more="deadline: 2026-12-10")], None),
        ([event], None),
    ):
        files = {f"stories/2026/{number}.md": story(each) for number, each in enumerate(asks)}
        room = read_content(write_folder(tmp_path / str(len(asks)) / str(shuts), files)).newsroom
        assert room is not None
        outlets = Outlets(room)
        pages = outlets.pages(outlets.edition(NOW))
        for path in ("counties/heron-flats/index.html", "find/index.html"):
            door = BeautifulSoup(pages[path], "html5lib").select_one(".door")
            assert door is not None
            hours = door.select_one(".hours")
            assert hours is not None and hours.get("data-shuts") == shuts, path
            assert hours.has_attr("data-hours") == (asks != [event]), path


def test_a_row_says_what_will_be_left_of_it(tmp_path: Path) -> None:
    """Of an event and of help that it is over, of what wants checking whom to ask, of a door before its ask that it takes no more."""
    call = "contact: {name: Harbor House, phone: 237-555-0199}\nwho_for: anyone\ncost: free"
    ongoing = asking("get help", "Talk", f"deadline: ongoing\ncheck_again_by: 2026-12-13\n{call}")
    evening = asking("go", "Hear the choir", 'dates: 2026-12-20\nhours: "Su 19:00-21:00"')
    sunday = asking("get help", "Eat with us", f"deadline: 2026-12-13\n{call}")
    files = {
        f"stories/2026/{number}.md": story(each)
        for number, each in enumerate((ongoing, evening, sunday, asking(more="deadline: 2026-12-13")))
    }
    room = read_content(write_folder(tmp_path, files)).newsroom
    assert room is not None
    outlets = Outlets(room)
    pages = outlets.pages(outlets.edition(NOW))
    checking = "not confirmed lately. Check first: Harbor House, 237-555-0199."
    at_door = {
        "Talk": checking,
        "Hear the choir": "has ended.",
        "Eat with us": "has ended.",
        "Bring a coat": "takes no more.",
    }
    county = BeautifulSoup(pages["counties/heron-flats/index.html"], "html5lib")
    page = BeautifulSoup(pages["places/lowgate-hall/index.html"], "html5lib")
    here, there = (
        {row.select(".what a")[0].get_text(): row["data-ended"] for row in rows}
        for rows in (page.select(".tide > li"), county.select(".door .tide > li"))
    )
    # Help is not told of at the county's doors.
    assert here == at_door and there == {
        title: at_door[title] for title in ("Hear the choir", "Bring a coat")
    }
    lists = county.select("ul.tide:not(.door ul) > li")
    said = {row.select(".what a")[0].get_text(): row.get("data-ended") for row in lists}
    assert said == dict.fromkeys(at_door) | {"Talk": checking}
    # The finder's rows are made by its script, of these words: at a door that shuts before its ask ends, and with the ask.
    asks = json.loads(outlets.files(outlets.edition(NOW))["data/places.json"])["asks"]
    assert {ask["title"]: ask["over"] for ask in asks} == {
        "Talk": ["has ended.", checking],
        "Hear the choir": ["has ended."] * 2,
        "Eat with us": ["has ended."] * 2,
        "Bring a coat": ["takes no more.", "has ended."],
    }
