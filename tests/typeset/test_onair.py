"""The sheets and the graphics' words: said as a host says them, in the station's language, help apart and first."""

from __future__ import annotations

import dataclasses
import re
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup
from msgspec import structs

from sitegen.edition.models import Ending, Standing
from sitegen.edition.onair import OnAirPack, on_air_pack
from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Newsroom
from sitegen.proof.pagecheck import check_page, contrast_judge
from sitegen.typeset.dates import NO_BREAK
from sitegen.typeset.graphics import SHAPES, Graphic, lay_out
from sitegen.typeset.onair import SheetSetter, spelled
from sitegen.typeset.theme import ThemeError, load_theme
from tests.samples.station_folder import asking, story, write_folder

ROOT = Path(__file__).parents[2]
NOON = datetime(2026, 12, 2, 17, tzinfo=UTC)


@cache
def demonstration() -> Newsroom:
    newsroom = read_newsroom(ROOT, read_map).newsroom
    assert newsroom is not None
    return newsroom


@cache
def pack(episode: str = "2026-11-21", as_of: datetime = NOON) -> OnAirPack:
    newsroom = demonstration()
    return on_air_pack(newsroom, next(each for each in newsroom.episodes if each.id == episode), as_of)


@cache
def setter(language: str = "en-US") -> SheetSetter:
    return SheetSetter(load_theme(ROOT, "tidetable"), language)


def souped(sheet: bytes) -> Any:
    """A sheet as an independent parser reads it."""
    return BeautifulSoup(sheet, "html5lib")


def text_of(sheet: bytes) -> str:
    said = " ".join(souped(sheet).body.get_text(" ").split())
    return re.sub(r" (?=[.;:,])", "", said)


@pytest.mark.parametrize("language", ["en-US", "es-MX", "cy"])
@pytest.mark.parametrize("episode", ["2026-11-21", "2026-11-28", "2026-12-05", "2024-12-14"])
def test_sheets_pass_every_check_in_every_scenario(episode: str, language: str) -> None:
    sheets = {
        "host.html": setter(language).host(pack(episode)),
        "phones.html": setter(language).phones(pack(episode)),
    }
    judge = contrast_judge(sheets.get)
    for name, sheet in sheets.items():
        assert not check_page(name, sheet, judge).findings


def test_a_sheet_stands_alone() -> None:
    for sheet in (setter().host(pack()), setter().phones(pack())):
        soup = souped(sheet)
        assert [link["href"] for link in soup.find_all("a")] == ["#main"]
        assert not soup.find_all(["script", "link", "img", "iframe"])
        assert "url(" not in soup.style.string and "@import" not in soup.style.string


def test_the_host_reads_dates_and_addresses_aloud() -> None:
    said = text_of(setter().host(pack()))
    assert "Through Tuesday, December 15." in said and "Dec." not in said
    assert "www dot example dot org, slash small dash wonders, slash coats" in said
    assert "C-O-A-T-S" in said
    assert "5 places: Millrace, Port Tidewick, Pellam Cross and Eelmarsh Landing." in said


def test_a_deadline_that_outlives_the_doors_is_said_as_the_last_door() -> None:
    ask = next(ask for story in pack().shown for ask in story.asks if ask.title == "Bring a winter coat")
    early = structs.replace(ask, places=tuple(each for each in ask.places if each.last_chance.day.day < 15))
    assert early.places and all(each.before_close for each in early.places)
    story = dataclasses.replace(pack().shown[0], asks=(early,), events=(None,))
    said = text_of(setter().host(dataclasses.replace(pack(), stories=(story,))))
    assert "Until Saturday, December 12" in said and "December 15" not in said


def test_help_comes_first_on_the_phone_sheet_and_apart_from_giving() -> None:
    soup = souped(setter().phones(pack()))
    first, second, *_ = soup.find_all("section", class_="part")
    kinds = [kind.get_text() for kind in first.find_all(class_="kind")]
    assert kinds and set(kinds) == {"Get help:"}
    assert "Get help:" not in {kind.get_text() for kind in second.find_all(class_="kind")}
    # The number is the first thing in each.
    for tag in first.find_all(class_="tag"):
        assert tag.dl.find("dt").get_text() == "Contact" and "spell" in tag.dl.dd.p["class"]


