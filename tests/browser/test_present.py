"""Pages built earlier, read later: the script ends what has ended, in the station's zone whatever the reader's."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from sitegen.clock.asks import plan_ask
from sitegen.clock.openings import Door, openings_on
from sitegen.newsroom.records import Ask, Newsroom, Story
from sitegen.newsroom.times import local_day, start_of, zone_named
from sitegen.site.content import read_content
from sitegen.typeset.present import hours_code
from tests.counts import LONG
from tests.samples.served_site import ROOT

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page, Route

BUILT = datetime(2026, 12, 2, 17, tzinfo=UTC)
"""The moment the demonstration is fixed at."""
PHONES = ("Pacific/Kiritimati", "America/New_York", "Pacific/Pago_Pago")
INSTANTS = 50


@pytest.fixture(scope="module")
def newsroom() -> Newsroom:
    found = read_content(ROOT).newsroom
    assert found is not None
    return found


@contextmanager
def phone(browser: Browser, zone: str, **options: Any) -> Iterator[Page]:
    """A page in a phone of some zone. A word on the console or a request to another host fails the test."""
    context = browser.new_context(timezone_id=zone, viewport={"width": 360, "height": 740}, **options)
    page = context.new_page()
    heard: list[str] = []
    page.on("console", lambda message: heard.append(message.text))
    page.on("pageerror", lambda error: heard.append(str(error)))
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    yield page
    context.close()
    assert not heard
    assert not [url for url in asked if not url.startswith("http://127.0.0.1")]


def asks_of(newsroom: Newsroom) -> list[tuple[Story, Ask, datetime, datetime]]:
    """(story, ask, its end, the last moment at which any door of its places is open) of all live at `BUILT`."""
    zone = zone_named(newsroom.station.time_zone)
    found = []
    for story in newsroom.stories:
        for ask in story.asks:
            times = plan_ask(ask, newsroom.station.last_days, zone)
            chances = [each.last_chance for each in times.places if each.last_chance is not None]
            if times.ends > BUILT and not story.hold and not story.withdrawn:
                found.append((story, ask, times.ends, max(chances, default=times.ends)))
    return found


def beginnings(newsroom: Newsroom) -> dict[str, datetime]:
    """`story/#ask-key` of every ask that is still to come at `BUILT`, to the instant from which it is open."""
    zone = zone_named(newsroom.station.time_zone)
    return {
        f"{story.id}/#ask-{ask.key}": start_of(ask.starts, zone)
        for story, ask, _, _ in asks_of(newsroom)
        if ask.starts is not None and start_of(ask.starts, zone) > BUILT
    }


def instants(newsroom: Newsroom, pick: random.Random) -> list[datetime]:
    """Moments just before, at and just after beginnings, ends and last chances."""
    asks = asks_of(newsroom)
    edges = sorted({at for _, _, end, last in asks for at in (end, last) if at > BUILT})
    edges += sorted(at for at in beginnings(newsroom).values() if at > BUILT)
    chosen = [pick.choice(edges) for _ in range(INSTANTS)]
    return [at + timedelta(seconds=pick.choice((-1, 0, 1, 3600))) for at in chosen]


@pytest.mark.browser
@pytest.mark.parametrize("zone", PHONES)
def test_no_ended_ask_is_seen_in_a_page_built_earlier(
    browser: Browser,
    address: str,
    demonstration: Path,
    newsroom: Newsroom,
    chance: random.Random,
    zone: str,
) -> None:
    asks = [each for each in asks_of(newsroom) if (demonstration / "stories" / each[0].id).is_dir()]
    divided = [
        path.relative_to(demonstration).as_posix().removesuffix("index.html")
        for folder in ("find", "counties")
        for path in sorted(demonstration.glob(f"{folder}/*/index.html"))
        if "/20" not in path.as_posix()
    ]
    lists = ["", "deadlines/", "get-help/", "find/?area=tidewick", "find/?side=help"]
    begins = beginnings(newsroom)
    moments = instants(newsroom, chance)
    with phone(browser, zone) as page:
        # A third of the moments in each zone and two lists at each, unless there is time for more.
        for number, at in enumerate(moments if LONG else moments[PHONES.index(zone) :: len(PHONES)]):
            page.clock.set_fixed_time(at)
            some = (
                [*lists, *chance.sample(divided, 3)]
                if LONG
                else [lists[number % len(lists)], chance.choice(divided)]
            )
            for path in some:
                page.goto(address + path)
                if "?" in path:
                    page.locator("form[data-ready]").wait_for()
                shown = {
                    link.split("/stories/")[1]
                    for link in page.eval_on_selector_all(
                        "main .what a[href*='#ask-']", "links => links.map(link => link.href)"
                    )
                }
                over = {f"{story.id}/#ask-{ask.key}" for story, ask, end, _ in asks if end <= at}
                assert not shown & over, (at, path)
                tags = page.eval_on_selector_all(
                    "main .tag", "tags => tags.map(tag => [tag.querySelector('h4').innerText, tag.querySelector('.of a').href])"
                )  # fmt: skip
                for title, href in tags:
                    assert not [
                        ask.key for story, ask, end, _ in asks
                        if end <= at and story.id in href and title.endswith(ask.title)
                    ], (at, path, title)  # fmt: skip
                # Nothing that is open is still said to come, wherever its row stands.
                for link in page.eval_on_selector_all(
                    "main li:has(.opens) .what a[href*='#ask-']", "links => links.map(link => link.href)"
                ):
                    begun = begins.get(link.split("/stories/")[1])
                    assert begun is None or begun > at, (at, path, link)
            shut = [each for each in asks if each[2] <= at]
            if shut:
                story, ask, _, _ = chance.choice(shut)
                page.goto(f"{address}stories/{story.id}/")
                check_is_over(page, ask)


def check_is_over(page: Page, ask: Ask) -> None:
    """One line is left of an ask on its story's page, and no way to reach anyone of one that has ended."""
    left = page.locator(f"[id='ask-{ask.key}']")
    words = left.inner_text()
    assert ask.title in words
    assert not left.locator(
        "dl, .hours, a[href^='mailto:'], a[href^='http']:not([href*='127.0.0.1'])"
    ).count()
    if ask.check_again_by is None:
        assert not left.locator("a[href^='tel:']").count()
    for entry in ask.drop_off:
        assert not entry.place.street or entry.place.street not in words


