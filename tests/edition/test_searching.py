"""What the search may know: published stories alone, without what ends with their asks."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import IndexPage
from sitegen.edition.searching import SearchFile, SearchStory, _literally, _low, _street, without_details
from sitegen.newsroom.records import Newsroom, Story
from sitegen.site.content import read_content
from tests.samples.station_folder import asking, story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)
AFTER = datetime(2027, 3, 1, 12, tzinfo=UTC)
CONTACT = "deadline: 2026-12-15\ncontact: {name: Friends of Lowgate, phone: 237-555-0142, email: coats@example.org, web: https://friends.example.org/coats}"
TOLD = (
    "Coats hang in the hall at 4 Pier Lane until 2026-12-15; call (237) 555-0142, write to coats@example.org or see "
    "[friends.example.org/coats](https://friends.example.org/coats). The lane by the **pier** was built in 1974."
)


def newsroom(folder: Path, files: dict[str, str]) -> Newsroom:
    reading = read_content(write_folder(folder, files))
    assert reading.newsroom is not None and not reading.faults, reading.faults
    return reading.newsroom


def searched(known: Newsroom, now: datetime = NOW) -> dict[str, SearchStory]:
    files = compose_edition(known, now).edition.files
    return {
        each.id.rpartition("/")[2]: each
        for file in files
        if isinstance(file, SearchFile)
        for each in file.stories
    }


def words(known: Newsroom, story: str, now: datetime = NOW) -> str:
    (file,) = (file for file in compose_edition(known, now).edition.files if isinstance(file, SearchFile))
    return file.texts(story).body


def test_what_is_not_published_is_not_there(tmp_path: Path) -> None:
    known = newsroom(
        tmp_path,
        {
            "stories/2026/shown.md": story(),
            "stories/2026/held.md": story("hold: true"),
            "stories/2026/later.md": story("embargo: 2027-01-01"),
            "stories/2026/gone.md": story("withdrawn: {date: 2026-11-25, notice: Gone.}"),
        },
    )
    assert set(searched(known)) == {"shown"}
    assert set(searched(known, AFTER)) == {"shown", "later"}


def test_an_ask_is_named_while_it_is_live_and_its_details_never(tmp_path: Path) -> None:
    known = newsroom(tmp_path, {"stories/2026/a.md": story(asking(more=CONTACT), TOLD)})
    live, over = searched(known)["a"], searched(known, AFTER)["a"]
    assert [ask.title for ask in live.asks] == ["Bring a coat"] and "Bring a coat" in live.named
    assert over.asks == () and "Bring a coat" not in over.named
    assert live.record == over.record, "an ask that ends changes no word of its story"
    body = words(known, "2026/a")
    assert body == words(known, "2026/a", AFTER)
    for detail in ("Pier Lane", "555", "0142", "coats@", "friends.example", "2026-12-15"):
        assert detail not in body
    for word in ("Coats hang in the hall", "The lane by the pier was built in 1974"):
        assert word in " ".join(body.split())


@pytest.mark.parametrize(
    "told", ["4 Pier Lane", "4 PIER LN.", "Pier Lane 4", "pier  lane", "at 4, Pier Lane,"]
)
def test_a_street_is_taken_out_as_people_write_it(tmp_path: Path, told: str) -> None:
    known = newsroom(tmp_path, {"stories/2026/a.md": story(asking())})
    plain = without_details(f"Come to {told} with coats", known.stories[0])
    assert "ier" not in plain.lower() and plain.startswith("Come to") and plain.endswith("with coats")


def test_words_that_only_begin_like_a_street_stay(tmp_path: Path) -> None:
    known = newsroom(tmp_path, {"stories/2026/a.md": story(asking())})
    assert (
        without_details("the pier and the lane; Pierre's plane", known.stories[0])
        == "the pier and the lane; Pierre's plane"
    )


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Story:
    files = {"stories/2026/a.md": story(asking(more=CONTACT))}
    return newsroom(tmp_path_factory.mktemp("sample"), files).stories[0]


@given(text=st.text(alphabet="abc 019-().@/:w\n", max_size=60))
def test_no_long_number_and_no_address_is_ever_left(sample: Story, text: str) -> None:
    plain = without_details(f"x {text} www.example.org a@b.example 237 555 0142", sample)
    assert "a@b" not in plain and "www.e" not in plain and "0142" not in plain


@given(
    st.sampled_from(
        ["Pier Lane", "4 Quay Street", "ship it, Kate", "Wharf Way", "237-555-0142", "İstasyon kısa"]
    ),
    st.data(),
)
def test_what_is_sought_first_is_in_all_that_a_pattern_finds(words: str, data: st.DataObject) -> None:
    """The quick look before a pattern must miss nothing, whatever letters the pattern takes for the same."""
    for look, pattern in (_literally(words), _street(words)):
        swap = {"i": "iIıİ", "s": "sSſ", "k": "kKK", " ": [" ", "  ", "-"]}
        text = "".join(
            data.draw(st.sampled_from(swap.get(sign.lower(), [sign, sign.upper()]))) for sign in words
        )
        assert not pattern.search(text) or look.search(_low(text))


def test_the_archive_has_a_search_once_it_has_a_story(tmp_path: Path) -> None:
    def index(known: Newsroom) -> IndexPage:
        pages = compose_edition(known, NOW).edition.pages
        return next(page for page in pages if isinstance(page, IndexPage) and page.kind == "archive")

    assert index(newsroom(tmp_path / "none", {})).search is None
    assert index(newsroom(tmp_path / "some", {"stories/2026/a.md": story()})).search is not None
