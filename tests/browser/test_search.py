"""The archive's search in a browser: by keyboard, with slips, filters and a shared address, announced, and without script.

The script and the index makers also agree on what a word is.
"""

from __future__ import annotations

import random
import re
from typing import TYPE_CHECKING

import pytest

from sitegen.typeset.searchdata import term, words_in
from tests.browser.test_present import BUILT, PHONES, phone
from tests.samples.opened_pages import PHONE, Medium

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

    from tests.samples.opened_pages import Opens

pytestmark = pytest.mark.browser

DATA = re.compile(r"/data/search")


def opened(page: Page, address: str, query: str = "") -> list[str]:
    """The archive at the demonstration's moment; the addresses of the search's files that it asks for from then on."""
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url) if DATA.search(request.url) else None)
    page.clock.set_fixed_time(BUILT)
    page.goto(f"{address}archive/{query}")
    return asked


def until(page: Page, expression: str) -> None:
    """Waits for an expression to hold. The driver's own way to wait runs into the page's policy."""
    for _ in range(600):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never came true: {expression}")


def said(page: Page) -> str:
    """What the live region says once it has answered."""
    until(
        page,
        "!('busy' in document.getElementById('search').dataset) && document.getElementById('search-said').textContent",
    )
    return page.locator("#search-said").inner_text()


def count(page: Page) -> int:
    return int(re.findall(r"\d+", said(page))[0])


def headlines(page: Page) -> list[str]:
    return page.locator("#search-results h3").all_inner_texts()


def searched(page: Page) -> str:
    return str(page.evaluate("location.search.slice(1)"))