@pytest.mark.browser
def test_what_is_live_stays(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0], java_script_enabled=False) as plain, phone(browser, PHONES[0]) as page:
        page.clock.set_fixed_time(BUILT)
        for path in (
            "",
            "find/",
            "deadlines/",
            "get-help/",
            "counties/tidewick/",
            "places/millrace-library/",
        ):
            plain.goto(address + path)
            page.goto(address + path)
            for part in (".what a", ".tag", ".door", ".tel", ".counts span"):
                assert page.locator(part).count() == plain.locator(part).count(), (path, part)


@pytest.mark.browser
@pytest.mark.parametrize("zone", PHONES)
def test_an_ask_that_ends_under_a_reader_keeps_their_focus_and_says_so_once(
    browser: Browser, address: str, zone: str
) -> None:
    with phone(browser, zone) as page:
        page.clock.install(time=datetime(2026, 12, 16, 4, 58, tzinfo=UTC))
        page.goto(f"{address}stories/2026/coat-closet/")
        page.evaluate(
            """() => {
                window.spoken = [];
                const region = document.querySelector("p.unseen[role=status]");
                new MutationObserver(() => spoken.push(region.textContent))
                    .observe(region, { childList: true, characterData: true, subtree: true });
            }"""
        )
        tag = page.locator("section.tag").filter(has_text="Bring a winter coat")
        anchor = tag.first.get_attribute("id")
        tag.first.locator("a").first.focus()
        page.clock.run_for(60_000)
        assert page.evaluate("spoken") == []
        page.clock.run_for(180_000)
        spoken = page.evaluate("spoken")
        assert len(spoken) == 1 and spoken[0].count("Bring a winter coat") == 1
        assert page.evaluate("document.activeElement.closest('[id^=ask-]')?.id") == anchor
        line = page.locator(f"[id='{anchor}']")
        assert "Dec. 15, 2026" in line.inner_text()
        assert line.locator("a").count() == 1  # one next step