def test_what_is_over_says_what_to_do_instead_and_gives_no_address() -> None:
    said = text_of(setter().phones(pack()))
    over = said.split("What is over, and what to say")[1]
    assert "Take a kneading shift: stopped November 30, 2026." in over
    assert "that helps most" in over
    assert "Every shift to the end of the season is taken" in over
    later = setter().phones(pack("2026-11-21", datetime(2027, 5, 1, tzinfo=UTC)))
    gone = text_of(later)
    for private in ("237-555-0142", "12 Mill Lane", "coats@example.org"):
        assert private not in gone


def over(episode: str) -> dict[str, str]:
    """What the phone sheet says of each thing that is over, by its title."""
    heading = souped(setter().phones(pack(episode))).find("h2", string="What is over, and what to say")
    lines = (" ".join(line.get_text().split()) for line in heading.parent.find_all("li"))
    asks = [*(ask for each in pack(episode).shown for ask in each.asks), *pack(episode).elsewhere.over]
    return {ask.title: line for line in lines for ask in asks if f"{ask.title}:" in line}


def test_what_is_over_leads_to_something_a_caller_can_use() -> None:
    said = over("2026-11-28")
    assert len(said) > 10
    # Its own words say what to do, or there is a number.
    assert said["Take a kneading shift"].endswith("that helps most.")
    assert said["Give to the chapter-book shelf"].endswith("Check first: Heronsgate Library, 237-555-0163.")
    # What else the story asks for, else an address that can be said.
    assert said["Repair a valve or solder a brace"].endswith(
        "Still open: Bring a brass instrument from the attic."
    )
    assert said["Drive a route"].endswith(
        "What is open in Pellam: www.example.org/small-wonders/counties/pellam"
    )
    for line in said.values():
        assert not re.search(r"What next: [^,]*$", line) and "before you go" not in line


def test_neither_help_nor_money_is_named_in_another_thing_s_place() -> None:
    (shown, *_) = pack().shown
    coat = next(ask for ask in shown.asks if ask.title == "Bring a winter coat")
    ended = structs.replace(coat, standing=Standing("ended"), ending=Ending(coat.closes, "ended"))
    for kept in ("Take a warm coat", "Help refill the coat fund"):
        asks = (ended, next(ask for ask in shown.asks if ask.title == kept))
        alone = dataclasses.replace(shown, asks=asks, events=(None, None))
        assert "Still open" not in text_of(setter().host(dataclasses.replace(pack(), stories=(alone,))))


def test_a_phone_number_is_one_piece_wherever_it_stands() -> None:
    for sheet in (setter().host(pack()), setter().phones(pack())):
        soup = souped(sheet)
        whole = {each.get_text() for each in soup.find_all(class_="number")}
        for each in soup.find_all(class_="number"):
            each.decompose()
        assert any(re.fullmatch(r"237-555-\d+", each) for each in whole)
        assert not re.search(r"\d{3}-\d{3}-\d{4}", soup.body.get_text())


def test_giving_bears_its_cautions_on_both_sheets() -> None:
    for sheet in (setter().host(pack()), setter().phones(pack())):
        soup = souped(sheet)
        gives = [tag for tag in soup.find_all(class_="tag") if tag.find(class_="kind").get_text() == "Give:"]
        assert gives and all(tag.find(class_="care") for tag in gives)


def test_stories_viewers_do_not_find_are_named_and_nothing_more() -> None:
    early = pack("2026-11-28", datetime(2026, 11, 28, tzinfo=UTC))
    host, phones = setter().host(early), setter().phones(early)
    absent = [story for story in early.stories if story.state != "on"]
    assert absent and all(
        story.headline in text_of(host) and story.headline in text_of(phones) for story in absent
    )
    assert "do not send them to the site" in text_of(host)
    hidden = next(each for each in demonstration().stories if each.headline == absent[0].headline)
    assert hidden.say_on_air not in text_of(host).replace(hidden.headline, "").lower().split()
    assert all(hidden.headline != each.story for each in setter().graphics(early))


def test_a_spanish_station_s_sheets_are_spanish() -> None:
    host, phones = text_of(setter("es-MX").host(pack())), text_of(setter("es-MX").phones(pack()))
    assert "Hoja para presentar" in host and "martes 15 de diciembre" in host and "barra coats" in host
    assert "Personas que necesitan ayuda" in phones
    # English stories are marked, so that a screen reader does not speak them in Spanish.
    soup = souped(setter("es-MX").host(pack()))
    assert soup.html["lang"] == "es-MX" and soup.find("h2")["lang"] == "en-US"


