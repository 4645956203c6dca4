"""Drafts: what was said stands where it belongs with its words, what was not said is a marked blank, and every file can be read."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.intake.drafts import Drafted, drafts
from sitegen.intake.taking import take_in
from sitegen.newsroom.records import Kind, Newsroom, When
from sitegen.site.content import read_content
from tests.counts import tries
from tests.intake.said import NEWSROOM
from tests.samples.intake_measures import demonstration_newsroom, taken
from tests.samples.programmes import programmes
from tests.samples.station_folder import PLACE, STATION, write_folder

AIRED = When(date(2026, 11, 21), time(18, 30))
COATS = (
    "The Friends of Lowgate Library want four hundred coats.",
    "Last year they collected two hundred and ten.",
    "You can drop them off at Lowgate Hall until December 15th.",
    "The number is 237-555-0142.",
    "The list of places is on our website.",
)


def captioned(*lines: str) -> str:
    blocks = [
        f"00:{number // 10:02d}:{number % 10 * 6:02d}.000 --> 00:{number // 10:02d}:{number % 10 * 6 + 5:02d}.000\n{line}\n"
        for number, line in enumerate(lines)
    ]
    return "WEBVTT\n\n" + "\n".join(blocks)


def drafted(newsroom: Newsroom, *lines: str) -> tuple[Drafted, tuple[Drafted, ...]]:
    intake = take_in(captioned(*lines), None, AIRED.day, AIRED.clock, newsroom)
    return drafts(intake, AIRED, newsroom, lambda path: None)


def written(root: Path, files: list[Drafted]) -> Path:
    for each in files:
        target = root / each.path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(each.text, "utf-8")
    return root


def titled(stories: Sequence[Drafted]) -> list[Drafted]:
    """With their asks' titles filled in."""
    return [
        replace(each, text=re.sub(r"( title:) .*", r"\1 Bring a coat", each.text, count=1))
        for each in stories
    ]


@pytest.fixture
def station(tmp_path: Path) -> Path:
    return write_folder(tmp_path, {"places/lowgate-hall.yaml": PLACE}, STATION)


def newsroom_of(root: Path) -> Newsroom:
    newsroom = read_content(root).newsroom
    assert newsroom is not None
    return newsroom


def test_what_was_said_stands_where_it_belongs(station: Path) -> None:
    episode, stories = drafted(newsroom_of(station), *COATS)
    reading = read_content(written(station, [episode, *titled(stories)]))
    assert reading.faults == () and reading.newsroom is not None
    story = next(each for each in reading.newsroom.stories if each.aired.day == AIRED.day)
    ask = story.asks[0]
    assert story.hold
    assert ask.kind is Kind.BRING
    assert ask.deadline == When(date(2026, 12, 15))
    assert [entry.place.id for entry in ask.drop_off] == ["lowgate-hall"]
    assert ask.goal is not None and (ask.goal.number, ask.goal.unit, ask.goal.last_time) == (
        400,
        "coats",
        210,
    )
    assert ask.contact is not None and ask.contact.phone == "237-555-0142"
    promise = reading.newsroom.episodes[0].promises[0]
    assert (promise.said, promise.kept_by) == (COATS[4], story.id)


def test_each_fact_has_the_words_it_came_from(station: Path) -> None:
    _, stories = drafted(newsroom_of(station), *COATS)
    lines = stories[0].text.splitlines()
    at = next(number for number, line in enumerate(lines) if line.strip().startswith("deadline:"))
    assert "December 15th" in lines[at - 1] and lines[at - 1].strip().startswith("# said at 00:00:12:")


def test_what_was_not_said_is_a_marked_blank(station: Path) -> None:
    _, stories = drafted(
        newsroom_of(station), "A choir in Lowgate sings in a barn.", "They are loud.", "They want tenors."
    )
    reading = read_content(written(station, list(stories)))
    assert reading.faults == () and reading.newsroom is not None
    story = next(each for each in reading.newsroom.stories if each.aired.day == AIRED.day)
    assert story.asks == () and story.town == "Lowgate"
    assert "fill in" in stories[0].text


def test_a_blank_county_keeps_nothing_else_from_going_out(station: Path) -> None:
    _, stories = drafted(
        newsroom_of(station), "A choir sings in a barn somewhere.", "They are loud.", "They sing."
    )
    reading = read_content(written(station, list(stories)))
    assert reading.faults == ()
    assert [each.check for each in reading.findings] == ["missing-while-held"]
    path = station / stories[0].path
    path.write_text(re.sub(r"hold: true.*\n", "", path.read_text("utf-8")), "utf-8")
    assert [each.check for each in read_content(station).faults] == ["missing"]


