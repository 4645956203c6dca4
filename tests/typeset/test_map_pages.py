"""Maps in pages: links that the list names, words instead of colour alone, and nothing where there is no map."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import pytest
from bs4 import BeautifulSoup, Tag

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import HomePage, Page
from sitegen.site.content import read_content
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import load_theme
from tests.samples.page_models import sample_pages

ROOT = Path(__file__).parents[2]


@cache
def set_in(language: str) -> Typesetter:
    return Typesetter(load_theme(ROOT, "tidetable"), language)


def read(page: Page, language: str = "en-US") -> BeautifulSoup:
    return BeautifulSoup(set_in(language).page(page).decode(), "html.parser")


def words_of(soup: BeautifulSoup, ids: str) -> str:
    """The words that `aria-labelledby` or `aria-describedby` gives."""
    named = [soup.select_one(f"#{name}") for name in ids.split()]
    assert all(named)
    return " ".join(" ".join(each.get_text(" ").split()) for each in named if each)


@pytest.mark.parametrize("language", ["en-US", "es-US"])
@pytest.mark.parametrize("name", ["home-full", "index-map"])
def test_every_county_of_the_map_is_a_link_that_the_list_names(name: str, language: str) -> None:
    page = sample_pages()[name]
    soup = read(page, language)
    drawing = soup.select_one(".chart svg")
    assert isinstance(drawing, Tag)
    # An image would hide its links from those who do not see it.
    assert drawing["role"] == "group"
    assert words_of(soup, str(drawing["aria-labelledby"]))
    assert words_of(soup, str(drawing["aria-describedby"]))
    links = drawing.select("a")
    rows = soup.select(".chart ol > li")
    assert len(links) == len(rows) == 2
    for link, row in zip(links, rows, strict=True):
        beside = row.find("a")
        assert isinstance(beside, Tag)
        assert link["href"] == beside["href"]
        assert link["aria-labelledby"] == row["id"]
        assert re.fullmatch(r"\S+ \d+ \S+.*", words_of(soup, str(row["id"])))
        assert link.find("path") is not None
    # What is drawn over the shapes only repeats what the links are called.
    words = soup.select(".chart svg.words")
    assert [each["aria-hidden"] for each in words] == ["true", "true"]
    assert [[text.get_text() for text in each.select("text")] for each in words] == [["Tidewick", "2"], ["1"]]


@pytest.mark.parametrize("name", ["home-full", "index-map", "place-full"])
def test_all_words_of_a_map_lie_on_plates_apart_from_its_shapes(name: str) -> None:
    """So that the proof, which takes every shape of a drawing for a ground of its words, can judge them."""
    drawings = read(sample_pages()[name]).select(".drawn > svg")
    assert not drawings[0].select("text") and len(drawings) > 1
    for drawing in drawings[1:]:
        assert drawing["viewbox"] == drawings[0]["viewbox"]
        assert {child.name for child in drawing.find_all()} == {"rect", "text"}
        for text in drawing.select("text"):
            plate = text.find_previous_sibling()
            assert isinstance(plate, Tag) and plate.name == "rect"
            x, left, width = float(str(text["x"])), float(str(plate["x"])), float(str(plate["width"]))
            assert left <= x <= left + width


def test_the_numbers_are_explained_wherever_they_are_seen() -> None:
    (note,) = read(sample_pages()["home-full"]).select(".chart .of")
    assert "narrow" not in note["class"]


def test_without_a_map_there_is_the_list() -> None:
    soup = read(sample_pages()["index-counties"])
    assert not soup.select("svg")
    assert soup.select("ul.counts li")


def test_a_county_is_shown_among_the_others_and_says_its_neighbours() -> None:
    soup = read(sample_pages()["county-full"])
    drawing = soup.select_one("svg.among")
    assert isinstance(drawing, Tag)
    assert drawing["role"] == "img"
    assert "Tidewick" in words_of(soup, str(drawing["aria-labelledby"]))
    assert len(drawing.select("path.here")) == 1
    assert [link["href"] for link in soup.select(".about-area a")] == ["../../pellam/"]
    assert not read(sample_pages()["county-bare"]).select("svg")


def test_a_locator_map_says_in_words_what_it_shows() -> None:
    soup = read(sample_pages()["place-full"])
    drawing = soup.select_one(".locator svg")
    assert isinstance(drawing, Tag)
    assert drawing["role"] == "img"
    caption = words_of(soup, str(drawing["aria-describedby"]))
    assert "northwest" in caption and "Port Tidewick" in caption
    assert len(drawing.select("path.mark")) == 1
    assert [text.get_text() for text in soup.select(".locator text")] == ["Port Tidewick", "Sallow"]


def test_a_towns_position_is_said_to_be_the_towns() -> None:
    exact = read(sample_pages()["place-full"]).select_one(".locator figcaption")
    towns = read(sample_pages()["place-town"]).select_one(".locator figcaption")
    assert exact is not None and towns is not None
    assert "Millrace," not in exact.get_text() and "Millrace;" in towns.get_text()


@pytest.mark.parametrize("name", ["place-bare", "place-withheld"])
def test_a_place_that_shows_no_door_shows_no_map(name: str) -> None:
    assert not read(sample_pages()[name]).select("svg")


def test_the_demonstrations_map_costs_less_than_six_thousand_bytes() -> None:
    room = read_content(ROOT).newsroom
    assert room is not None
    home = compose_edition(room, datetime(2026, 12, 2, 17, tzinfo=UTC)).edition.pages[0]
    assert isinstance(home, HomePage) and home.map is not None
    drawn = re.search(r'<div class="drawn">.*?</div>', set_in("en-US").page(home).decode(), re.DOTALL)
    assert drawn is not None
    assert drawn[0].count("<a ") == 12 and drawn[0].count("<text ") == 24
    assert len(drawn[0].encode()) < 6000
