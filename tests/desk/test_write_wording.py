"""What the form says to write instead is what its fields take: values alone, labels and buttons; and a pair copied from elsewhere is understood."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.desk.write.entered import pasted, read_text
from sitegen.desk.write.wording import in_form
from sitegen.newsroom.forms import FORMS, Entry
from sitegen.newsroom.records import Finding, Spot, Weight
from tests.desk.filled_form import form_in, opened
from tests.desk.running_desk import Desk, desk_of
from tests.samples.station_folder import asking, story, write_folder

COATS = "stories/2026/coats.md"
TEXT = story(asking(more="deadline: 2026-12-15\ncontact: {phone: 237-555-0142}\ngoal: {number: 4}"))


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with desk_of(write_folder(tmp_path, {COATS: TEXT})) as running:
        yield running


def told(page: str, name: str) -> str:
    place = BeautifulSoup(page, "html.parser").find(id="told-f-" + name.replace("/", "-"))
    assert place is not None
    return place.get_text(" ", strip=True)


def said(name: str, instead: str, check: str = "", kind: str = "story") -> str:
    return in_form(FORMS[kind], name, Finding(Spot("content/x", 1, 1), Weight.FAULT, check, "", instead))


def entry(name: str, kind: str = "story") -> Entry:
    fields, found = FORMS[kind].fields, None
    for step in name.split("/"):
        found = next(each for each in fields if each.key == step)
        fields = found.fields
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("name", "wrong", "right"),
    [
        ("asks/0/contact/web", "www.example.org", "https://www.example.org"),
        ("asks/0/goal/number", "1,000", "1000"),
        ("hold", "yes", ""),
    ],
)
def test_who_follows_what_is_said_has_mended_it(desk: Desk, name: str, wrong: str, right: str) -> None:
    form = opened(desk, COATS)
    form.put(name, wrong)
    words = told(form.send(desk, "check").text, name)
    assert f"{name.rpartition('/')[2]}:" not in words and (not right or words.endswith(f": {right}"))
    if right:
        form.put(name, right)
        assert told(form.send(desk, "check").text, name) == ""


@pytest.mark.parametrize(
    ("name", "copied"),
    [
        ("asks/0/contact/web", "web: https://www.example.org"),
        ("asks/0/contact/web", '"https://www.example.org"'),
        ("asks/0/goal/number", "number: 1000"),
        ("asks/0/where/0/hours", 'hours: "Mo-Fr 09:00-17:00"'),
        ("asks/0/deadline", "deadline: 2026-12-15"),
        ("say_on_air", "say_on_air: 'coats'"),
    ],
)
def test_a_pair_that_is_copied_into_its_field_is_its_value(desk: Desk, name: str, copied: str) -> None:
    form = opened(desk, COATS)
    form.put(name, copied)
    assert told(form.send(desk, "check").text, name) == ""
    assert form.send(desk, "save").status == 303
    value = re.sub(r"^\w+: |[\"']", "", copied)
    assert opened(desk, COATS).get(name) == value


def test_both_halves_of_a_position_are_taken_from_one_field(desk: Desk) -> None:
    form = opened(desk, "places/lowgate-hall.yaml")
    for copied in ("34.7, -60.5", "position: [34.7, -60.5]"):
        form.put("position/latitude", copied)
        form.put("position/longitude", "")
        again = form_in(form.send(desk, "check").text)
        assert (again.get("position/latitude"), again.get("position/longitude")) == ("34.7", "-60.5")


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("headline", '"Coats" and "gloves"', '"Coats" and "gloves"'),
        ("headline", "headline: Coats #1 \"of\" 'two'", "Coats #1 \"of\" 'two'"),
        ("headline", 'headline: "Coats" # "gloves"', '"Coats" # "gloves"'),
        ("headline", "headline:Coats", "headline:Coats"),
        ("headline", "summary: Coats", "summary: Coats"),
        ("headline", '"We kept it warm"', '"We kept it warm"'),
        ("headline", "headline:", "headline:"),
        ("summary", "summary: in two words", "summary: in two words"),
        ("summary", 'summary: "In two words."', "In two words."),
        ("topics", "topics: [clothing, libraries]", ("clothing", "libraries")),
        ("desk", "desk: M. Oake", {"desk": "M. Oake"}),
    ],
)
def test_other_words_are_never_taken_apart(name: str, text: str, value: object) -> None:
    assert read_text(entry(name), text) == value


def test_a_field_that_was_not_touched_keeps_what_looks_like_a_pair(tmp_path: Path) -> None:
    odd = TEXT.replace("headline: A headline", 'headline: "headline: A headline"')
    root = write_folder(tmp_path, {COATS: odd})
    with desk_of(root) as running:
        assert opened(running, COATS).send(running, "save").status == 303
    assert (root / "content" / COATS).read_text() == odd


def test_who_has_buttons_is_told_of_buttons(desk: Desk) -> None:
    form = form_in(opened(desk, COATS).send(desk, "add asks bring").text)
    form.put("asks/1/title", "Bring gloves")
    form.put("asks/1/deadline", "2026-12-15")
    page = form.send(desk, "check").text
    words = told(page, "asks/1/drop_off")
    soup = BeautifulSoup(page, "html.parser")
    quoted = re.findall("“(.*?)”", words)
    assert len(quoted) >= 3
    texts = {each.get_text(strip=True) for each in soup.find_all(["button", "h4", "summary", "label"])}
    assert set(quoted) <= texts
    assert "millrace" not in words and "{" not in words


@pytest.mark.parametrize(
    ("name", "instead", "kind", "expected"),
    [
        ("hours", 'Write instead: hours: "Mo-Fr 09:00-17:00"', "place", "Write instead: Mo-Fr 09:00-17:00"),
        ("hours", 'Write, for example: hours: "Mo 09:00-17:00"  (or: by appointment, or: unknown)', "place",
         "Write, for example: Mo 09:00-17:00 (or: by appointment, or: unknown)"),
        ("asks/0/deadline", "Write: deadline: 2026-12-15, or: deadline: ongoing, with check_again_by", "story",
         "Write: 2026-12-15, or: ongoing, with “Ask again by”"),
        ("asks/0/check_again_by", "Remove it, or write: deadline: ongoing", "story", "Remove it, or write under “Deadline”: ongoing"),
        ("asks/0/payee", "Write: goes_to: organization, or: goes_to: named person", "story",
         "Choose “Organization” under “The money goes to”, or “Named person”"),
        ("hold", "Write instead: hold: true", "story", "Choose “Yes”"),
        ("county", "Write, for example: county: Tidewick", "place", "Choose one"),
        ("position", "Write, for example: position: [34.70, -60.50]", "place", "Write, for example: latitude 34.70, longitude -60.50"),
        ("asks/0/title", "Ask, then write: closed: [2026-12-25]. If it is open, name that day.", "story",
         "Ask, then write under “Not on”: 2026-12-25. If it is open, name that day."),
        ("home/consent", "Write: home: {consent: 2026-11-01}, or leave the place out.", "place", "Write: 2026-11-01, or leave the place out."),
        ("headline", "Did you mean 'Coats: two'?", "story", "Did you mean 'Coats: two'?"),
        ("topics", "Write one of: a, b, or: c", "story", "Write one of: a, b, or: c"),
        ("nothing/of/ours", "Write: hold: true", "story", "Write: hold: true"),
    ],
)  # fmt: skip
def test_pairs_are_said_for_fields(name: str, instead: str, kind: str, expected: str) -> None:
    assert said(name, instead, kind=kind) == expected


def test_boxes_are_ticked() -> None:
    assert "Tidewick" not in said(
        "county", "Write, for example: county: Tidewick  (or a list, or: beyond)", "missing"
    )


def test_a_place_that_is_begun_is_told_in_the_same_words(desk: Desk) -> None:
    form = form_in(desk.ask("/_desk/write/new/place").text)
    for name, text in {
        "name": "Quay",
        "town": "Sandy End",
        "county": "Gull Bank",
        "hours": 'hours: "Mo-Fr 09:00-17:00"',
    }.items():
        form.put(name, text)
    assert form.send(desk, "begin").status == 303
    assert opened(desk, "places/quay.yaml").get("hours") == "Mo-Fr 09:00-17:00"


def test_what_is_pasted_is_one_thing_for_every_kind_of_field() -> None:
    assert (
        pasted(entry("special_hours", "place"), 'special_hours: {2026-12-12: "08:00-12:00"}')
        == "2026-12-12: 08:00-12:00"
    )


# --- places by their names ------------------------------------------------------------------------

MERCADO = "name: Mercado de la Vista\ntown: Lowgate\ncounty: Heron Flats\nhours: unknown\n"


def naming_a_place(root: Path, words: str, more: dict[str, str] | None = None) -> tuple[str, str]:
    """What a place in the form of the ask's is told, and the form's page after a check."""
    files = {COATS: TEXT, "places/mercado-de-la-vista.yaml": MERCADO, **(more or {})}
    with desk_of(write_folder(root, files)) as running:
        form = form_in(opened(running, COATS).send(running, "add asks/0/where").text)
        form.put("asks/0/where/1/place", words)
        page = form.send(running, "check").text
        checked = form.send(running, "check", f"/_desk/write/check/{COATS}").text
    assert (told(page, "asks/0/where/1/place") == "") == ('"asks/0/where/1/place"' not in checked)
    return told(page, "asks/0/where/1/place"), form_in(page).get("asks/0/where/1/place")


@pytest.mark.parametrize(
    "words", ["Mercado de la Vista", " mercado  de la vista", "Mercado de la Vista, Lowgate"]
)
def test_a_place_typed_by_its_name_is_taken_for_its_file(tmp_path: Path, words: str) -> None:
    assert naming_a_place(tmp_path, words) == ("", "mercado-de-la-vista")


def test_a_name_that_two_places_have_is_asked_about(tmp_path: Path) -> None:
    other = {
        "places/mercado-two.yaml": MERCADO.replace("Lowgate", "Sandy End").replace("Heron Flats", "Gull Bank")
    }
    found, kept = naming_a_place(tmp_path, "Mercado de la Vista", other)
    assert "Did you mean 'mercado-de-la-vista' or 'mercado-two'?" in found
    assert kept == "Mercado de la Vista"
    assert naming_a_place(tmp_path, "Mercado de la Vista, Sandy End", other) == ("", "mercado-two")


def test_a_place_that_nobody_knows_is_answered_in_the_form_s_own_words(tmp_path: Path) -> None:
    many = {f"places/p{number}.yaml": MERCADO.replace("Mercado", f"P{number}") for number in range(12)}
    found, kept = naming_a_place(tmp_path, "The old boathouse", many)
    assert "Begin a new shared place for this ask" in found
    assert "{name:" not in found
    assert kept == "The old boathouse"
