"""A form of an earlier run's page: refused with every word still in it and a token that counts, whatever its button; writes nothing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.desk.filled_form import FilledForm, form_in, opened
from tests.desk.running_desk import TOKEN, Desk, desk_of
from tests.samples.station_folder import asking, story, write_folder

COATS = "stories/2026/coats.md"
TEXT = story(asking(more="deadline: 2026-12-15\ncontact: {phone: 237-555-0142}   # the branch"))
OLD = "the-token-of-an-earlier-run"
TYPED = {
    "headline": "Coats <b>& gloves</b>", "summary": "Two lines\r\nof it.", "topics": "clothing\r\nlibraries", "asks/0/title": "Bring two",
    "asks/0/where/0/note": "ring the side bell", "asks/0/where/new/name": "Pier Shed", "asks/0/where/new/town": "Lowgate", "body": "One.\r\n\r\nTwo.",
    "photo/alt": "A rail", "asks/0/deadline": "soon",
}  # fmt: skip


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_folder(tmp_path, {COATS: TEXT})


@pytest.fixture
def desk(root: Path) -> Iterator[Desk]:
    with desk_of(root) as running:
        yield running


def contents(root: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in (root / "content").rglob("*") if path.is_file()}


def outdated(form: FilledForm) -> FilledForm:
    form.put("token", OLD)
    return form


def typed(desk: Desk) -> FilledForm:
    form = opened(desk, COATS)
    for name, text in TYPED.items():
        form.put(name, text)
    return form


@pytest.mark.parametrize(
    "do", ["save", "hold", "check", "add asks give", "remove asks/0", "make-place asks/0/where"]
)
def test_the_form_comes_back_with_every_word_and_nothing_is_written(desk: Desk, root: Path, do: str) -> None:
    before = contents(root)
    form = outdated(typed(desk))
    answer = form.send(desk, do)
    assert answer.status == 403 and contents(root) == before
    again = form_in(answer.text)
    assert again.get("token") == TOKEN
    assert [(name, text.split()) for name, text in again.fields if name != "token"] == [
        (name, text.split()) for name, text in form.fields if name != "token"
    ]
    assert "started anew" in answer.text and "<b>& gloves" not in answer.text


def test_it_is_saved_at_the_next_press(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "Coats at last")
    answer = form_in(outdated(form).send(desk, "save").text).send(desk, "save")
    assert answer.status == 303
    assert (root / "content" / COATS).read_text() == TEXT.replace("A headline", "Coats at last")


def test_a_picture_is_not_taken_in_and_must_be_chosen_again(desk: Desk, root: Path) -> None:
    form = outdated(typed(desk))
    form.files = [("picture", "x.jpg", "image/jpeg", b"x")]
    before = contents(root)
    answer = form.send(desk, "take-picture")
    assert answer.status == 403 and contents(root) == before
    assert "Choose the picture again" in answer.text
    assert form_in(answer.text).get("photo/alt") == "A rail"


def test_a_whole_text_comes_back(desk: Desk, root: Path) -> None:
    form = outdated(form_in(desk.ask(f"/_desk/write/{COATS}?as=text").text))
    form.put("text", TEXT.replace("A headline", "Mine"))
    answer = form.send(desk, "save-text")
    assert answer.status == 403 and (root / "content" / COATS).read_text() == TEXT
    again = form_in(answer.text)
    assert "headline: Mine" in again.get("text")
    assert again.send(desk, "save-text").status == 303


def test_answers_about_a_new_file_come_back(desk: Desk, root: Path) -> None:
    form = outdated(form_in(desk.ask("/_desk/write/new/place").text))
    form.put("name", "Pier Shed")
    before = contents(root)
    answer = form.send(desk, "begin")
    assert answer.status == 403 and contents(root) == before
    again = form_in(answer.text)
    assert again.get("name") == "Pier Shed" and again.get("token") == TOKEN


def test_choices_between_two_versions_come_back(desk: Desk, root: Path) -> None:
    form = opened(desk, COATS)
    form.put("headline", "Mine")
    file = root / "content" / COATS
    file.write_text(TEXT.replace("A headline", "Theirs"))
    settle = outdated(form_in(form.send(desk, "save").text))
    settle.fields.append(("keep/headline", "mine"))
    answer = settle.send(desk, "resolve")
    assert answer.status == 403 and "Theirs" in file.read_text()
    again = form_in(answer.text)
    assert ("keep/headline", "mine") in again.fields
    assert again.send(desk, "resolve").status == 303
    assert "headline: Mine" in file.read_text()


@pytest.mark.parametrize("token", [OLD, TOKEN])
@pytest.mark.parametrize(
    "headers",
    [{"Origin": "https://evil.example.org"}, {"Origin": "null"}, {"Sec-Fetch-Site": "cross-site"}, {"Host": "evil.example.org"}],
    ids=str,
)  # fmt: skip
def test_a_post_from_elsewhere_gets_nothing_back(
    desk: Desk, root: Path, headers: dict[str, str], token: str
) -> None:
    before = contents(root)
    form = typed(desk)
    form.put("token", token)
    for address in (form.address, "/_desk/write/new/place"):
        answer = form.send(desk, "save", address, headers)
        assert answer.status in (403, 421) and contents(root) == before
        assert "gloves" not in answer.text and TOKEN not in answer.text
        assert BeautifulSoup(answer.text, "html.parser").find("form") is None


def test_a_new_place_that_is_not_made_yet_stays_with_its_ask(desk: Desk) -> None:
    form = form_in(typed(desk).send(desk, "add asks bring").text)
    assert form.get("asks/0/where/new/name") == "Pier Shed"
    form = form_in(form.send(desk, "down asks/0").text)
    assert form.get("asks/1/where/new/name") == "Pier Shed"
    assert "Pier Shed" not in [text for name, text in form.fields if name.startswith("asks/0/")]
