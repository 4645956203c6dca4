"""The form: what is opened and saved untouched stays as it was, what is entered arrives in the file, and nothing is lost."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Kind, Newsroom, Story
from tests.desk.filled_form import FilledForm, form_in, opened
from tests.desk.running_desk import Answer, Desk, desk_of
from tests.newsroom import whole_station
from tests.samples.station_folder import asking, story, write_folder

DEMONSTRATION = Path(__file__).parents[2] / "content"
COATS = "stories/2026/coats.md"
TEXT = story(
    "# on the rail\n" + asking(more="deadline: 2026-12-15\ncontact: {phone: 237-555-0142}   # the branch"),
    "The closet is real.",
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_folder(tmp_path, {COATS: TEXT})


@pytest.fixture
def desk(root: Path) -> Iterator[Desk]:
    with desk_of(root) as running:
        yield running


def text_of(root: Path, path: str = COATS) -> str:
    return (root / "content" / path).read_text("utf-8")


def newsroom_of(root: Path) -> Newsroom:
    newsroom = read_newsroom(root, lambda text, counties: ((), ())).newsroom
    assert newsroom is not None
    return newsroom


def story_of(root: Path, name: str = "2026/coats") -> Story:
    return next(each for each in newsroom_of(root).stories if each.id == name)


def is_saved(answer: Answer) -> bool:
    return answer.status == 303 and answer.headers["location"].endswith("?done=saved")


# --- untouched ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "path",
    sorted(
        path.relative_to(DEMONSTRATION).as_posix()
        for folder, most in (("stories", 12), ("places", 6), ("episodes", 3), ("pages", 2))
        for path in sorted((DEMONSTRATION / folder).rglob("*.*"))[-most:]
    ),
)
def test_saving_what_was_not_touched_writes_nothing(demonstration_desk: Desk, path: str) -> None:
    file = demonstration_desk.state.root / "content" / path
    before, when = file.read_bytes(), file.stat().st_mtime_ns
    answer = opened(demonstration_desk, path).send(demonstration_desk, "save")
    assert is_saved(answer), answer.text
    assert (file.read_bytes(), file.stat().st_mtime_ns) == (before, when)


@pytest.fixture(scope="module")
def demonstration_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    root = tmp_path_factory.mktemp("demonstration")
    shutil.copytree(DEMONSTRATION, root / "content")
    with desk_of(root) as running:
        yield running


def test_a_file_in_which_every_key_stands_comes_back_as_it_was(tmp_path: Path) -> None:
    root = whole_station.write_whole(tmp_path)
    with desk_of(root) as running:
        for path in (
            "stories/2026/coat-closet.md",
            "places/millrace-library.yaml",
            "places/oakes-porch.yaml",
            "episodes/2026-11-21.md",
        ):
            before = text_of(root, path)
            form = opened(running, path)
            assert is_saved(form.send(running, "save"))
            assert text_of(root, path) == before


# --- changed ------------------------------------------------------------------------------------


def test_a_changed_field_changes_its_line_alone(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "Coats: 400 of them #1")
    form.put("asks/0/contact/email", "coats@example.org")
    assert is_saved(form.send(desk, "save"))
    expected = TEXT.replace("headline: A headline", 'headline: "Coats: 400 of them #1"').replace(
        "{phone: 237-555-0142}", "{phone: 237-555-0142, email: coats@example.org}"
    )
    assert text_of(root) == expected


def test_everything_of_a_story_can_be_entered(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    for name, text in {
        "summary": "What happens.", "topics": "clothing\r\nlibraries", "town": "Lowgate", "reporter": "Ada Quill", "say_on_air": "coats",
        "heard_as": "coat", "asks/0/accepts": "coats: clean\r\ngloves, in pairs", "asks/0/goal/number": "400", "asks/0/goal/unit": "coats",
        "asks/0/where/0/note": "ring the side bell", "asks/0/where/0/until": "2026-12-12", "body": "One.\r\n\r\nTwo.",
        "desk": "cleared: M. Oake, 2026-11-20",
    }.items():  # fmt: skip
        form.put(name, text)
    assert is_saved(form.send(desk, "save"))
    record = story_of(root)
    assert (record.summary, record.topics, record.town, record.reporter) == (
        "What happens.",
        ("clothing", "libraries"),
        "Lowgate",
        "Ada Quill",
    )
    assert (record.say_on_air, record.heard_as, record.body) == ("coats", ("coat",), "One.\n\nTwo.")
    ask = record.asks[0]
    assert ask.accepts == ("coats: clean", "gloves, in pairs")
    assert ask.goal is not None and (ask.goal.number, ask.goal.unit) == (400, "coats")
    assert ask.drop_off[0].place.id == "lowgate-hall" and ask.drop_off[0].note == "ring the side bell"
    assert 'desk: {cleared: "M. Oake, 2026-11-20"}' in text_of(root)
    assert "# on the rail" in text_of(root) and "# the branch" in text_of(root)


def test_a_field_that_is_emptied_leaves_the_file(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("asks/0/contact/phone", "")
    assert is_saved(form.send(desk, "save"))
    assert "contact" not in text_of(root)


def test_asks_are_added_moved_and_removed_by_buttons(desk: Desk, root: Path) -> None:
    form = form_in(opened(desk, COATS).send(desk, "add asks give").text)
    assert form.get("asks/1/kind") == "give"
    form.put("asks/1/title", "Help refill the fund")
    form.put("asks/1/deadline", "2026-12-15")
    form.put("asks/1/payee", "Friends of Lowgate Hall")
    form = form_in(form.send(desk, "up asks/1").text)
    assert text_of(root) == TEXT, "nothing is saved by rearranging"
    assert is_saved(form.send(desk, "save"))
    assert [ask.title for ask in story_of(root).asks] == ["Help refill the fund", "Bring a coat"]
    form = form_in(opened(desk, COATS).send(desk, "remove asks/0").text)
    assert is_saved(form.send(desk, "save"))
    assert text_of(root) == TEXT


def test_a_place_is_added_to_an_ask_and_one_is_written_out(desk: Desk, root: Path) -> None:
    form = form_in(opened(desk, COATS).send(desk, "add asks/0/where").text)
    form = form_in(form.send(desk, "add asks/0/where").text)
    for name, text in {
        "name": "Pier Shed",
        "town": "Lowgate",
        "county": "Heron Flats",
        "hours": "unknown",
    }.items():
        form.put(f"asks/0/where/2/{name}", text)
    form = form_in(form.send(desk, "town asks/0/where/2/position").text)
    assert (form.get("asks/0/where/2/position/latitude"), form.get("asks/0/where/2/position/longitude")) == (
        "34.5",
        "-60.5",
    )
    assert is_saved(form.send(desk, "save"))
    places = story_of(root).asks[0].drop_off
    assert [each.place.name for each in places] == ["Lowgate Hall", "Pier Shed"], "a place left blank is none"
    assert places[1].place.position is not None


def test_a_new_shared_place_is_made_beside_its_ask(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    prefix = "asks/0/drop_off/new/" if "asks/0/drop_off/new/name" in form.names() else "asks/0/where/new/"
    name = prefix.removesuffix("/new/")
    form.put(f"{prefix}name", "Sandy End Library")
    refused = form.send(desk, f"make-place {name}")
    assert (
        "The place was not made" in refused.text
        and not (root / "content/places/sandy-end-library.yaml").exists()
    )
    form = form_in(refused.text)
    assert form.get(f"{prefix}name") == "Sandy End Library", "what was entered is kept"
    for key, text in {
        "town": "Sandy End",
        "county": "Gull Bank",
        "hours": "Mo-Fr 09:00-17:00",
        "step_free": "yes",
    }.items():
        form.put(prefix + key, text)
    form = form_in(form.send(desk, f"make-place {name}").text)
    assert text_of(root, "places/sandy-end-library.yaml").startswith("name: Sandy End Library\n")
    assert "sandy-end-library" in [text for key, text in form.fields if key.endswith("/place")]
    assert is_saved(form.send(desk, "save"))
    assert "sandy-end-library" in [each.place.id for each in story_of(root).asks[0].drop_off]


@pytest.mark.parametrize("kind", Kind, ids=lambda kind: kind.value)
def test_every_kind_of_ask_can_be_added(desk: Desk, kind: Kind) -> None:
    form = form_in(opened(desk, COATS).send(desk, f"add asks {kind.value}").text)
    assert form.get("asks/1/kind") == kind.value


def test_what_the_form_cannot_show_stays(root: Path) -> None:
    odd = TEXT.replace("aired: 2026", "reporter: [Ada, [Quill]]\naired: 2026")
    (root / "content" / COATS).write_text(odd)
    with desk_of(root) as running:
        form = opened(running, COATS)
        assert "reporter" not in form.names()
        form.put("hold", "true")
        form.put("summary", "New.")
        assert is_saved(form.send(running, "save"))
    assert "reporter: [Ada, [Quill]]\n" in text_of(root) and "summary: New.\n" in text_of(root)


# --- beginning ----------------------------------------------------------------------------------


def begun(desk: Desk, kind: str, **answers: str) -> Answer:
    form = form_in(desk.ask(f"/_desk/write/new/{kind}").text)
    for name, text in answers.items():
        if name == "county" and kind == "story":
            form.fields.append((name, text))
        else:
            form.put(name, text)
    return form.send(desk, "begin")


def test_a_story_is_begun_on_hold_and_opened(desk: Desk, root: Path) -> None:
    answer = begun(desk, "story", headline="Two boats & a crew", aired="2026-11-21", county="Gull Bank")
    assert (
        answer.status == 303
        and answer.headers["location"] == "/_desk/write/stories/2026/two-boats-a-crew.md?done=begun"
    )
    record = story_of(root, "2026/two-boats-a-crew")
    assert (record.headline, record.hold, record.counties) == ("Two boats & a crew", True, ("gull-bank",))
    assert desk.ask(answer.headers["location"]).status == 200


def test_nothing_is_begun_over_a_file_that_is_there(desk: Desk, root: Path) -> None:
    answers = {"headline": "Coats", "aired": "2026-11-21", "county": "Gull Bank"}
    # One with a fault has no record, and is there all the same.
    (root / "content" / COATS).write_text("---\nheadline: x\n---\n")
    answer = begun(desk, "story", **answers)
    assert answer.status == 422 and "there already" in answer.text
    assert text_of(root) == "---\nheadline: x\n---\n"
    assert form_in(answer.text).get("headline") == "Coats"


def test_places_episodes_and_pages_are_begun(desk: Desk, root: Path) -> None:
    assert begun(desk, "place", name="Quay", town="Sandy End", county="Gull Bank", hours="9-5").status == 422
    assert (
        begun(desk, "place", name="Quay", town="Sandy End", county="Gull Bank", hours="unknown").status == 303
    )
    assert begun(desk, "episode", aired="2026-11-28 18:30", title="Ropes").status == 303
    assert begun(desk, "page", title="About us").status == 303
    newsroom = newsroom_of(root)
    assert [place.id for place in newsroom.places] == ["lowgate-hall", "quay"]
    assert newsroom.episodes[0].title == "Ropes" and newsroom.pages[0].id == "about-us"


# --- checking -----------------------------------------------------------------------------------


def checked(desk: Desk, form: FilledForm) -> dict[str, object]:
    answer = form.send(desk, "check", form.address.replace("/write/", "/write/check/"))
    assert answer.status == 200, answer.text
    found = json.loads(answer.text)
    assert isinstance(found, dict)
    return found


def test_findings_stand_beside_their_fields(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "")
    form.put("asks/0/deadline", "2026-02-30")
    form.put("asks/0/where/0/place", "lowgate-hal")
    form.put("asks/0/contact/email", "nobody")
    found = checked(desk, form)
    assert found["wrong"] == ["asks/0/contact/email", "asks/0/deadline", "asks/0/where/0/place", "headline"]
    assert found["said"] == "4 faults."
    assert text_of(root) == TEXT
    shown = form.send(desk, "check").text
    assert shown.count('aria-invalid="true"') == 4


def test_a_concern_about_the_copy_is_found_as_it_is_typed(desk: Desk) -> None:
    form = opened(desk, COATS)
    form.put("body", "Call 237-555-0142 this Saturday.")
    fields = checked(desk, form)["fields"]
    assert isinstance(fields, dict) and "Concern" in fields["body"]


def test_words_of_a_file_are_never_markup(desk: Desk) -> None:
    form = opened(desk, COATS)
    form.put("county", "") if "county" in form.names() else None
    form.put("asks/0/title", "<img src=x onerror=alert(1)>\"'")
    form.put("asks/0/kind", "<script>")
    page, found = form.send(desk, "check").text, json.dumps(checked(desk, form))
    assert "<img" not in page and "<img" not in found and "<script>" not in page.replace('<script src="', "")


# --- saving -------------------------------------------------------------------------------------


def test_faults_are_saved_only_on_hold(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("asks/0/deadline", "soon")
    answer = form.send(desk, "save")
    assert answer.status == 422 and "Not saved" in answer.text and text_of(root) == TEXT
    form = form_in(answer.text)
    assert form.get("asks/0/deadline") == "soon"
    assert is_saved(form.send(desk, "hold"))
    assert "hold: true\n" in text_of(root) and "deadline: soon" in text_of(root)


def test_what_faults_do_on_hold_is_said_beside_saved(desk: Desk) -> None:
    form = opened(desk, COATS)
    aired = form.get("aired")
    form.put("asks/0/deadline", "soon")
    form.put("aired", "some day")
    saved = form.send(desk, "hold")
    page = desk.ask(saved.headers["location"]).text
    trouble = BeautifulSoup(page, "html.parser").find(class_="trouble")
    assert trouble is not None and "2 faults" in trouble.get_text() and "every build" in trouble.get_text()
    form = form_in(page)
    form.put("asks/0/deadline", "2026-12-15")
    form.put("aired", aired)
    saved = form.send(desk, "save")
    assert (
        BeautifulSoup(desk.ask(saved.headers["location"]).text, "html.parser").find(class_="trouble") is None
    )


def test_what_is_left_blank_is_no_fault_on_hold(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "")
    assert form.send(desk, "save").status == 422 and text_of(root) == TEXT
    saved = form.send(desk, "hold")
    assert is_saved(saved) and "hold: true\n" in text_of(root)
    page = BeautifulSoup(desk.ask(saved.headers["location"]).text, "html.parser")
    assert page.find(class_="trouble") is None and "cannot be published" in page.get_text()


def test_enter_in_a_field_only_checks(desk: Desk) -> None:
    """Browsers press a form's first button then (HTML, implicit submission)."""
    form = opened(desk, COATS)
    form.put("headline", "")
    for page in (desk.ask(f"/_desk/write/{COATS}").text, form.send(desk, "save").text):
        first = BeautifulSoup(page, "html.parser").find("form", id="write")
        assert first is not None
        button = first.find("button")
        assert button is not None and button.get("value") == "check"