def test_a_word_with_hyphens_is_spelled_with_them() -> None:
    assert (spelled("coats/"), spelled("coat-9/")) == ("C-O-A-T-S", "C-O-A-T - 9")


# --- graphics --------------------------------------------------------------------------------


def words(episode: str = "2026-11-21", language: str = "en-US", as_of: datetime = NOON) -> dict[str, Graphic]:
    found = setter(language).graphics(pack(episode, as_of))
    assert len({each.name for each in found}) == len(found)
    return {each.ask: each.graphic for each in found if each.graphic is not None}


def whens(graphic: Graphic) -> list[str]:
    """The wordings of a graphic, those that break only at some spaces as the same with plain ones."""
    return list(dict.fromkeys(said.replace(NO_BREAK, " ") for said in graphic.whens))


def test_every_live_ask_has_graphics_and_no_other() -> None:
    live = [ask.title for story in pack().shown for ask in story.asks if ask.standing.live]
    assert [each.ask for each in setter().graphics(pack())] == live
    assert "Take a kneading shift" not in live


def test_graphics_say_when_and_lead_to_the_story() -> None:
    coats = words()["Bring a winter coat"]
    assert whens(coats)[0] == "Until Tuesday, Dec. 15, 8 p.m."
    assert coats.addresses == ("www.example.org/small-wonders/coats", "www.example.org/small-wonders")
    assert coats.leads_to == "https://www.example.org/small-wonders/coats/"
    assert words()["Take a warm coat"].call == "Call 237-555-0142" and not coats.call


def coats(tmp_path: Path, places: str, as_of: str = "2026-11-20") -> OnAirPack:
    """The pack of an episode with one story, of one ask for coats; the hall is open on weekdays until 5 p.m."""
    asks = asking("bring", more="deadline: 2026-12-13\ncontact: {phone: 237-555-0142}")
    asks = asks.replace("[lowgate-hall]", places)
    files = {
        "episodes/2026-11-21.md": "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/coats}\n---\n",
        "stories/2026/coats.md": story(asks),
    }
    reading = read_newsroom(write_folder(tmp_path, files), read_map)
    assert reading.newsroom is not None and not reading.faults, reading.faults
    return on_air_pack(
        reading.newsroom, reading.newsroom.episodes[0], datetime.fromisoformat(f"{as_of}T12:00Z")
    )


def test_graphics_of_what_no_place_takes_any_more_say_so_and_no_date(tmp_path: Path) -> None:
    # December 11 is a Friday, and the door stays shut on the 12th and 13th.
    found = coats(tmp_path, "[lowgate-hall]", as_of="2026-12-12")
    (named,) = setter().graphics(found)
    assert named.graphic is not None
    assert whens(named.graphic) == ["No place is open for this any more: ask the organizer"]
    assert named.graphic.call == "Call 237-555-0142" and named.graphic.wheres == ()
    for shape in SHAPES:
        said = " ".join(line.words for line in lay_out(named.graphic, shape).lines)
        assert "No place is open for this any more: ask the organizer" in said and "Call 237-555-0142" in said
    # The organizer is who to ask: the host has the number, too.
    assert "No place is open for this any more: ask the organizer. Call 237-555-0142." in text_of(
        setter().host(found)
    )


def test_a_graphic_may_be_shown_until_the_door_that_it_speaks_of_shuts(tmp_path: Path) -> None:
    (named,) = setter().graphics(coats(tmp_path, "[lowgate-hall]"))
    assert named.graphic is not None and whens(named.graphic) == ["Until Friday, Dec. 11, 5 p.m."]
    assert named.until is not None and named.until.iso == "2026-12-11T17:00:00-05:00"


def test_a_full_screen_names_the_one_place_that_viewers_may_be_sent_to(tmp_path: Path) -> None:
    other = "{name: Bakery, town: Lowgate, county: Heron Flats, hours: unknown}"
    hidden = "{name: Safe Haven, town: Lowgate, county: Heron Flats, hours: unknown, address: withheld}"
    cases = {"[lowgate-hall]": "At Lowgate Hall, Lowgate", f"[lowgate-hall, {other}]": "", f"[{hidden}]": ""}
    for number, (places, said) in enumerate(cases.items()):
        (named,) = setter().graphics(coats(tmp_path / str(number), places))
        assert named.graphic is not None and lay_out(named.graphic, "full").where == said


