"""What a draft says in comments stands in the form: beside its fields, and its ask can be taken up."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.proof.pagecheck import check_page
from tests.desk.filled_form import form_in, opened
from tests.desk.running_desk import Desk, desk_of
from tests.newsroom.test_aside import ASIDE
from tests.samples.station_folder import story, write_folder

NAME = "stories/2026/fares.md"
TEXT = story(f"hold: true\n# summary: fill in: one sentence\ntown: Lowgate   # look: or Sandy End\n{ASIDE}")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_folder(tmp_path, {NAME: TEXT})


@pytest.fixture
def desk(root: Path) -> Iterator[Desk]:
    with desk_of(root) as running:
        yield running


def beside(page: str, name: str) -> str:
    found = BeautifulSoup(page, "html.parser").find(id=f"noted-f-{name.replace('/', '-')}")
    return found.get_text(" ", strip=True) if found is not None else ""


def test_comments_stand_beside_their_fields_and_are_counted_up(desk: Desk) -> None:
    page = desk.ask(f"/_desk/write/{NAME}").text
    assert "fill in: one sentence" in beside(page, "summary")
    assert "look: or Sandy End" in beside(page, "town")
    soup = BeautifulSoup(page, "html.parser")
    links = [str(link["href"]) for link in soup.select(".found a")]
    assert {"#f-summary", "#f-town"} <= set(links)
    for link in links:
        assert soup.find(id=link.removeprefix("#")) is not None


def test_an_ask_in_comments_is_taken_up_and_saved_as_by_hand(desk: Desk, root: Path) -> None:
    form = opened(desk, NAME)
    page = form.send(desk, "take-up").text
    assert (root / "content" / NAME).read_text("utf-8") == TEXT  # nothing is saved by that
    assert "a week from tomorrow" in beside(page, "asks/0/deadline")
    form = form_in(page)
    assert form.get("asks/0/title") == "Bring a coat"
    form.put("asks/0/payee", "The Ferry Line")
    form.put("asks/0/contact/phone", "237-555-0142")
    answer = form.send(desk, "save")
    assert answer.status == 303, answer.text
    saved = (root / "content" / NAME).read_text("utf-8")
    assert "# asks" not in saved
    assert "    # said at 00:04:06: “So that's a week from tomorrow.”\n    deadline: 2026-12-15\n" in saved
    assert "payee: The Ferry Line" in saved and "# also named: Reedham Ferry" in saved
    assert 'value="take-up"' not in desk.ask(f"/_desk/write/{NAME}").text


def test_what_somebody_else_saved_meanwhile_is_kept_beside_the_ask(desk: Desk, root: Path) -> None:
    form = form_in(opened(desk, NAME).send(desk, "take-up").text)
    (root / "content" / NAME).write_text(TEXT.replace("Lowgate   # look", "Sandy End   # look"), "utf-8")
    settle = form_in(form.send(desk, "save").text)
    settle.fields += [("keep/town", "theirs")]
    assert settle.send(desk, "resolve").status == 303
    saved = (root / "content" / NAME).read_text("utf-8")
    assert (
        "town: Sandy End" in saved and "\nasks:\n  - title: Bring a coat\n" in saved and "# asks" not in saved
    )


def test_a_page_with_notes_passes_the_checks_of_pages(desk: Desk) -> None:
    page = desk.ask(f"/_desk/write/{NAME}")
    assert check_page("_desk/write/x/", page.body).findings == ()