@pytest.mark.browser
@pytest.mark.parametrize(
    ("path", "before", "door", "title"),
    [
        ("stories/2026/harbor-lights/", (2026, 12, 2, 21, 59), "television lobby", "Bring a string of old bulbs"),
        ("stories/2026/toy-shelf/", (2026, 12, 5, 0, 59), "", "Sign up a family"),
        ("get-help/", (2026, 12, 5, 0, 59), "", "Sign up a family"),
    ],
)  # fmt: skip
def test_an_ask_that_ends_with_its_doors_is_said_to_end_and_they_are_not(
    browser: Browser, address: str, path: str, before: tuple[int, ...], door: str, title: str
) -> None:
    with phone(browser, PHONES[1]) as page:
        page.clock.install(time=datetime(*before, tzinfo=UTC))  # type: ignore[arg-type,misc]
        page.goto(address + path)
        tag = page.locator("section.tag").filter(has_text=title).first
        ended = str(tag.get_attribute("data-ended"))
        doors = tag.locator(".at-door")
        assert doors.count()
        tag.locator(".at-door a").filter(has_text=re.compile(door, re.IGNORECASE)).first.focus()
        page.clock.run_for(120_000)
        said = page.locator("p.unseen[role=status]").inner_text()
        assert said.startswith(title) and said.endswith(f": {ended}") and said.count(":") == 1


@pytest.mark.browser
@pytest.mark.parametrize(
    ("path", "language"), [("counties/pena-baja/", "es"), ("stories/2026/cien-anos/", "es")]
)
def test_what_ends_is_announced_in_its_language(
    browser: Browser, address: str, path: str, language: str
) -> None:
    with phone(browser, PHONES[0]) as page:
        page.clock.install(time=datetime(2026, 12, 12, 4, 59, tzinfo=UTC))
        page.goto(address + path)
        page.clock.run_for(120_000)
        spoken = page.evaluate(
            """() => {
                const found = [];
                const texts = document.createTreeWalker(document.querySelector("p.unseen[role=status]"), NodeFilter.SHOW_TEXT);
                while (texts.nextNode()) found.push([texts.currentNode.data, texts.currentNode.parentElement.closest("[lang]").lang]);
                return found.filter(([words]) => words.trim());
            }"""
        )
        assert [lang for words, lang in spoken if "Mande una carta" in words] == [language]
        # The theme's own words, in the page's language.
        assert [lang for words, lang in spoken if "has ended" in words or "takes" in words] in ([], ["en-US"])


@pytest.mark.browser
@pytest.mark.parametrize("path", ["", "deadlines/", "counties/eelmarsh/"])
def test_nobody_is_hurried_once_the_last_door_has_shut(browser: Browser, address: str, path: str) -> None:
    with phone(browser, PHONES[0]) as page:
        row = page.locator(".tide li, tr", has_text="lend a friend").first
        page.clock.set_fixed_time(datetime(2026, 12, 12, 18, 59, tzinfo=UTC))
        page.goto(address + path)
        assert "Last chance at any place:" in row.inner_text() and "closes tomorrow" in row.inner_text()
        page.clock.set_fixed_time(datetime(2026, 12, 12, 19, 0, tzinfo=UTC))
        page.goto(address + path)
        words = row.inner_text()
        assert "No place is open for this any more: ask the organizer" in words and "Last chance" not in words
        assert "tomorrow" not in words and "Last days" not in words


@pytest.mark.browser
@pytest.mark.parametrize("story", ["harbor-lights", "coat-closet", "toy-shelf"])
def test_the_count_of_an_asks_places_follows_those_that_are_left(
    browser: Browser, address: str, story: str
) -> None:
    path, seen = f"{address}stories/2026/{story}/", 0
    with phone(browser, PHONES[1]) as page:
        page.clock.set_fixed_time(BUILT)
        page.goto(path)
        chances = page.eval_on_selector_all(
            ".doors > li", "doors => [...new Set(doors.map(door => Date.parse(door.dataset.end)))]"
        )
        assert chances
        for last in sorted(chances):
            page.clock.set_fixed_time(last / 1000)
            page.goto(path)
            for row in page.locator(".r:has(dt:text-is('Where')):not(:has(.at-door))").all():
                tag = page.locator("section.tag").filter(has=row)
                words, left = row.locator("dd").inner_text(), tag.locator(".doors > li").count()
                assert re.findall(r"\d+(?= places? ?)", words) == [str(left)] * bool(left), (last, words)
                assert words and (left or "No place" in words)
                seen += 1
    assert seen