def test_a_faulty_place_is_not_saved(desk: Desk, root: Path) -> None:
    form = opened(desk, "places/lowgate-hall.yaml")
    form.put("hours", "nine to five")
    before = text_of(root, "places/lowgate-hall.yaml")
    answer = form.send(desk, "hold")
    assert answer.status == 422 and text_of(root, "places/lowgate-hall.yaml") == before


def test_the_file_keeps_its_rights_and_nothing_else_is_left(desk: Desk, root: Path) -> None:
    file = root / "content" / COATS
    file.chmod(0o640)
    form = opened(desk, COATS)
    form.put("summary", "New.")
    assert is_saved(form.send(desk, "save"))
    assert file.stat().st_mode & 0o777 == 0o640
    assert [each.name for each in file.parent.iterdir()] == ["coats.md"]


# --- two people ---------------------------------------------------------------------------------


def test_a_file_that_changed_is_never_overwritten_unseen(desk: Desk, root: Path) -> None:
    first, second = opened(desk, COATS), opened(desk, COATS)
    first.put("headline", "First")
    first.put("summary", "Of the first.")
    assert is_saved(first.send(desk, "save"))
    saved = text_of(root)
    second.put("headline", "Second")
    second.put("reporter", "Ada Quill")
    second.put("asks/0/title", "Bring two coats")
    answer = second.send(desk, "save")
    assert answer.status == 409 and text_of(root) == saved
    settle = form_in(answer.text)
    chosen = dict(settle.fields)
    assert (
        chosen["keep/reporter"] == "mine"
        and chosen["keep/summary"] == "theirs"
        and chosen["keep/asks/0/title"] == "mine"
    )
    assert "keep/headline" not in chosen, "where both changed it, nobody chooses but the user"
    assert "First" in answer.text and "Second" in answer.text
    again = settle.send(desk, "resolve")
    assert again.status == 409 and text_of(root) == saved, "not without a choice"
    settle.fields.append(("keep/headline", "mine"))
    assert is_saved(settle.send(desk, "resolve"))
    record = story_of(root)
    assert (record.headline, record.summary, record.reporter, record.asks[0].title) == (
        "Second",
        "Of the first.",
        "Ada Quill",
        "Bring two coats",
    )
    assert "# the branch" in text_of(root)


