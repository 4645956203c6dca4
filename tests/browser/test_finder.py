"""The finder, by keyboard alone, with script and without, and its distances against a geodesic library."""

from __future__ import annotations

import json
import random
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest

from sitegen.clock.openings import Door, openings_on
from sitegen.newsroom.records import Kind
from sitegen.newsroom.times import zone_named
from sitegen.site.content import read_content
from tests.browser.test_present import BUILT, PHONES, phone
from tests.samples.served_site import ROOT

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser, Page


def opened(page: Page, address: str, query: str = "", now: datetime = BUILT) -> None:
    page.clock.set_fixed_time(now)
    page.goto(f"{address}find/{query}")
    page.locator("form[data-ready] #finder-here").wait_for()


def tab_to(page: Page, selector: str) -> None:
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    raise AssertionError(f"no way to {selector} by Tab")


@pytest.mark.browser
def test_a_town_by_keyboard_then_back(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address)
        tab_to(page, "#finder-near")
        page.keyboard.type("SC-104")
        page.keyboard.press("Enter")
        page.wait_for_function("document.activeElement.id === 'finder-results-name'")
        assert "near=SC-104" in searched(page)
        said = page.locator("#finder-said").inner_text()
        assert "Millrace" in said and "straight line" in said
        away = [float(text.split()[0]) for text in page.locator(".away").all_inner_texts()]
        assert len(away) > 5 and away == sorted(away)
        assert not page.locator("#all").is_visible()
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.wait_for_url("**/places/**")
        page.go_back()
        page.locator(".found .door").first.wait_for()
        page.go_back()
        page.wait_for_function("!document.querySelector('#all').hidden")
        assert page.locator("#finder-near").input_value() == ""


def searched(page: Page) -> str:
    """The search in the page's address, without its question mark."""
    return str(page.evaluate("location.search.slice(1)"))


@pytest.mark.browser
def test_filters_narrow_and_stand_in_the_address(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address)
        tab_to(page, "#finder-narrow summary")
        page.keyboard.press("Enter")
        tab_to(page, "[name=what]")
        page.keyboard.type("coat")
        tab_to(page, "[name=step_free]")
        page.keyboard.press("Space")
        # The address is asked of the page: the driver hears of a new one a little later.
        assert {"what=coat", "step_free=1"} <= set(searched(page).split("&"))
        assert page.locator(".found > .door").count() > 0
        for card in page.locator(".found > .door").all():
            assert "coat" in card.inner_text().lower() and "Step-free" in card.inner_text()
        shared = searched(page)
        count = page.locator("#finder-said").inner_text()
    with phone(browser, PHONES[2]) as page:
        opened(page, address, f"?{shared}")
        assert page.locator("#finder-said").inner_text() == count
        page.locator("#finder-clear").press("Enter")
        assert not searched(page) and page.locator("#all").is_visible()