@pytest.mark.browser
@pytest.mark.parametrize("zone", PHONES)
@pytest.mark.parametrize("reading", [False, True], ids=["elsewhere", "in the row"])
def test_an_ask_to_come_is_said_to_be_open_from_its_first_instant(
    browser: Browser, address: str, zone: str, reading: bool
) -> None:
    with phone(browser, zone) as page:
        page.clock.install(time=datetime(2026, 12, 5, 4, 59, tzinfo=UTC))
        page.goto(address)
        row = page.locator(".tide > li").filter(has_text="Walk with a lantern")
        assert row.locator(".opens").inner_text() == "Opens Saturday, Dec.\xa05"
        before = row.evaluate("row => row.parentElement.id")
        if reading:
            row.locator(".what a").focus()
        page.clock.run_for(120_000)
        assert row.locator(".opened").inner_text() == "Open since Saturday, Dec.\xa05"
        assert not row.locator(".opens").count()
        after = row.evaluate("row => row.parentElement.id")
        # It goes to the open ones in the order of their ends, unless that took it from its reader.
        assert (before, after) == ("", "" if reading else "open")
        ends = page.eval_on_selector_all("#open > li", "rows => rows.map(row => Date.parse(row.dataset.end))")
        assert ends == sorted(ends)
        assert row.evaluate("row => row.contains(document.activeElement)") == reading


@pytest.mark.browser
def test_the_last_ask_to_come_takes_its_heading_along(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[1]) as page:
        page.clock.set_fixed_time(datetime(2026, 12, 12, 4, tzinfo=UTC))
        page.goto(address)
        assert page.locator(".opened").count() and not page.locator("[data-to]").count()
        assert "Coming" not in page.locator("main h3").all_inner_texts()


@pytest.mark.browser
@pytest.mark.parametrize(
    ("day", "parts"),
    [
        (datetime(2026, 12, 6, 17, tzinfo=UTC), ["Closing next", "Coming"]),
        # Every ask that was open is over, and one that was to come is open.
        (datetime(2026, 12, 19, 17, tzinfo=UTC), ["Closing next"]),
        (datetime(2027, 3, 1, 17, tzinfo=UTC), ["Closing next"]),
    ],
)
def test_what_is_open_days_after_a_build_stands_where_a_reader_looks_first(
    browser: Browser, address: str, day: datetime, parts: list[str]
) -> None:
    with phone(browser, PHONES[1]) as page:
        page.clock.set_fixed_time(day)
        page.goto(address)
        assert page.locator(".tides :is(h2, h3)").all_inner_texts() == parts
        assert not page.locator("[data-to] .opened").count()
        assert page.get_by_text("Everything listed here has ended.").count() == (day.year == 2027)


@pytest.mark.browser
def test_a_row_that_ends_under_a_reader_stays_as_a_line(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[1]) as page:
        page.clock.install(time=datetime(2026, 12, 2, 21, 59, tzinfo=UTC))
        page.goto(address)
        link = page.locator(".tides .tide .what a").first
        name = link.inner_text()
        link.focus()
        page.clock.run_for(120_000)
        assert page.evaluate("document.activeElement.textContent") == name
        assert page.locator(".held").inner_text().startswith("Bring")
        assert not page.locator(".held .when").count()