def test_a_third_change_is_shown_too(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "Mine")
    file = root / "content" / COATS
    file.write_text(TEXT.replace("A headline", "Theirs"))
    settle = form_in(form.send(desk, "save").text)
    settle.fields.append(("keep/headline", "mine"))
    file.write_text(TEXT.replace("A headline", "Theirs again"))
    answer = settle.send(desk, "resolve")
    assert answer.status == 409 and "Theirs again" in answer.text
    assert "Theirs again" in text_of(root)


def test_asks_that_two_people_added_are_both_kept(desk: Desk, root: Path) -> None:
    forms = []
    for kind, title in (("volunteer", "Sort coats"), ("give", "Fill the fund")):
        form = form_in(opened(desk, COATS).send(desk, f"add asks {kind}").text)
        form.put("asks/1/title", title)
        form.put("asks/1/deadline", "2026-12-15")
        form.put("asks/1/contact/phone", "237-555-0142")
        forms.append(form)
    assert is_saved(forms[0].send(desk, "save"))
    answer = forms[1].send(desk, "save")
    assert answer.status == 409
    assert is_saved(form_in(answer.text).send(desk, "resolve"))
    assert [ask.title for ask in story_of(root).asks] == ["Bring a coat", "Sort coats", "Fill the fund"]


def test_a_file_that_was_removed_is_not_brought_back(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "Mine")
    (root / "content" / COATS).unlink()
    answer = form.send(desk, "save")
    assert answer.status == 404 and not (root / "content" / COATS).exists()


# --- the text itself ----------------------------------------------------------------------------


def test_a_file_that_cannot_be_read_is_mended_in_its_text(desk: Desk, root: Path) -> None:
    file = root / "content" / COATS
    file.write_text(TEXT.replace("kind: bring", "kind: [bring"))
    answer = desk.ask(f"/_desk/write/{COATS}")
    form = form_in(answer.text)
    assert "only the whole text can be changed" in answer.text
    assert form.send(desk, "save-text").status == 422
    form.put("text", TEXT)
    assert is_saved(form.send(desk, "save-text"))
    assert text_of(root) == TEXT


def test_the_text_is_not_saved_over_a_change_either(desk: Desk, root: Path) -> None:
    form = form_in(desk.ask(f"/_desk/write/{COATS}?as=text").text)
    form.put("text", TEXT.replace("A headline", "Mine"))
    file = root / "content" / COATS
    file.write_text(TEXT.replace("A headline", "Theirs"))
    answer = form.send(desk, "save-text")
    assert (
        answer.status == 409
        and "Theirs" in answer.text
        and "Mine" in answer.text
        and "Theirs" in text_of(root)
    )
    assert is_saved(form_in(answer.text).send(desk, "save-text"))
    assert "Mine" in text_of(root)