@pytest.mark.browser
def test_help_stands_apart_with_the_phone_first(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?side=help&near=Millrace")
        rows = page.locator(".found .tide > li")
        assert rows.count() > 3
        kinds = set(page.locator(".found .kind").all_text_contents())
        assert kinds == {"Get help:"}
        called = rows.filter(has=page.locator(".tel"))
        assert called.count() and called.first.locator("a").first.get_attribute("class") == "tel"


@pytest.mark.browser
def test_the_readers_position_is_asked_for_on_a_press_and_kept_nowhere(
    browser: Browser, address: str
) -> None:
    spot = {"latitude": 35.02, "longitude": -60.34}
    with phone(browser, PHONES[0], geolocation=spot, permissions=["geolocation"]) as page:
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.add_init_script(
            "const real = navigator.geolocation.getCurrentPosition.bind(navigator.geolocation); window.presses = 0;"
            "navigator.geolocation.getCurrentPosition = (...rest) => { window.presses++; real(...rest); };"
        )
        opened(page, address)
        assert page.evaluate("presses") == 0
        tab_to(page, "#finder-here")
        page.keyboard.press("Enter")
        page.locator(".away").first.wait_for()
        assert page.evaluate("presses") == 1
        assert "35.0" not in searched(page) and not any("60.3" in url for url in asked)
        kept = "[localStorage.length, sessionStorage.length, document.cookie.length, JSON.stringify(history.state)]"
        assert page.evaluate(kept) == [0, 0, 0, "null"]


@pytest.mark.browser
def test_what_is_said_to_be_found_is_what_is_shown(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?near=Millrace")
        said, cards, more = (
            page.locator("#finder-said"),
            page.locator(".found > li"),
            page.locator("#finder-more"),
        )
        while more.is_visible():
            assert f"Shown: {cards.count()}." in said.inner_text()
            before = cards.count()
            more.press("Enter")
            # The reader goes on at the first of the new ones.
            assert cards.nth(before).evaluate("card => card.contains(document.activeElement)")
        assert f"Found: {cards.count()}," in said.inner_text() and "Shown" not in said.inner_text()
        assert cards.count() > 40
        assert said.get_attribute("role") == "status"


@pytest.mark.browser
@pytest.mark.parametrize("query", ["?near=Millrace", "?side=help", "?what=bulb"])
def test_the_count_follows_what_ends(browser: Browser, address: str, query: str) -> None:
    with phone(browser, PHONES[2]) as page:
        page.clock.install(time=BUILT)
        page.goto(f"{address}find/{query}")
        page.locator("form[data-ready]").wait_for()
        for _ in range(6):
            page.clock.fast_forward(4 * 24 * 3600 * 1000)
            page.clock.run_for(60_000)
            while page.locator("#finder-more").is_visible():
                page.locator("#finder-more").click()
            now = page.evaluate("Date.now()")
            ends = page.eval_on_selector_all(
                ".found [data-end]", "all => all.map(e => Date.parse(e.dataset.end))"
            )
            assert all(end > now for end in ends)
            count = page.locator(".found > li:not(.held)").count()
            said = page.locator("#finder-said").inner_text()
            if count:
                assert said.startswith(f"Found: {count}"), said
            else:
                assert said.startswith("Nothing fits") and page.locator("#all").is_visible()
                break


@pytest.mark.browser
def test_events_and_offers_of_help_say_when_they_are_open(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?kind=go")
        rows = page.locator(".found .tide > li")
        said = rows.locator(".now").all_inner_texts()
        assert [words for words in said if words.startswith(("open now", "opens "))]
        # What is said of an event is said beside it, not of the door.
        assert not page.locator(".found .hours .now").count()
        opened(page, address, "?side=help")
        at_doors = page.locator(".found .hours .now").all_inner_texts()
        assert [words for words in at_doors if words.startswith(("open now", "opens "))]


@pytest.mark.browser
def test_an_event_is_open_when_its_dates_and_hours_say_so(
    browser: Browser, address: str, demonstration: Path, chance: random.Random
) -> None:
    """Every event of the finder's data at random moments, against the openings of each of its dates."""
    newsroom = read_content(ROOT).newsroom
    assert newsroom is not None
    zone = zone_named(newsroom.station.time_zone)
    (file,) = demonstration.glob("data/places-*.json")
    data = json.loads(file.read_text("utf-8"))
    written = {f"stories/{story.id}/#ask-{ask.key}": ask for story in newsroom.stories for ask in story.asks}
    cases = []
    for place in data["places"]:
        for number, begins, last, _, *own in place["takes"]:
            ask = written[data["asks"][number]["address"]]
            if ask.kind is not Kind.GO or not own:
                continue
            (entry,) = (each for each in ask.drop_off if each.place.name == place["name"])
            hours = entry.place.hours if entry.own_hours or ask.hours is None else ask.hours
            door = Door(hours, (*entry.place.closed, *ask.closed))
            days = {
                span.first.day + timedelta(days=ahead)
                for span in ask.dates
                for ahead in range((span.last.day - span.first.day).days + 1)
            }
            times = sorted(each for day in days for each in openings_on(door, day, zone))
            for _ in range(60):
                at = chance.choice(times).opens + timedelta(minutes=chance.randrange(-4000, 2000))
                nxt = next((each for each in times if each.closes > at), None)
                cases.append((own[0], at, begins, last, nxt))
    with phone(browser, PHONES[2]) as page:
        page.goto(f"{address}find/")
        got = page.evaluate(
            "cases => cases.map(([code, at, begins, last]) => tidetable.status(code, at, Date.parse(begins), Date.parse(last)))",
            [[code, at.timestamp() * 1000, begins, last] for code, at, begins, last, _ in cases],
        )
    assert len(cases) > 300 and any(found and found["open"] for found in got)
    for (code, at, _, _, nxt), found in zip(cases, got, strict=True):
        is_open = nxt is not None and nxt.opens <= at
        assert bool(found and found["open"]) == is_open, (code, at)
        if found and is_open and nxt:
            assert nxt.closes == at + timedelta(minutes=found["until"]), (code, at)
        elif found:
            assert nxt is not None and nxt.opens == at + timedelta(minutes=found["opens"]), (code, at)


@pytest.mark.browser
def test_an_unknown_spot_is_said_and_the_list_stays(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?near=Nowhere")
        assert "Nowhere" in page.locator("#finder-said").inner_text()
        assert page.locator("#all").is_visible() and not page.locator("#finder-results").is_visible()


@pytest.mark.browser
@pytest.mark.parametrize("typed", ["sc 104", "SC104", "Millrace, SC-104", "millrace"])
def test_a_town_is_known_however_it_is_written(browser: Browser, address: str, typed: str) -> None:
    with phone(browser, PHONES[1]) as page:
        opened(page, address, f"?near={typed}")
        assert "nearest to Millrace" in page.locator("#finder-said").inner_text()


@pytest.mark.browser
@pytest.mark.parametrize(
    ("typed", "county"),
    [("Tidewick", "Tidewick"), ("o’merrow county", "O'Merrow"), ("pena baja", "Peña Baja")],
)
def test_a_county_is_searched_by_its_name(browser: Browser, address: str, typed: str, county: str) -> None:
    with phone(browser, PHONES[1]) as page:
        opened(page, address, f"?near={typed}")
        assert county in page.locator("#finder-said").inner_text().replace("’", "'")
        cards = page.locator(".found > .door").all()
        assert len(cards) > 1
        for card in cards:
            assert f", {county}" in card.inner_text().replace("’", "'")


@pytest.mark.browser
def test_a_code_stays_in_one_piece(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[1]) as page:
        opened(page, address, "?near=Millrace")
        code = page.locator(".found .door .one", has_text="SC-").first
        assert code.evaluate("each => getComputedStyle(each).whiteSpace") == "nowrap"


UNDERLINED = """link => {
  const walker = document.createTreeWalker(link, NodeFilter.SHOW_TEXT), found = [];
  for (let node; (node = walker.nextNode());) {
    let inside = node.parentElement;
    while (inside !== link && getComputedStyle(inside).display === "inline") inside = inside.parentElement;
    // What is no plain inline box gets no underline from outside (CSS Text Decoration 3, 2.1).
    if (inside === link) found.push(node.data);
  }
  return found;
}"""


@pytest.mark.browser
def test_a_town_s_underline_ends_with_its_name(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address)
        links = page.locator("#all .towns ul ul a")
        assert links.count() > 10
        for link in links.all():
            (name,) = link.evaluate(UNDERLINED)
            said = " ".join((link.text_content() or "").split())
            assert name == name.strip() and said.startswith(name) and said[len(name)] == " "
        many = links.filter(has_text=",").first
        assert many.locator(".one").count() > 1 and ", " in (many.text_content() or "").replace("\xa0", " ")


@pytest.mark.browser
@pytest.mark.parametrize("data", ["without script", "without data"])
def test_what_cannot_answer_is_not_offered(browser: Browser, address: str, data: str) -> None:
    context = browser.new_context(java_script_enabled=data != "without script")
    page = context.new_page()
    page.route("**/places-*.json", lambda route: route.abort())
    page.goto(f"{address}find/")
    page.wait_for_load_state("networkidle")
    assert page.locator("#finder-near").is_visible()
    assert not page.locator("[name=side]").first.is_visible()
    assert page.locator("main a[href$='get-help/']").first.is_visible()
    assert "list is below" in page.locator("#finder-said").inner_text()
    context.close()


@pytest.mark.browser
def test_once_the_only_result_has_ended_under_its_reader_the_whole_list_is_back(
    browser: Browser, address: str
) -> None:
    with phone(browser, PHONES[1]) as page:
        page.clock.install(time=datetime(2026, 12, 2, 21, 59, tzinfo=UTC))
        page.goto(f"{address}find/?what=bulbs")
        page.locator("form[data-ready]").wait_for()
        said, link = page.locator("#finder-said"), page.locator(".found .what a")
        assert said.inner_text().startswith("Found: 1.") and not page.locator("#all").is_visible()
        link.focus()
        page.clock.run_for(120_000)
        assert said.inner_text().startswith("Nothing fits") and page.locator("#all").is_visible()
        assert page.evaluate("document.activeElement.closest('.found .held') !== null")


@pytest.mark.browser
@pytest.mark.parametrize(
    ("path", "before", "said"),
    [
        # As the pages say it: of an event and of help that they are over, of the rest before its end that a place takes no more.
        ("?kind=go&what=lights", (2026, 12, 27, 2, 59), "See the lights, Market Square: has ended."),
        (
            "?what=bulb",
            (2026, 12, 2, 21, 59),
            "Bring a string of old bulbs for the wire, Saltmarsh Community Television lobby: has ended.",
        ),
        ("?what=coat", (2026, 12, 16, 0, 59), "Bring a winter coat, Millrace Library: takes no more."),
    ],
)
def test_what_ends_among_the_answers_is_said_in_the_pages_words(
    browser: Browser, address: str, path: str, before: tuple[int, ...], said: str
) -> None:
    with phone(browser, PHONES[1]) as page:
        page.clock.install(time=datetime(*before, tzinfo=UTC))  # type: ignore[arg-type,misc]
        page.goto(f"{address}find/{path}")
        page.locator("form[data-ready]").wait_for()
        while page.locator("#finder-more").is_visible():
            page.locator("#finder-more").click()
        page.clock.run_for(120_000)
        assert said in page.locator("p.unseen[role=status]").inner_text()


@pytest.mark.browser
def test_without_script_the_form_leads_to_the_towns(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0], java_script_enabled=False) as page:
        page.goto(f"{address}find/")
        assert (
            not page.locator("#finder-here").is_visible() and not page.locator("#finder-narrow").is_visible()
        )
        page.locator("#finder-near").fill("SC-104")
        page.locator("#finder-near").press("Enter")
        page.wait_for_url("**near=SC-104*#all")
        page.locator("#all a", has_text="SC-104").press("Enter")
        page.wait_for_url("**/find/tidewick/#in-tidewick-millrace")
        town = page.locator(f"[id='{page.url.rsplit('#')[-1]}']")
        assert "Millrace" in town.inner_text()
        assert town.locator("xpath=..").locator(".door").count() > 0


@pytest.mark.browser
def test_distances_are_those_of_a_geodesic_library(
    browser: Browser, address: str, chance: random.Random
) -> None:
    from geographiclib.geodesic import Geodesic

    pairs = []
    for reach in (0.01, 0.5, 5, 30):
        for _ in range(250):
            north, east = chance.uniform(-75, 75), chance.uniform(-179, 179)
            other = [north + chance.uniform(-reach, reach), east + chance.uniform(-reach, reach)]
            pairs.append([[north, east], [min(max(other[0], -85), 85), other[1]]])
    with phone(browser, PHONES[0]) as page:
        opened(page, address)
        got = page.evaluate(
            "pairs => pairs.map(([one, other]) => document.getElementById('finder').metres(one, other))",
            pairs,
        )
    for (one, other), metres in zip(pairs, got, strict=True):
        true = Geodesic.WGS84.Inverse(*one, *other)["s12"]
        assert abs(metres - true) <= max(0.5, true * 2e-5), (one, other, metres, true)


@pytest.mark.browser
def test_an_event_says_its_dates_and_no_end(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        # The only date is a week ahead.
        opened(page, address, "?what=cante", datetime(2026, 12, 6, 17, 30, tzinfo=UTC))
        when = page.locator(".found .when").inner_text().replace("\xa0", " ")
        assert when == "Sunday, Dec. 13"
        opened(page, address, "?kind=go", datetime(2026, 12, 6, 17, 30, tzinfo=UTC))
        assert page.locator(".found .when").count() > 3
        for words in page.locator(".found .when").all_inner_texts():
            assert "until" not in words.lower() and "left" not in words, words


@pytest.mark.browser
@pytest.mark.parametrize(("typed", "named"), [("SC-1", "Millrace"), ("Pe", "Peña")])
def test_a_beginning_that_several_places_have_is_asked_about(
    browser: Browser, address: str, typed: str, named: str
) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, f"?near={typed}")
        said = page.locator("#finder-said").inner_text()
        assert f"“{typed}”" in said and "More than one" in said and named in said
        assert page.locator("#all").is_visible() and not page.locator(".found > li").count()
        # One alone is meant.
        opened(page, address, "?near=Millr")
        assert "Millrace" in page.locator("#finder-said").inner_text()
        assert page.locator(".found > li").count()


@pytest.mark.browser
def test_what_a_story_says_in_its_language_is_marked(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?what=cartas")
        foreign = page.locator(".found .tide [lang=es]")
        assert [words for words in foreign.all_inner_texts() if "cartas a mano" in words]
        assert "Mande una carta o un dibujo" in foreign.all_inner_texts()