def test_a_slip_finds_its_story_by_keyboard_and_back_again(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        asked = opened(page, address)
        page.wait_for_load_state("networkidle")
        assert asked == [], "nothing is fetched before the reader asks"
        assert not page.locator("#search-plain").is_visible()
        for _ in range(60):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.id") == "search-q":
                break
        page.keyboard.type("ligthouse wall")
        page.keyboard.press("Enter")
        answer = said(page)
        assert "Read as: lighthouse." in answer and "found" in answer
        assert any("Panhouse paints its worst wall" in line for line in headlines(page)[:2]), headlines(page)
        assert page.evaluate("document.activeElement.id") == "search-q", (
            "the focus stays where the reader types"
        )
        for _ in range(10):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.matches('#search-results a')"):
                break
        page.keyboard.press("Enter")
        page.wait_for_url("**/stories/**")
        page.go_back()
        assert said(page) == answer and page.locator("#search-q").input_value() == "ligthouse wall"


@pytest.mark.parametrize(
    "typed", ["winter coats", "wintr coats", "inter coats", "qinter coats", "iwnter coat", "WINTER  coät"]
)
def test_slips_anywhere_in_a_word_are_forgiven(browser: Browser, address: str, typed: str) -> None:
    with phone(browser, PHONES[1]) as page:
        opened(page, address, f"?q={typed}")
        assert count(page) and any("coat" in line.lower() for line in headlines(page)[:3]), headlines(page)


def test_a_year_among_the_words_finds_the_stories_of_that_year(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?q=lantern+walk+2025")
        # Another story only names that year.
        assert count(page) > 1
        assert "lantern walk outgrows" in headlines(page)[0]
        assert ", 2025" in page.locator("#search-results .date").first.inner_text()


def test_typing_searches_after_a_pause_and_says_so(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address)
        page.locator("#search-q").focus()
        page.keyboard.type("lightho")
        assert count(page) and searched(page) == "q=lightho"
        assert page.locator("#search-said").get_attribute("role") == "status"
        assert page.evaluate("document.activeElement.id") == "search-q"
        page.locator("#search-q").fill("")
        until(page, "!document.getElementById('search-said').textContent")
        assert not page.locator("#search-results").is_visible() and searched(page) == ""


def test_county_and_year_narrow_and_the_address_can_be_shared(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?q=coats")
        everywhere = count(page)
        page.locator("#search-county").select_option("tidewick")
        until(page, "location.search.includes('county=tidewick')")
        here = count(page)
        assert 0 < here < everywhere
        page.locator("#search-year").select_option("2025")
        until(page, "location.search.includes('year=2025')")
        then = count(page)
        assert 0 < then <= here
        assert all("2025" in date for date in page.locator("#search-results .date").all_inner_texts())
        assert all("Tidewick" in line for line in page.locator("#search-results h3 + .of").all_inner_texts())
        shared, found = searched(page), headlines(page)
    with phone(browser, PHONES[2]) as page:
        opened(page, address, f"?{shared}")
        assert count(page) == then and headlines(page) == found
        assert page.locator("#search-year").input_value() == "2025"


def test_a_year_alone_lists_all_of_it_newest_first_some_at_a_time(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?year=2025")
        whole = count(page)
        for _ in range(20):
            if not page.locator("#search-more").is_visible():
                break
            before = len(headlines(page))
            page.locator("#search-more").press("Enter")
            until(page, f"document.querySelectorAll('#search-results h3').length > {before}")
            until(page, "document.activeElement.matches('#search-results h3 a')")
        assert len(headlines(page)) == whole > 20
        days = page.locator("#search-results .date time").evaluate_all(
            "all => all.map((one) => one.dateTime)"
        )
        assert days == sorted(days, reverse=True)
        listed = page.goto(f"{address}archive/2025/")
        assert listed is not None
        assert page.locator("main .log > li").count() == whole


def test_words_that_no_story_shares_are_told_from_words_that_none_has(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?q=lighthouse quilt accordionist")
        assert "some" in said(page) and headlines(page)
        opened(page, address, "?q=xyzzyqwv")
        assert "No story" in said(page) and not page.locator("#search-results").is_visible()
        opened(page, address, "?q=the of")
        assert "too short" in said(page)


def test_a_live_ask_is_named_until_its_end(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?q=coat closet millrace")
        said(page)
        named = page.locator("#search-results .asked li")
        assert "Bring a winter coat" in " ".join(named.all_inner_texts())
        lists = page.locator("#search-results .asked").all_inner_texts()
        assert any("Get help" in text for text in lists), "the demonstration has some"
        # What is for people in need is never mixed with giving.
        assert not [
            text for text in lists if "Get help" in text and re.search("^(Bring|Give|Volunteer) ", text, re.M)
        ]
        page.clock.set_fixed_time("2027-06-01T12:00:00Z")
        page.reload()
        said(page)
        assert headlines(page) and named.count() == 0


def test_an_ask_says_its_dates_in_its_language(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?q=cante amparo plaza")
        said(page)
        ask = page.locator("#search-results .asked li", has_text="Cante en la plaza")
        assert ask.locator("a").get_attribute("lang") == "es"
        assert ask.locator(".of").all_inner_texts() == ["Sunday, Dec. 13, 2026"]


def test_the_last_door_is_named_until_it_shuts(browser: Browser, address: str) -> None:
    with phone(browser, PHONES[0]) as page:
        opened(page, address, "?q=book boat westerns")
        said(page)
        lines = page.locator("#search-results .asked li", has_text="lend a friend").locator(".of")
        assert "Last chance at any place: Saturday, Dec. 12" in lines.last.inner_text()
        page.clock.set_fixed_time("2026-12-12T20:00:00Z")
        page.reload()
        said(page)
        assert "No place is open for this any more" in lines.last.inner_text()


def test_a_line_that_fails_is_told_and_the_years_are_there(browser: Browser, address: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.route(DATA, lambda route: route.abort())
    opened(page, address, "?q=coats")
    assert "could not be loaded" in said(page)
    page.unroute(DATA)
    page.locator("#search-q").press("Enter")
    until(page, "document.querySelectorAll('#search-results h3').length")
    context.close()


def test_files_renamed_by_a_build_are_looked_up_anew(browser: Browser, address: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    missing = re.compile(r"/data/search/.*\.txt")
    page.route(missing, lambda route: route.fulfill(status=404), times=1)
    asked = opened(page, address, "?q=coats")
    assert count(page) > 0
    assert sum(url.endswith("data/search.json") for url in asked) == 2
    context.close()


def test_a_slow_line_is_told(browser: Browser, address: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    waiting = []
    page.route(DATA, lambda route: waiting.append(route))
    opened(page, address, "?q=coats")
    until(page, "document.getElementById('search-said').textContent")
    assert "Looking" in page.locator("#search-said").inner_text()
    context.close()


@pytest.mark.parametrize("start", ["", "404.html", "archive/2025/"])
def test_the_field_elsewhere_leads_to_the_archive_s_answer(opens: Opens, start: str) -> None:
    page = opens(start, Medium(size=PHONE))
    page.locator("main input[type=search]").fill("quilt")
    page.locator("main input[type=search]").press("Enter")
    page.wait_for_url("**/archive/?q=quilt")
    assert count(page) > 0


@pytest.mark.parametrize("start", ["", "archive/"])
def test_without_script_the_search_leads_to_the_years(opens: Opens, start: str) -> None:
    page = opens(start, Medium(size=PHONE, script=False))
    page.locator("main input[type=search]").fill("quilt")
    page.locator("main input[type=search]").press("Enter")
    page.wait_for_url("**/archive/?q=quilt*")
    assert page.locator("#search-plain").is_visible()
    assert page.locator("main .counts a[href$='2025/']").is_visible()


ODD = "Peña O'Merrow’s cœur STRASSE straße Łódź Ærø İzmir ﬁne Ⅻ K9 4-H 2026 1899 5pm St. Mary's naïve ελληνικός 237-555-0142 e"


def test_the_script_reads_words_as_the_index_does(browser: Browser, address: str) -> None:
    pick = random.Random(20261125)
    letters = "abcdeiosyzxhucrlñéßœ'’ -9"
    texts = [ODD, *("".join(pick.choice(letters) for _ in range(40)) for _ in range(300))]
    singles = [
        "city",
        "cities",
        "boxes",
        "buses",
        "glass",
        "movies",
        "children's",
        "luz",
        "luces",
        "noches",
        "países",
        "ley",
        "leyes",
    ]
    with phone(browser, PHONES[0]) as page:
        opened(page, address)
        read = page.evaluate(
            "texts => texts.map((text) => document.getElementById('search').wordsIn(text))", texts
        )
        assert read == [words_in(text) for text in texts]
        words = sorted(
            {word for found in read for word in found} | {word for one in singles for word in words_in(one)}
        )
        for language in ("en", "es", "fr"):
            short = page.evaluate(
                "([words, language]) => words.map((word) => document.getElementById('search').term(word, language))",
                [words, language],
            )
            assert short == [term(word, language) for word in words]


def test_slips_are_counted_as_optimal_string_alignment_has_them(browser: Browser, address: str) -> None:
    """Against a plain recursive reading of the definition, on words by chance."""
    pick = random.Random(20261125)
    pairs = [
        ["".join(pick.choice("abc") for _ in range(pick.randrange(1, 8))) for _ in range(2)]
        for _ in range(400)
    ]
    with phone(browser, PHONES[0]) as page:
        opened(page, address)
        counted = page.evaluate(
            "pairs => pairs.map(([one, other]) => document.getElementById('search').slips(one, other, 2))",
            pairs,
        )
    assert counted == [min(3, distance(one, other)) for one, other in pairs]
    assert len(set(counted)) == 4


def distance(one: str, other: str) -> int:
    if not one or not other:
        return len(one) + len(other)
    ways = [
        distance(one[1:], other) + 1,
        distance(one, other[1:]) + 1,
        distance(one[1:], other[1:]) + (one[0] != other[0]),
    ]
    if one[:2] == other[1::-1] and len(one) > 1 and len(other) > 1:
        ways.append(distance(one[2:], other[2:]) + 1)
    return min(ways)