@pytest.mark.browser
@pytest.mark.parametrize(
    ("path", "before", "said"),
    [
        # An ask and its door in one list each; the door goes with its ask.
        ("counties/tidewick/", (2026, 12, 27, 2, 59), "See the lights: has ended."),
        ("counties/pena-baja/", (2026, 12, 13, 18, 59), "Cante en la plaza para doña Amparo: has ended."),
        ("counties/tidewick/", (2026, 12, 2, 21, 59), "Bring a string of old bulbs for the wire: has ended."),
        # Its door alone.
        ("find/tidewick/", (2026, 12, 27, 2, 59), "See the lights, Market Square: has ended."),
        ("places/market-square/", (2026, 12, 27, 2, 59), "See the lights: has ended."),
        # The ask goes on elsewhere.
        (
            "counties/tidewick/",
            (2026, 12, 16, 0, 59),
            "Bring a winter coat, Millrace Library: takes no more. "
            "Bring a new toy, Port Tidewick Fire Station 1: takes no more.",
        ),
        ("places/millrace-library/", (2026, 12, 16, 0, 59), "Bring a winter coat: takes no more."),
    ],
)  # fmt: skip
def test_what_ends_is_said_in_one_line_and_of_an_event_that_it_has_ended(
    browser: Browser, address: str, path: str, before: tuple[int, ...], said: str
) -> None:
    with phone(browser, PHONES[1]) as page:
        page.clock.install(time=datetime(*before, tzinfo=UTC))  # type: ignore[arg-type,misc]
        page.goto(address + path)
        page.clock.run_for(120_000)
        assert page.locator("p.unseen[role=status]").inner_text() == said


@pytest.mark.browser
@pytest.mark.parametrize("path", ["counties/tidewick/", "get-help/"])
def test_help_that_wants_checking_is_not_said_to_be_over_wherever_it_stands(
    browser: Browser, address: str, path: str
) -> None:
    words = "Talk to someone at Harbor House: not confirmed lately. Check first: Harbor House, 237-555-0199."
    with phone(browser, PHONES[1]) as page:
        page.clock.install(time=datetime(2027, 3, 1, 4, 59, tzinfo=UTC))
        page.goto(address + path)
        part = page.locator("main [data-ended]").filter(has_text="Talk to someone at Harbor House").first
        assert part.locator(".tel").count()
        part.locator(".what a, .tel").first.focus()
        page.clock.run_for(120_000)
        assert words in page.locator("p.unseen[role=status]").inner_text()
        line = page.locator(".held")
        assert words in " ".join((line.text_content() or "").split())
        assert line.locator(".tel").count() == 1


@pytest.mark.browser
@pytest.mark.parametrize(
    "at", [datetime(2026, 12, 20, 20, tzinfo=UTC), datetime(2026, 12, 24, 23, tzinfo=UTC)]
)
def test_a_place_s_own_page_does_not_give_it_the_end_of_what_it_takes(
    browser: Browser, address: str, at: datetime
) -> None:
    """Market Square is open around the clock; the lights are to be seen there until Dec. 26."""
    with phone(browser, PHONES[1]) as page:
        page.clock.set_fixed_time(at)
        page.goto(f"{address}places/market-square/")
        assert page.locator(".about-area .now").all_inner_texts() == ["open now"]


@pytest.mark.browser
@pytest.mark.parametrize("zone", PHONES)
def test_what_is_left_is_said_in_the_stations_zone(
    browser: Browser, address: str, newsroom: Newsroom, zone: str
) -> None:
    said = []
    for knows_zones in (True, False):
        with phone(browser, zone) as page:
            if not knows_zones:
                # A zone no browser has: as a phone whose zone data lack the station's.
                page.route(address, partial(_renamed_zone, newsroom.station.time_zone))
            page.clock.set_fixed_time(BUILT)
            page.goto(address)
            said.append(page.locator(".now").all_inner_texts())
    assert said[0] == said[1]
    assert "closes today, 5\xa0p.m." in said[0] and "2 days left" in said[0]


def _renamed_zone(zone: str, route: Route) -> None:
    answer = route.fetch()
    assert f'"{zone}"' in answer.text()
    route.fulfill(response=answer, body=answer.text().replace(f'"{zone}"', '"Nowhere/Known"'))


