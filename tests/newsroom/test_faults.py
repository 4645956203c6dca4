"""What a producer is told: where, what is wrong, what to write instead; what each kind of ask must say; what is only a concern."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Ask, Finding, Reading, Weight
from tests.newsroom.whole_station import PLACE, STATION, STORY, write_whole

STORY_PATH = "stories/2026/coat-closet.md"


def read(root: Path, **changes: str) -> Reading:
    """The whole station with its story, station or place given anew."""
    paths = {"story": STORY_PATH, "station": "station.yaml", "place": "places/millrace-library.yaml"}
    return read_newsroom(write_whole(root, {paths[key]: text for key, text in changes.items()}), read_map)


def only_fault(reading: Reading) -> Finding:
    assert len(reading.faults) == 1, reading.faults
    return reading.faults[0]


# --- the nearest word ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("which", "change", "to", "nearest"),
    [
        ("story", "headline:", "headlin:", "headline"),
        ("story", "say_on_air:", "say on air:", "say_on_air"),
        ("story", "    not_accepted:", "    not-accepted:", "not_accepted"),
        ("story", "so_far:", "sofar:", "so_far"),
        ("story", "pick_up:", "pickup:", "pick_up"),
        ("story", "county: [Tidewick, Pellam]", "county: [Tidewik, Pellam]", "Tidewick"),
        ("story", "helps: [Pellam, beyond]", "helps: [PELLAM, beyond]", "Pellam"),
        ("story", "county: [Tidewick, Pellam]", "county: Beyond", "beyond"),
        ("story", "      - millrace-library", "      - milrace-library", "millrace-library"),
        ("story", "place: millrace-library", "place: Millrace Library", "millrace-library"),
        ("story", "follows: 2025/coat-closet", "follows: 2025/coat-closets", "2025/coat-closet"),
        ("story", "translates: 2025/coat-closet", "translates: 2025/coat-closets", "2025/coat-closet"),
        ("story", "(2025/coat-closet)", "(2025/coat-closset)", "2025/coat-closet"),
        ("story", "file: coat-closet.png", "file: coat-closet.jpg", "coat-closet.png"),
        ("story", "captions: coats.vtt", "captions: coat.vtt", "coats.vtt"),
        ("story", "listing: parades-2026.csv", "listing: parade-2026.csv", "parades-2026.csv"),
        ("story", "kind: volunteer", "kind: volunter", "volunteer"),
        ("story", "kind: tune in", "kind: tune-in", "tune in"),
        ("story", "kind: get help", "kind: gethelp", "get help"),
        ("story", "kind: update", "kind: updated", "update"),
        ("story", "goes_to: organization", "goes_to: organisation", "organization"),
        ("station", "America/New_York", "America/NewYork", "America/New_York"),
        ("station", "America/New_York", "america/new york", "America/New_York"),
        ("station", "recheck_days:", "recheck-days:", "recheck_days"),
        ("station", "postal_codes:", "postcodes:", "postal_codes"),
        ("place", "step_free: yes", "step_free: Yes", "yes"),
        ("place", "special_hours:", "specialhours:", "special_hours"),
        ("place", "county: Tidewick", "county: Tide Wick", "Tidewick"),
    ],
)
def test_the_nearest_known_word_is_named(
    tmp_path: Path, which: str, change: str, to: str, nearest: str
) -> None:
    text = {"story": STORY, "station": STATION, "place": PLACE}[which]
    assert change in text
    broken = text.replace(change, to, 1)
    faults = read(tmp_path, **{which: broken}).faults
    line = broken[: broken.index(to)].count("\n") + 1
    named = [fault for fault in faults if f"'{nearest}'" in fault.instead]
    assert line in {fault.spot.line for fault in named}, faults


@pytest.mark.parametrize(
    ("which", "change", "to", "instead"),
    [
        ("story", "aired: 2026-11-21", "aired: Nov. 21, 2026", "2026-11-21"),
        ("story", "deadline: 2026-12-15 17:30", "deadline: 12/15/2026 5:30 pm", "2026-12-15 17:30"),
        ("story", "deadline: 2026-12-15 17:30", "deadline: 5 p.m. Tuesday, Dec. 15", "2026-12-15 17:00"),
        ("story", "deadline: 2026-12-15 17:30", "deadline: 2026-12-15 midnight", "or 2026-12-14"),
        ("story", "hold: false", "hold: yes", "hold: true"),
        ("story", "number: 400", "number: 400 coats", "number: 400"),
        ("story", "web: https://friends.example.org/", "web: friends.example.org", "https://friends.example.org"),
        ("story", "say_on_air: coats", "say_on_air: The Coats", "the-coats"),
        ("story", "/old/coats/", "Old Coats", "/old-coats/"),
        ("station", "position: [34.61, -60.42]", "position: [-160.42, 34.61]", "[34.61, -160.42]"),
        ("place", 'hours: "Mo-Fr 09:00-17:00; 2nd Sa 10:00-12:00"', 'hours: "Mo-Fr 25:00-26:00"', "01:00"),
    ],
)  # fmt: skip
def test_what_was_probably_meant_is_written_out(
    tmp_path: Path, which: str, change: str, to: str, instead: str
) -> None:
    text = {"story": STORY, "station": STATION, "place": PLACE}[which]
    if change not in text:
        pytest.fail(f"{change} is not in the {which}")
    faults = read(tmp_path, **{which: text.replace(change, to, 1)}).faults
    assert any(instead in fault.instead for fault in faults), faults


# --- what each kind must say -----------------------------------------------------------------

PLACED, REACHED = "where: [millrace-library]", "contact: {phone: 237-555-0142}"
ENOUGH = {
    "bring": ("deadline: 2026-12-15", (PLACED, REACHED, "drop_off: [millrace-library]")),
    "volunteer": ("deadline: 2026-12-15", (PLACED, REACHED)),
    "get help": ("deadline: 2026-12-15", (PLACED, REACHED)),
    "give": ("deadline: 2026-12-15", ("payee: The Friends", REACHED)),
    "go": ("dates: 2026-12-18", (PLACED, REACHED)),
}


def story_asking(kind: str, *lines: str) -> str:
    asks = "".join(f"    {line}\n" for line in lines)
    return f"---\nheadline: H\naired: 2026-11-21\ncounty: Pellam\nasks:\n  - title: Do it\n    kind: {kind}\n{asks}---\nB\n"


def the_ask(reading: Reading) -> Ask | None:
    assert reading.newsroom is not None
    asks = next(story for story in reading.newsroom.stories if story.id == "2026/coat-closet").asks
    return asks[0] if asks else None


@pytest.mark.parametrize(("kind", "way"), [(kind, way) for kind, (_, ways) in ENOUGH.items() for way in ways])
def test_an_ask_with_an_end_and_a_way_is_enough(tmp_path: Path, kind: str, way: str) -> None:
    reading = read(tmp_path, story=story_asking(kind, ENOUGH[kind][0], way))
    assert not reading.faults and the_ask(reading) is not None


@pytest.mark.parametrize("kind", ENOUGH)
def test_an_ask_without_a_way_or_without_an_end_is_a_fault(tmp_path: Path, kind: str) -> None:
    end, ways = ENOUGH[kind]
    for number, lines in enumerate(((end,), (ways[0],))):
        reading = read(tmp_path / str(number), story=story_asking(kind, *lines))
        fault = only_fault(reading)
        assert fault.check == "missing" and fault.instead and 6 <= fault.spot.line <= 8
        assert the_ask(reading) is None


def test_tune_in_needs_a_time_and_minutes(tmp_path: Path) -> None:
    assert not read(
        tmp_path / "whole", story=story_asking("tune in", "dates: 2026-12-18 19:00", "minutes: 60")
    ).faults
    for number, lines in enumerate(
        (
            ("dates: 2026-12-18", "minutes: 60"),
            ("dates: 2026-12-18 19:00",),
            ("dates: 2026-12-18 19:00..2026-12-19 20:00", "minutes: 60"),
            ("minutes: 60",),
        )
    ):
        assert only_fault(read(tmp_path / str(number), story=story_asking("tune in", *lines)))


@pytest.mark.parametrize(
    "dates",
    ["2026-12-26..2026-11-27", "2026-12-05 19:00..2026-12-05 18:00", "2026-12-01..2026-12-02..2026-12-03", "[2026-12-01, [2026-12-02]]"],
)  # fmt: skip
def test_dates_that_cannot_be(tmp_path: Path, dates: str) -> None:
    fault = only_fault(read(tmp_path, story=story_asking("go", f"dates: {dates}", PLACED)))
    assert fault.spot.line == 8 and fault.instead


def test_ongoing_needs_a_day_to_check_again_by(tmp_path: Path) -> None:
    assert (
        only_fault(read(tmp_path / "a", story=story_asking("bring", "deadline: ongoing", PLACED))).check
        == "missing"
    )
    whole = read(
        tmp_path / "b", story=story_asking("bring", "deadline: ongoing", "check_again_by: 2027-01-15", PLACED)
    )
    assert not whole.faults


def test_a_key_of_another_kind_is_a_concern(tmp_path: Path) -> None:
    reading = read(tmp_path, story=story_asking("bring", "deadline: 2026-12-15", PLACED, "minutes: 60"))
    assert not reading.faults
    (concern,) = [finding for finding in reading.findings if finding.check == "key-without-effect"]
    assert concern.spot.line == 10


def test_an_ask_s_key_is_its_title_s_slug_and_each_has_its_own(tmp_path: Path) -> None:
    text = story_asking("give", "deadline: 2026-12-15", "payee: P").replace(
        "---\nB", "  - {title: Do it, kind: give, deadline: 2026-12-16, payee: P}\n---\nB"
    )
    reading = read(tmp_path, story=text)
    assert not reading.faults and reading.newsroom is not None
    story = next(each for each in reading.newsroom.stories if each.id == "2026/coat-closet")
    assert [ask.key for ask in story.asks] == ["do-it", "do-it-2"]
    assert [finding.check for finding in reading.findings if "ask" in finding.check] == ["ask-key"]


# --- what is only a concern ------------------------------------------------------------------


def test_a_time_that_comes_twice_is_a_concern_and_one_that_never_comes_a_fault(tmp_path: Path) -> None:
    twice = read(tmp_path / "a", story=story_asking("bring", "deadline: 2026-11-01 01:30", PLACED))
    assert not twice.faults
    assert [finding.spot.line for finding in twice.findings if finding.check == "time-twice"] == [8]
    never = read(tmp_path / "b", story=story_asking("bring", "deadline: 2026-03-08 02:30", PLACED))
    assert (only_fault(never).check, only_fault(never).spot.line, only_fault(never).spot.column) == (
        "time-in-gap",
        8,
        15,
    )


def test_a_day_both_closed_and_special_is_a_concern(tmp_path: Path) -> None:
    reading = read(tmp_path, place=PLACE.replace("closed: [2026-12-25", "closed: [2026-12-24"))
    assert not reading.faults
    assert [finding.check for finding in reading.findings if "closed" in finding.check] == [
        "closed-and-special"
    ]


def test_loose_hours_are_read_back(tmp_path: Path) -> None:
    reading = read(tmp_path, place=PLACE.replace('"Mo-Fr 09:00-17:00; 2nd Sa 10:00-12:00"', "Mon-Fri 9-5"))
    assert not reading.faults
    (concern,) = [finding for finding in reading.findings if finding.check == "hours-read-back"]
    assert "Mo-Fr 09:00-17:00" in concern.message + concern.instead


MORNING_TO_MORNING = "Mo-Fr 09:00-05:00; Sa 10:00-14:00"


@pytest.mark.parametrize(
    ("file", "to"),
    [
        ("place", f'hours: "{MORNING_TO_MORNING}"'),
        ("entry", f'    drop_off: [{{place: millrace-library, hours: "{MORNING_TO_MORNING}"}}]'),
        ("ask", f'    hours: "{MORNING_TO_MORNING}"'),
    ],
)
def test_hours_from_one_morning_to_the_next_are_a_concern(tmp_path: Path, file: str, to: str) -> None:
    if file == "place":
        reading = read(tmp_path, place=PLACE.replace('hours: "Mo-Fr 09:00-17:00; 2nd Sa 10:00-12:00"', to))
    else:
        lines = ("deadline: 2026-12-15",) if file == "entry" else ("dates: 2026-12-18", PLACED)
        reading = read(tmp_path, story=story_asking("bring" if file == "entry" else "go", *lines, to.strip()))
    assert not reading.faults
    (concern,) = [finding for finding in reading.findings if finding.check == "hours-overnight"]
    assert "09:00-05:00" in concern.message and "20 hours" in concern.message
    assert 'hours: "Mo-Fr 09:00-17:00; Sa 10:00-14:00"' in concern.instead


@pytest.mark.parametrize(
    "hours",
    ["Mo-Fr 18:00-06:00", "Mo-Fr 12:00-05:00", "Mo-Fr 11:00-01:00", "Mo-Fr 05:00-24:00", "24/7", "9:00-5:00 Mo-Fr",
     "Mo-Fr 09:00-24:00; Tu-Sa 00:00-05:00"],
)  # fmt: skip
def test_nights_that_are_meant_and_long_days_are_no_concern(tmp_path: Path, hours: str) -> None:
    reading = read(tmp_path, place=PLACE.replace('"Mo-Fr 09:00-17:00; 2nd Sa 10:00-12:00"', f'"{hours}"'))
    assert not reading.faults
    assert "hours-overnight" not in {finding.check for finding in reading.findings}


def test_special_hours_from_one_morning_to_the_next_are_a_concern(tmp_path: Path) -> None:
    reading = read(
        tmp_path, place=re.sub("special_hours: .*", 'special_hours: {2026-12-12: "08:00-01:00"}', PLACE)
    )
    assert not reading.faults
    (concern,) = [finding for finding in reading.findings if finding.check == "hours-overnight"]
    assert '2026-12-12: "08:00-13:00"' in concern.instead


def test_two_spellings_of_one_fault_are_told_once_and_in_order(tmp_path: Path) -> None:
    reading = read(
        tmp_path,
        story=STORY.replace("hold: false", "hold: maybe").replace(
            "goal: {number: 400", "goal: {number: lots"
        ),
    )
    spots = [(finding.spot.path, finding.spot.line, finding.spot.column) for finding in reading.findings]
    assert spots == sorted(spots)
    assert len(set(reading.findings)) == len(reading.findings)


# --- one cause, one fault --------------------------------------------------------------------


def test_an_unreadable_place_is_told_once_however_many_asks_name_it(tmp_path: Path) -> None:
    reading = read(tmp_path, place=PLACE.replace("town: Millrace\n", ""))
    assert only_fault(reading).spot.path == "content/places/millrace-library.yaml"


def test_an_unreadable_station_leaves_other_files_their_own_faults(tmp_path: Path) -> None:
    reading = read(tmp_path, station="station: [", story=STORY.replace("hold: false", "hold: maybe"))
    assert reading.newsroom is None
    assert {fault.spot.path for fault in reading.faults} == {"content/station.yaml", f"content/{STORY_PATH}"}


def test_a_story_without_front_matter_is_still_a_story_that_others_may_name(tmp_path: Path) -> None:
    reading = read(tmp_path, story="just words\n")
    assert only_fault(reading).check == "front-matter"


def test_all_faults_of_one_file_come_together(tmp_path: Path) -> None:
    text = STORY
    for change, to in (
        ("hold: false", "hold: maybe"),
        ("kind: volunteer", "kind: volunter"),
        ("minutes: 60", "minutes: 0"),
        ("deadline: 2026-12-14", "deadline: 2026-02-30"),
        ("kind: update", "kind: new"),
        ("email: coats@example.org", "email: coats"),
        ("(2025/coat-closet)", "(2025/coats)"),
        ("position: [34.8, -60.2]", "position: [134.8, -60.2]"),
    ):
        assert change in text
        text = text.replace(change, to, 1)
    reading = read(tmp_path, story=text)
    assert len({fault.spot.line for fault in reading.faults}) >= 8
    assert all(
        fault.weight is Weight.FAULT and fault.spot.path == f"content/{STORY_PATH}"
        for fault in reading.faults
    )


# --- what a newcomer writes ------------------------------------------------------------------


@pytest.mark.parametrize(
    "alt",
    [
        "IMG_2234.JPG", "IMG_2234", "coat-closet.png", "Coat-Closet", "coat-closet", "photo", "Photo", "image", "picture.", "Image 3", "DSC0042",
        "final version (2).jpeg", "photo (1)", "Screenshot_2026-11-21", "image1.png",
    ],
)  # fmt: skip
def test_a_name_is_no_text_for_a_photo(tmp_path: Path, alt: str) -> None:
    text = STORY.replace("Two volunteers hang coats on a rail", alt, 1)
    (found,) = (
        each for each in read(tmp_path, story=text).findings if each.check == "photo-alternative-is-a-name"
    )
    assert found.weight is Weight.CONCERN
    line = text.splitlines()[found.spot.line - 1]
    assert line[found.spot.column - 1 :].startswith(f'"{alt}"')


@pytest.mark.parametrize(
    ("alt", "file"),
    [
        ("Two volunteers hang coats on a rail", ""),
        ("Photo of two volunteers", ""),
        ("Picture books on a shelf", ""),
        ("Coat closet", ""),
        ("choir", "choir.png"),
        ("A scan of a letter from 1926", ""),
        ("Pictures", ""),
    ],
)
def test_a_description_is_none(tmp_path: Path, alt: str, file: str) -> None:
    text = STORY.replace("Two volunteers hang coats on a rail", alt, 1)
    text = text.replace("file: coat-closet.png", f"file: {file or 'coat-closet.png'}", 1)
    assert not [
        each for each in read(tmp_path, story=text).findings if each.check == "photo-alternative-is-a-name"
    ]


@pytest.mark.parametrize(
    "written",
    ["Tidewick & Pellam", "'Tidewick, Pellam'", "Tidewick and Pellam", "Tidewick/Pellam", "tidewick; Pellam"],
)
def test_several_counties_in_one_text_are_to_be_a_list(tmp_path: Path, written: str) -> None:
    text = STORY.replace("county: [Tidewick, Pellam]", f"county: {written}", 1)
    (fault,) = (each for each in read(tmp_path, story=text).faults if each.check == "unknown-county")
    assert "county: [Tidewick, Pellam]" in fault.instead


def test_a_place_lies_in_one_county(tmp_path: Path) -> None:
    text = PLACE.replace("county: Tidewick", "county: Tidewick & Pellam", 1)
    (fault,) = (each for each in read(tmp_path, place=text).faults if each.check == "unknown-county")
    assert "Tidewick or Pellam" in fault.instead and "[" not in fault.instead


@pytest.mark.parametrize(
    ("target", "instead"),
    [
        ("www.example.org", "https://www.example.org"),
        ("example.org/coats?size=m", "https://example.org/coats?size=m"),
        ("Friends.example.com", "https://Friends.example.com"),
        ("coats@example.org", "mailto:coats@example.org"),
    ],
)
def test_an_address_without_its_scheme_is_not_taken_for_a_story(
    tmp_path: Path, target: str, instead: str
) -> None:
    text = STORY.replace("(2025/coat-closet)", f"({target})", 1)
    fault = only_fault(read(tmp_path, story=text))
    assert fault.check == "link-scheme" and fault.instead.endswith(instead)
    assert "story" not in fault.message
    assert text.splitlines()[fault.spot.line - 1][fault.spot.column - 1] == "["


@pytest.mark.parametrize(
    ("name", "good"), [("e7 Final (2).MD", "e7-final-2.md"), ("Coats.markdown", "coats.md")]
)
def test_a_file_of_another_ending_is_told_a_name_that_can_be_used(
    tmp_path: Path, name: str, good: str
) -> None:
    reading = read_newsroom(write_whole(tmp_path, {f"stories/2026/{name}": STORY}), read_map)
    (found,) = (each for each in reading.findings if each.check == "not-read")
    assert f"Rename it to {good}" in found.instead