def test_an_ask_has_no_title_before_a_person_wrote_one(station: Path) -> None:
    _, stories = drafted(newsroom_of(station), *COATS)
    reading = read_content(written(station, list(stories)))
    assert reading.faults == () and [each.check for each in reading.findings] == ["missing-while-held"]
    path = station / stories[0].path
    path.write_text(re.sub(r"hold: true.*\n", "", path.read_text("utf-8")), "utf-8")
    assert ["'title'" in each.message for each in read_content(station).faults] == [True]


@pytest.mark.parametrize(
    ("said", "contact"),
    [
        ("The Hask Grange has no roof. Call me, 237-555-0142.", "{phone: 237-555-0142}"),
        ("It is at the Hask Grange on Sunday. The number is 237-555-0142.", "{phone: 237-555-0142}"),
        ("Call the Hask Grange at 237-555-0142.", "{name: Hask Grange, phone: 237-555-0142}"),
        ("Hask Grange's number is 237-555-0142.", "{name: Hask Grange, phone: 237-555-0142}"),
        ("The number there is 237-555-0199.", "{name: Lowgate Hall, phone: 237-555-0199}"),
    ],
)
def test_a_number_is_theirs_whose_it_was_said_to_be(said: str, contact: str, station: Path) -> None:
    hall = station / "content/places/lowgate-hall.yaml"
    hall.write_text(PLACE + "phone: 237-555-0199\n", "utf-8")
    lines = [f"{each}." for each in said.rstrip(".").split(". ")]
    _, stories = drafted(newsroom_of(station), "Bring coats to Lowgate Hall by December 15th.", *lines)
    (line,) = (each.strip() for each in stories[0].text.splitlines() if each.strip().startswith("contact:"))
    assert line.partition("   #")[0] == f"contact: {contact}"
    assert ("fill in" in line) == ("name" not in contact)


def test_a_place_s_other_number_is_told(station: Path) -> None:
    (station / "content/places/hask-grange.yaml").write_text(
        PLACE.replace("Lowgate Hall", "Hask Grange") + "phone: 237-555-0150\n", "utf-8"
    )
    _, stories = drafted(
        newsroom_of(station),
        "Bring coats to Lowgate Hall by Sunday.",
        "Call the Hask Grange at 237-555-0142.",
    )
    assert re.search(r"# look: .*hask-grange.*237-555-0150", stories[0].text)


def test_days_stand_in_order_and_the_evening_of_the_show_as_a_question(station: Path) -> None:
    _, stories = drafted(
        newsroom_of(station),
        "Beagles are looking for homes tonight.",
        "The parade is at Lowgate Hall on Saturday, December 12th.",
        "You can meet them Thursday through Sunday.",
    )
    assert "dates: [2026-11-26..2026-11-29, 2026-12-12]" in stories[0].text
    assert "# look: is it on 2026-11-21, too?" in stories[0].text


def followed(root: Path, *, deadline: str = "2026-11-25") -> Newsroom:
    """A station that asked for coats in three years, each story following the one before."""
    asks = "asks:\n  - {title: Bring a winter coat, kind: bring, deadline: DAY, drop_off: [lowgate-hall]}\n"
    for year, day, follows in (
        (2024, "2024-12-15", ""),
        (2025, "2025-12-15", "follows: 2024/coats\n"),
        (2026, deadline, "follows: 2025/coats\n"),
    ):
        # The oldest has the words that are said; the newer ones hardly any of them.
        headline = "Friends of Lowgate Library want coats" if year == 2024 else "Closet opens again"
        text = f"---\nheadline: {headline}\naired: {year}-11-14\ntown: Lowgate\n{follows}{asks.replace('DAY', day)}---\nBody.\n"
        path = root / f"content/stories/{year}/coats.md"
        path.parent.mkdir(parents=True)
        path.write_text(text, "utf-8")
    return newsroom_of(root)


def test_the_newest_of_stories_that_follow_each_other_is_followed(station: Path) -> None:
    _, stories = drafted(followed(station, deadline="2026-11-20"), *COATS)
    assert re.findall(r"# follows: (\S+)", stories[0].text) == ["2026/coats"]
    assert "# look: 2026/coats" not in stories[0].text