def test_graphics_that_ask_for_money_bear_a_caution_that_always_fits() -> None:
    giving = [
        (name, graphic)
        for language in ("en-US", "es-US")
        for name, graphic in words(language=language).items()
        if name in ("Help refill the coat fund", "Help Otis Brandreth while he heals")
    ]
    assert len(giving) == 4
    for _, graphic in giving:
        for shape in SHAPES:
            long = dataclasses.replace(graphic, what=f"{graphic.what} " * 9)
            assert graphic.call and graphic.call in [line.words for line in lay_out(long, shape).lines]


def test_the_phone_sheet_knows_the_asks_of_other_programmes() -> None:
    found = pack()
    sheet = text_of(setter().phones(found))
    assert found.elsewhere.live
    for ask in found.elsewhere.live:
        assert " ".join(ask.title.split()) in sheet
        for entry in ask.places:
            assert entry.place.name in sheet
    assert not any(ask.title in text_of(setter().host(found)) for ask in found.elsewhere.live)
    # Without a word of its own the site's address is shown, and the code leads to the story's page.
    baker = words()["Help Otis Brandreth while he heals"]
    assert baker.addresses == ("www.example.org/small-wonders",)
    assert baker.leads_to == "https://www.example.org/small-wonders/stories/2026/bakery-oven/"


def test_graphics_of_what_opens_later_say_so_in_every_wording() -> None:
    beagle = words()["Walk a beagle"]
    assert all(said.startswith("Opens Wednesday, Dec. 9") for said in whens(beagle))
    assert "Jan. 31, 2027" in whens(beagle)[0]


def test_graphics_of_an_event_say_its_dates_and_hours() -> None:
    told = words("2026-11-28")
    carols = told["Hear the carols at the mill"]
    dated = "Friday, Dec. 11, 7-8:30 p.m.; Saturday, Dec. 12, 7-8:30 p.m.; Sunday, Dec. 13, 2-3:30 p.m."
    assert whens(carols) == [dated, "Friday, Dec. 11, 7-8:30 p.m. and 2 more dates"]
    # First of all with lines that break between dates.
    lines = [line.words for line in lay_out(carols, "full").lines if line.plate]
    assert len(lines) > 1 and all("Dec." in line for line in lines)
    assert whens(told["See the boiling house lit"]) == ["Friday, Dec. 4, 5-10 p.m."]
    assert told["Talk to someone at Harbor House"].whens == ("No closing date",)


def test_graphics_of_a_long_run_say_its_weekly_hours_and_what_is_closed() -> None:
    boil = words("2026-11-28")["Visit the winter boil"]
    run = "Saturday and Sunday 10 a.m.-4 p.m.; Dec. 5, through Jan. 24, 2027"
    assert whens(boil) == [
        f"{run}; closed Dec. 26 and Dec. 27", f"{run}; closed on some days", "Opens Saturday, Dec. 5, 10 a.m.",
    ]  # fmt: skip
    lights = words(as_of=datetime(2026, 12, 26, 5, tzinfo=UTC))["See the lights"]
    assert whens(lights) == ["Saturday, Dec. 26, 5:30-10 p.m."]


def events(tmp_path: Path, more: str) -> OnAirPack:
    """The pack of an episode with one story, of one event."""
    files = {
        "episodes/2026-11-21.md": "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/saws}\n---\n",
        "stories/2026/saws.md": story(asking("go", "Hear the saws", more)),
    }
    reading = read_newsroom(write_folder(tmp_path / "station", files), read_map)
    assert reading.newsroom is not None and not reading.faults, reading.faults
    return on_air_pack(reading.newsroom, reading.newsroom.episodes[0], datetime(2026, 11, 20, tzinfo=UTC))


SIX = "dates: [2026-12-12 19:00, 2026-12-13 15:00, 2026-12-19 19:00, 2026-12-20 15:00, 2026-12-26 19:00, 2026-12-27 15:00]"