@pytest.mark.browser
def test_doors_are_open_when_the_clock_says_so(
    browser: Browser, address: str, newsroom: Newsroom, chance: random.Random
) -> None:
    """Every shared place's hours at random moments, against the room that reckons last chances."""
    zone = zone_named(newsroom.station.time_zone)
    cases = []
    for place in newsroom.places:
        code = hours_code(place.hours, place.closed, place.special_hours)
        if not code:
            continue
        door = Door(place.hours, place.closed, place.special_hours)
        for _ in range(40):
            at = BUILT + timedelta(minutes=chance.randrange(60 * 24 * 60))
            today = local_day(at, zone)
            ranges = [
                each
                for back in range(-1, 70)
                for each in openings_on(door, today + timedelta(days=back), zone)
                if each.closes > at
            ]
            opens = min((each.opens for each in ranges), default=None)
            cases.append((code, at, opens))
    with phone(browser, PHONES[0]) as page:
        page.goto(address)
        got = page.evaluate(
            "cases => cases.map(([code, at]) => tidetable.status(code, at))",
            [[code, at.timestamp() * 1000] for code, at, _ in cases],
        )
    assert len(cases) > 500
    for (code, at, opens), found in zip(cases, got, strict=True):
        if opens is not None and opens <= at:
            assert found and found["open"], (code, at)
        else:
            assert not found or not found["open"], (code, at)
            # Hours that count the weeks of a month say their day however far away it is.
            assert found or opens is None or "/" not in code, (code, at)
            if found:
                assert opens == at + timedelta(minutes=found["opens"]), (code, at)


@pytest.mark.browser
@pytest.mark.parametrize(
    ("code", "now", "last", "said"),
    [
        ("0123456:0-1440", "2027-03-14T06:30Z", "2027-03-14T20:00Z", "4 p.m."),
        ("0123456:0-1440", "2026-11-01T05:30Z", "2026-11-01T22:00Z", "5 p.m."),
        ("0123456:1200-1860", "2027-03-14T04:00Z", "2027-03-14T10:00Z", "6 a.m."),
        ("0123456:0-1440", "2026-12-02T17:00Z", "2026-12-02T20:30Z", "3:30 p.m."),
    ],
)
def test_a_last_chance_beyond_a_change_of_clocks_is_said_by_the_clock(
    browser: Browser, address: str, code: str, now: str, last: str, said: str
) -> None:
    with phone(browser, PHONES[0]) as page:
        page.goto(address)
        words = page.evaluate(
            """([code, now, last]) => tidetable.statusWords(
                tidetable.status(code, now, NaN, last), now, tidetable.wordsOf(document.body)
            )""",
            [code, *(datetime.fromisoformat(each).timestamp() * 1000 for each in (now, last))],
        )
    assert words.replace("\xa0", " ") == f"open now until {said}"


@pytest.mark.browser
def test_what_is_open_for_days_or_opens_in_weeks_says_which_day(browser: Browser, address: str) -> None:
    """Minutes from Wednesday noon to the status, and the words of it."""
    wednesday = BUILT.timestamp() * 1000
    with phone(browser, PHONES[0]) as page:
        page.goto(address)
        words = page.evaluate(
            """([now, found]) => {
                const words = tidetable.wordsOf(document.body);
                return found.map((each) => tidetable.statusWords(each, now, words));
            }""",
            [
                wednesday,
                [
                    {"open": True, "until": 8 * 60},
                    {"open": True, "until": 12 * 60},
                    {"open": True, "until": 14 * 60},
                    {"open": True, "until": 26 * 60},
                    {"open": True, "until": (24 + 24 + 8) * 60},
                    {"open": True, "until": (24 + 24 + 12) * 60},
                    {"open": False, "opens": (8 * 24 - 2) * 60},
                ],
            ],
        )
    assert [each.replace("\xa0", " ") for each in words] == [
        "open now until 8 p.m.", "open now until midnight", "open now until 2 a.m.", "open now until Thursday 2 p.m.", "open now until Friday 8 p.m.",
        "open now until Friday midnight", "opens Thursday, December 10, 2026, 10 a.m.",
    ]  # fmt: skip


@pytest.mark.browser
def test_times_seek_the_video(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[1]) as page:
        page.route("**/video.example.org/**", lambda route: route.abort())
        page.goto(f"{address}episodes/2026-11-21/")
        page.evaluate(
            """() => {
                HTMLMediaElement.prototype.play = function () {
                    this.dataset.played = 1;
                    return Promise.resolve();
                };
            }"""
        )
        button = page.locator("#part-rundown ~ .log .seek").nth(1)
        assert "Play from" in str(button.get_attribute("aria-label"))
        button.focus()
        page.keyboard.press("Enter")
        assert page.locator("video").get_attribute("data-played") == "1"
        wanted = page.locator("#part-rundown ~ .log [data-seek]").nth(1).get_attribute("data-seek")
        assert page.evaluate("document.querySelector('video').currentTime") == float(str(wanted))