def test_a_story_that_still_asks_the_same_is_told(station: Path) -> None:
    _, stories = drafted(followed(station), *COATS)
    assert "# look: 2026/coats is still open" in stories[0].text


def test_what_one_presenter_says_to_another_is_no_headline(station: Path) -> None:
    _, stories = drafted(
        newsroom_of(station),
        "Tess, you've got the dentists.",
        "The dentists bring a van to Lowgate on Monday.",
    )
    assert "headline: The dentists bring a van" in stories[0].text


def test_a_draft_says_how_it_gets_another_address(station: Path) -> None:
    episode, stories = drafted(newsroom_of(station), *COATS)
    (line,) = (each for each in stories[0].text.splitlines() if "/stories/2026/" in each)
    assert f"/{stories[0].path.removeprefix('content/').removesuffix('.md')}/" in line
    assert f"write the new name into {episode.path}" in stories[0].text


def test_a_name_that_is_taken_gets_a_number() -> None:
    intake = take_in(captioned(*COATS), None, AIRED.day, AIRED.clock, NEWSROOM)
    _, first = drafts(intake, AIRED, NEWSROOM, lambda path: None)
    _, second = drafts(intake, AIRED, NEWSROOM, {first[0].path: "Something else."}.get)
    _, same = drafts(intake, AIRED, NEWSROOM, {first[0].path: first[0].text}.get)
    assert second[0].path == first[0].path.replace(".md", "-2.md")
    assert same[0].path == first[0].path


@settings(max_examples=tries(25))
@given(
    st.lists(
        st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=60), min_size=1, max_size=8
    )
)
def test_whatever_is_said_the_files_can_be_read(lines: list[str]) -> None:
    shown = [f"Bring coats to Lowgate Hall by December 15th, {' '.join(line.split())}." for line in lines]
    with tempfile.TemporaryDirectory() as folder:
        root = write_folder(Path(folder), {"places/lowgate-hall.yaml": PLACE}, STATION)
        episode, stories = drafted(newsroom_of(root), *[line.replace("-->", "to") for line in shown])
        reading = read_content(written(root, [episode, *stories]))
        assert reading.faults == ()


@pytest.mark.parametrize("name", ["harbor-bulletin", "evening-ledger", "porch-light"])
def test_drafts_of_whole_programmes_have_no_faults(name: str, tmp_path: Path) -> None:
    programme = next(each for each in programmes() if each.name == name)
    newsroom = replace(demonstration_newsroom(), stories=(), episodes=())
    aired = When(programme.aired.date(), programme.aired.time())
    intake = taken(programme, newsroom)
    episode, stories = drafts(intake, aired, newsroom, lambda path: None)
    station = (Path(__file__).parents[2] / "content" / "station.yaml").read_text("utf-8")
    root = tmp_path / "station"
    (root / "content").mkdir(parents=True)
    (root / "content" / "station.yaml").write_text(station.replace("map: counties.geojson\n", ""), "utf-8")
    for place in (Path(__file__).parents[2] / "content" / "places").glob("*.yaml"):
        written(root, [Drafted(f"content/places/{place.name}", place.read_text("utf-8"))])
    assert read_content(written(root, [episode, *stories])).faults == ()


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("Lowgate Hall needs volunteers to take it down on December 9th. If you have a truck, call 237-555-0182.", "volunteer"),
        ("Lowgate Hall is looking for twenty drivers to deliver meals by December 9th.", "volunteer"),
        ("Lowgate Hall needs blankets by December 9th. You can drop them off at Lowgate Hall.", "bring"),
        ("Lowgate Hall needs volunteers and blankets by December 9th. Take them to Lowgate Hall.", "bring"),
    ],
)  # fmt: skip
def test_what_helpers_do_is_not_what_viewers_hand_in(station: Path, said: str, kind: str) -> None:
    _, stories = drafted(newsroom_of(station), *re.split(r"(?<=\.) ", said))
    text = "".join(each.text for each in stories)
    assert f"kind: {kind}" in text
    assert ("drop_off:" in text) == (kind == "bring")


def test_a_count_of_a_whole_says_the_goal(station: Path) -> None:
    _, stories = drafted(
        newsroom_of(station),
        "Lowgate Hall burned last week.",
        "Neighbors have raised nine thousand of the twenty thousand dollars.",
        "The fund is open until December 15th.",
    )
    assert "goal: {number: 20000, unit: dollars, so_far: 9000}" in stories[0].text
