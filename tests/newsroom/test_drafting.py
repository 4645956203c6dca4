"""Drafts: what was answered reads back as it was meant, and what is missing is named where it stands."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.newsroom.drafting import KINDS, DraftError, draft, questions
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Kind, Mode, Newsroom, Reading
from tests.counts import tries
from tests.samples.station_folder import write_folder


def no_map(text: str, counties: object) -> tuple[tuple[()], tuple[()]]:
    return (), ()


def read(root: Path) -> Reading:
    return read_newsroom(root, no_map)


def newsroom_of(root: Path) -> Newsroom:
    found = read(root).newsroom
    assert found is not None
    return found


def add(root: Path, what: str, answers: dict[str, str]) -> Reading:
    """Drafts into a folder as the command does, and reads the folder again."""
    path, text = draft(what, answers, newsroom_of(root))
    target = root / path
    target.parent.mkdir(parents=True, exist_ok=True)
    with target.open("x", encoding="utf-8") as file:
        file.write(text)
    return read(root)


def let_go(root: Path, path: str) -> Reading:
    """The station once a story is not on hold any more."""
    file = root / path
    file.write_text(re.sub(r"(?m)^hold: true", "hold: false", file.read_text("utf-8")), "utf-8")
    return read(root)


def faults(reading: Reading) -> list[str]:
    return [f"{fault.spot.line}: {fault.message}" for fault in reading.faults]


@pytest.fixture
def station(tmp_path: Path) -> Path:
    return write_folder(tmp_path)


STORY = {
    "headline": "Two boats: one harbour & a #1 crew",
    "aired": "2026-11-21 18:30",
    "county": "Heron Flats",
}

ASKS: dict[Kind, dict[str, str]] = {
    Kind.BRING: {"title": "Bring a rope", "deadline": "2026-12-15", "place": "lowgate-hall"},
    Kind.GIVE: {
        "title": "Help with sails",
        "deadline": "2026-12-15 17:00",
        "payee": "Friends of Lowgate Hall",
    },
    Kind.VOLUNTEER: {"title": "Paint a hull", "deadline": "2026-12-15", "phone": "237-555-0142"},
    Kind.GO: {
        "title": "See the fleet",
        "dates": "2026-11-27..2026-12-02, 2026-12-05 19:00",
        "place": "lowgate-hall",
    },
    Kind.GET_HELP: {
        "title": "A warm room",
        "deadline": "2026-12-15",
        "place": "lowgate-hall",
        "phone": "237-555-0142",
    },
    Kind.TUNE_IN: {"title": "Watch the race", "dates": "2026-12-18 19:00", "minutes": "60"},
}


def test_every_kind_of_ask_has_a_case() -> None:
    assert set(ASKS) == set(Kind)


@pytest.mark.parametrize("kind", ASKS, ids=lambda kind: kind.value)
def test_a_fully_answered_story_reads_back_without_a_fault(station: Path, kind: Kind) -> None:
    reading = add(station, "story", {**STORY, "kind": kind.value, **ASKS[kind]})
    assert faults(reading) == []
    assert reading.newsroom is not None
    (story,) = reading.newsroom.stories
    assert story.id == "2026/two-boats-one-harbour-a-1-crew"
    assert story.headline == STORY["headline"]
    assert story.counties == ("heron-flats",)
    (ask,) = story.asks
    assert (ask.kind, ask.title) == (kind, ASKS[kind]["title"])
    assert [drop_off.place.id for drop_off in ask.drop_off] == (
        ["lowgate-hall"] if "place" in ASKS[kind] else []
    )
    assert (ask.contact is not None and ask.contact.phone) == ASKS[kind].get("phone", False)
    if kind is Kind.GO:
        assert len(ask.dates) == 2
    if kind is Kind.TUNE_IN:
        assert ask.minutes == 60
    if kind is Kind.GIVE:
        assert ask.payee == "Friends of Lowgate Hall"


def test_a_story_without_an_ask(station: Path) -> None:
    reading = add(station, "story", STORY)
    assert faults(reading) == []
    assert reading.newsroom is not None and reading.newsroom.stories[0].asks == ()


@pytest.mark.parametrize("kind", Kind, ids=lambda kind: kind.value)
def test_what_is_left_open_is_marked_on_the_line_of_the_fault(station: Path, kind: Kind) -> None:
    answers = {"headline": "Boats", "aired": "2026-11-21", "kind": kind.value}
    path, text = draft("story", answers, newsroom_of(station))
    held = add(station, "story", answers)
    assert held.faults == () and held.newsroom is not None and held.newsroom.stories[0].hold
    told = [(each.spot, each.check) for each in held.findings]
    assert told and {check for _, check in told} == {"missing-while-held"}
    reading = let_go(station, path)
    assert [each.spot for each in reading.faults] == [spot for spot, _ in told]
    for fault in reading.faults:
        assert fault.spot.path == path
        assert "# fill in:" in text.splitlines()[fault.spot.line - 1], fault.message


@pytest.mark.parametrize("kind", Kind, ids=lambda kind: kind.value)
def test_writing_the_example_beside_each_mark_is_enough(station: Path, kind: Kind) -> None:
    path, text = draft(
        "story", {"headline": "Boats", "aired": "2026-11-21", "kind": kind.value}, newsroom_of(station)
    )
    lines = []
    for line in text.splitlines():
        written, mark, rest = line.partition("   # fill in:")
        lines.append(f"{written} {rest.rpartition('such as ')[2]}" if mark else line)
    (station / path).parent.mkdir(parents=True)
    (station / path).write_text("\n".join(lines), "utf-8")
    assert faults(let_go(station, path)) == []


def test_an_ongoing_ask_must_say_when_to_ask_again(station: Path) -> None:
    answers = {**STORY, "kind": "volunteer", "title": "Paint", "deadline": "ongoing", "phone": "237-555-0142"}
    path, text = draft("story", answers, newsroom_of(station))
    add(station, "story", answers)
    (fault,) = let_go(station, path).faults
    assert "check_again_by:" in text.splitlines()[fault.spot.line - 1]


def test_the_town_tells_the_county(station: Path) -> None:
    reading = add(station, "story", {"headline": "Boats", "aired": "2026-11-21", "town": "Lowgate"})
    assert faults(reading) == []
    assert reading.newsroom is not None and reading.newsroom.stories[0].counties == ("heron-flats",)


def test_several_counties_and_beyond(station: Path) -> None:
    two = add(station, "story", {"headline": "A", "aired": "2026-11-21", "county": "Heron Flats, gull-bank"})
    assert two.newsroom is not None and two.newsroom.stories[0].counties == ("heron-flats", "gull-bank")
    far = add(station, "story", {"headline": "B", "aired": "2026-11-21", "county": "beyond"})
    assert far.newsroom is not None and far.newsroom.stories[1].counties == ("beyond",)


def test_an_episode_takes_the_stories_of_its_day(station: Path) -> None:
    add(station, "story", {**STORY, "headline": "One"})
    add(station, "story", {**STORY, "headline": "Two"})
    add(station, "story", {**STORY, "headline": "Another day", "aired": "2026-11-28"})
    reading = add(station, "episode", {"aired": "2026-11-21 18:30", "title": "Boats, boats: boats"})
    assert faults(reading) == []
    assert reading.newsroom is not None
    (episode,) = reading.newsroom.episodes
    assert (episode.id, episode.title) == ("2026-11-21", "Boats, boats: boats")
    assert [entry.story for entry in episode.rundown] == ["2026/one", "2026/two"]


def test_an_empty_episode(station: Path) -> None:
    reading = add(station, "episode", {"aired": "2026-11-21 18:30"})
    assert faults(reading) == []


def test_a_place_writes_its_hours_canonically(station: Path) -> None:
    answers = {
        "name": "St. Brendan's Hall",
        "town": "Sandy End",
        "hours": "Mon-Fri 9-5, 2nd Sat 10-noon",
        "phone": "237-555-0142",
    }
    reading = add(station, "place", answers)
    assert faults(reading) == []
    assert not [finding for finding in reading.findings if finding.check == "hours"]
    assert reading.newsroom is not None
    place = next(place for place in reading.newsroom.places if place.id == "st-brendans-hall")
    assert (place.county, place.hours.text) == ("gull-bank", "Mo-Fr 09:00-17:00; 2nd Sa 10:00-12:00")


def test_a_place_left_open_names_every_blank(station: Path) -> None:
    path, text = draft("place", {"name": "Hall"}, newsroom_of(station))
    reading = add(station, "place", {"name": "Hall"})
    marked = {
        number
        for number, line in enumerate(text.splitlines(), 1)
        if "# fill in:" in line and not line.startswith("hours: unknown")
    }
    assert {fault.spot.line for fault in reading.faults if fault.spot.path == path} == marked != set()


def test_a_place_whose_hours_nobody_gave_stops_no_edition(station: Path) -> None:
    reading = add(station, "place", {"name": "Rope Shed", "town": "Sandy End"})
    assert faults(reading) == []
    assert reading.newsroom is not None
    place = next(each for each in reading.newsroom.places if each.id == "rope-shed")
    assert place.hours.mode is Mode.UNKNOWN


def test_a_page(station: Path) -> None:
    reading = add(station, "page", {"title": 'Who we are: "us"', "summary": "- and #why"})
    assert faults(reading) == []
    assert reading.newsroom is not None
    assert (reading.newsroom.pages[0].title, reading.newsroom.pages[0].summary) == (
        'Who we are: "us"',
        "- and #why",
    )


@pytest.mark.parametrize("what", KINDS)
def test_examples_pass_their_checks_and_make_a_file_without_a_fault(station: Path, what: str) -> None:
    asked = questions(what, newsroom_of(station))
    for question in asked:
        assert question.check(question.example) == "", question.key
    answers: dict[str, str] = {}
    for question in asked:
        if question.needed(answers):
            answers[question.key] = question.example
    assert faults(add(station, what, answers)) == []


@pytest.mark.parametrize(
    ("what", "key", "answer"),
    [
        ("story", "headline", ""),
        ("story", "headline", "祝"),
        ("story", "aired", ""),
        ("story", "aired", "Nov 21"),
        ("story", "aired", "2026-02-30"),
        ("story", "county", "Herron Flats"),
        ("story", "county", "beyond, Heron Flats"),
        ("story", "kind", "donate"),
        ("story", "deadline", "soon"),
        ("story", "place", "lowgate-hal"),
        ("story", "phone", "call us"),
        ("episode", "aired", ""),
        ("place", "name", "—"),
        ("place", "county", "beyond"),
        ("place", "county", "Heron Flats, Gull Bank"),
        ("place", "hours", "1-5"),
        ("page", "title", ""),
    ],
)
def test_answers_that_cannot_be_used(station: Path, what: str, key: str, answer: str) -> None:
    newsroom = newsroom_of(station)
    question = next(question for question in questions(what, newsroom) if question.key == key)
    assert question.check(answer)
    answers = {"headline": "A", "aired": "2026-11-21", "kind": "bring"} if what == "story" else {}
    if what == "place":
        answers = {"name": "A"}
    with pytest.raises(DraftError):
        draft(what, {**answers, key: answer}, newsroom)


@pytest.mark.parametrize("answer", ["2026-12-18", "2026-12-18 19:00..2026-12-19 20:00"])
def test_a_broadcast_needs_a_time(station: Path, answer: str) -> None:
    with pytest.raises(DraftError):
        draft("story", {**STORY, "kind": "tune in", "dates": answer}, newsroom_of(station))


@pytest.mark.parametrize(
    "answer", ["2026-12-18..", "2026-12-18..2026-12-01", "2026-12-01..2026-12-02..2026-12-03"]
)
def test_dates_that_make_no_range(station: Path, answer: str) -> None:
    with pytest.raises(DraftError):
        draft("story", {**STORY, "kind": "go", "dates": answer}, newsroom_of(station))


def test_nothing_is_overwritten(station: Path) -> None:
    for what, answers in (
        ("story", STORY),
        ("episode", {"aired": "2026-11-21 18:30"}),
        ("page", {"title": "About"}),
        ("place", {"name": "Lowgate Hall", "town": "Lowgate"}),
    ):
        if what != "place":
            add(station, what, answers)
        with pytest.raises(DraftError):
            draft(what, answers, newsroom_of(station))


def test_what_is_not_asked_is_refused(station: Path) -> None:
    newsroom = newsroom_of(station)
    for answers in (
        {**STORY, "colour": "red"},
        {**STORY, "deadline": "2026-12-15"},
        {**STORY, "kind": "go", "deadline": "2026-12-15"},
    ):
        with pytest.raises(DraftError):
            draft("story", answers, newsroom)
    with pytest.raises(DraftError):
        draft("poem", {}, newsroom)


def test_few_questions(station: Path) -> None:
    """A story with one ask takes ten answers at most; nothing an ask does not need is asked."""
    asked = questions("story", newsroom_of(station))
    for kind in Kind:
        answers: dict[str, str] = {"kind": kind.value}
        keys = [question.key for question in asked if question.needed(answers)]
        assert len(keys) == len(set(keys)) <= 10
    assert len([question for question in asked if question.needed({})]) == 5
    # A station that has stories is asked whether one of them goes on; if so, nothing but its name and its day.
    add(station, "story", STORY)
    asked = questions("story", newsroom_of(station))
    for kind in Kind:
        assert len([question for question in asked if question.needed({"kind": kind.value})]) <= 10
    following = [question.key for question in asked if question.needed({"follows": "2026/x"})]
    assert following == ["follows", "headline", "aired"]


@settings(max_examples=tries(60))
@given(
    st.text(max_size=40),
    st.text(st.sampled_from("ab: #-'\"{}[],&*!|>%@`~\\\t\n\u2028\ufeff😀\u200dé0"), max_size=12),
)
def test_any_text_comes_back_as_it_was_typed(words: str, signs: str) -> None:
    """On one line, and without control characters."""
    headline = f"A{words}"
    title = f"{signs}b"
    with tempfile.TemporaryDirectory() as folder:
        root = write_folder(Path(folder))
        answers = {
            **STORY,
            "headline": headline,
            "town": words,
            "kind": "volunteer",
            "title": title,
            "deadline": "2026-12-15",
            "phone": "237-555-0142",
        }
        reading = add(root, "story", answers)
        assert faults(reading) == []
        assert reading.newsroom is not None
        (story,) = reading.newsroom.stories
        typed = [" ".join(text.split()) for text in (headline, title)]
        if all(sign.isprintable() or sign.isspace() for sign in headline):
            assert story.headline == typed[0]
        if all(sign.isprintable() or sign.isspace() for sign in title):
            assert story.asks[0].title == typed[1]