def test_many_dates_are_said_by_the_next_and_never_as_every_day(tmp_path: Path) -> None:
    found = events(tmp_path, SIX)
    (named,) = setter().graphics(found)
    assert named.graphic is not None
    assert whens(named.graphic) == ["Saturday, Dec. 12, 7 p.m. and 5 more dates"]
    # True until the date that it names is over.
    assert named.until is not None and named.until.iso == "2026-12-13T00:00:00-05:00"
    assert "Saturday, December 12, 7 p.m. and 5 more dates." in text_of(setter().host(found))
    # Whoever answers the phone is asked for the others.
    phones = text_of(setter().phones(found))
    for day in ("Saturday, December 12, 7", "Sunday, December 20, 3", "Sunday, December 27, 3"):
        assert day in phones


def test_the_host_says_an_event_s_hour_and_where_it_is() -> None:
    said = text_of(setter().host(pack("2026-11-28")))
    assert "Friday, December 4, 5-10 p.m. At Saltern Works Museum, Saltern." in said
    assert (
        "Saturday and Sunday 10 a.m.-4 p.m.; December 5, through January 24, 2027; closed December 26 and December 27."
        in said
    )
    # A place whose address is given by phone alone is not one to send viewers to.
    assert "At Harbor House" not in said


def test_an_event_by_appointment_says_so(tmp_path: Path) -> None:
    found = events(tmp_path, "dates: 2026-12-12\nhours: by appointment")
    (named,) = setter().graphics(found)
    assert named.graphic is not None and whens(named.graphic) == ["Saturday, Dec. 12; by appointment"]


def test_a_door_s_hours_are_not_told_of_an_event_at_an_hour(tmp_path: Path) -> None:
    unknown = "name: Lowgate Hall\nstreet: 4 Pier Lane\ntown: Lowgate\ncounty: Heron Flats\nhours: unknown\n"
    found = []
    for more in ("dates: 2026-12-12 19:00", "dates: 2026-12-12"):
        events(tmp_path, more)
        write_folder(
            tmp_path / "station",
            {
                "places/lowgate-hall.yaml": unknown,
                "stories/2026/saws.md": story(asking("go", "Hear the saws", more)),
            },
        )
        newsroom = read_newsroom(tmp_path / "station", read_map).newsroom
        assert newsroom is not None
        found.append(text_of(setter().phones(on_air_pack(newsroom, newsroom.episodes[0], NOON))))
    assert "Hours not known" not in found[0]
    # There is no number to call first.
    assert "Hours not known" in found[1] and "call first" not in found[1]


def test_no_graphic_of_the_demonstration_leaves_anything_out() -> None:
    """At every broadcast of three years: each graphic shows a date, the best address and its code, in both shapes.

    Where there is one place, nearly every full screen has room for it.
    """
    seen = places = 0
    without: list[str] = []
    for episode in demonstration().episodes:
        for each in setter().graphics(pack(episode.id, datetime(2024, 1, 1, tzinfo=UTC))):
            assert each.graphic is not None, each.ask
            for shape in SHAPES:
                layout = lay_out(each.graphic, shape)
                seen += 1
                assert layout.code is not None and layout.address == each.graphic.addresses[0], each.ask
                assert not each.graphic.whens or layout.when, (each.ask, each.graphic.whens)
                if shape == "full" and each.graphic.wheres:
                    places += 1
                    without += [] if layout.where else [each.ask]
                assert "…" not in "".join(line.words for line in layout.lines), each.ask
    assert seen > 150
    assert places > 50 and len(without) * 20 <= places, without


def test_a_graphic_speaks_its_story_s_language() -> None:
    letters = words()["Mande una carta o un dibujo"]
    assert whens(letters)[0].startswith("Hasta el ")


def test_names_of_pictures_are_plain_and_sort_as_the_show_runs() -> None:
    names = [each.name for each in setter().graphics(pack())]
    assert names == sorted(names) and names[0] == "01-1-bring-a-winter-coat"
    assert all(len(name) < 60 and name.isascii() for name in names)


def test_a_theme_without_colours_has_no_graphics_and_one_without_sheets_is_told() -> None:
    theme = load_theme(ROOT, "tidetable")
    plain = dataclasses.replace(theme, assets=(("tidetable.css", b"body { color: black }"),))
    assert all(each.graphic is None for each in SheetSetter(plain, "en").graphics(pack()))
    with pytest.raises(ThemeError, match=r"onair-host\.html"):
        SheetSetter(dataclasses.replace(theme, templates=()), "en")
