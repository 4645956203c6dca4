"""Asking a draft's questions: at a terminal until the answer can be used, elsewhere not at all."""

from __future__ import annotations

import io
from collections.abc import Mapping
from pathlib import Path

import pytest

from sitegen.cli import main
from sitegen.newsroom.drafting import Question
from sitegen.newsroom.schemas import NAMES, schema_text
from sitegen.site.drafts import ask_questions, write_drafts, write_schemas
from sitegen.site.errors import RefusedError
from tests.samples.full_disk import no_file_above
from tests.samples.station_folder import write_folder


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def has_colour(answers: Mapping[str, str]) -> bool:
    return answers["colour"] == "red"


QUESTIONS = (
    Question(
        "colour",
        "Which colour?",
        "red",
        lambda answer: "" if answer in ("red", "blue") else "No such colour.",
    ),
    Question("shade", "Which shade?", "dark", lambda answer: "", has_colour),
)


def test_asked_until_the_answer_can_be_used_and_only_what_is_needed() -> None:
    words = io.StringIO()
    assert ask_questions(QUESTIONS, [], Terminal("green\nred\n dark \n"), words) == {
        "colour": "red",
        "shade": "dark",
    }
    assert words.getvalue().count("Which colour?") == 2
    assert ask_questions(QUESTIONS, [], Terminal("blue\n"), io.StringIO()) == {"colour": "blue"}


def test_given_answers_are_not_asked_again() -> None:
    words = io.StringIO()
    assert ask_questions(QUESTIONS, ["colour=red", "shade=a=b"], Terminal(""), words) == {
        "colour": "red",
        "shade": "a=b",
    }
    assert words.getvalue() == ""


def test_without_a_terminal_nothing_is_asked() -> None:
    words = io.StringIO()
    assert ask_questions(QUESTIONS, [], io.StringIO("red\n"), words) == {}
    assert words.getvalue() == ""


@pytest.mark.parametrize("given", ["size=4", "red", "=red"])
def test_what_answers_no_question_is_refused(given: str) -> None:
    with pytest.raises(RefusedError):
        ask_questions(QUESTIONS, [given], io.StringIO(), io.StringIO())


def test_an_input_that_ends_is_refused() -> None:
    with pytest.raises(RefusedError):
        ask_questions(QUESTIONS, [], Terminal("red\n"), io.StringIO())


def test_a_draft_is_never_written_over_a_file(tmp_path: Path) -> None:
    write_drafts(tmp_path, {"content/pages/about.md": "first\n"})
    with pytest.raises(RefusedError, match=r"'content/pages/about\.md' exists"):
        write_drafts(tmp_path, {"content/pages/about.md": "second\n"})
    assert (tmp_path / "content/pages/about.md").read_bytes() == b"first\n"


def test_a_disk_that_refuses_leaves_nothing_in_the_way_of_the_same_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["draft", "story", "headline=A closet of coats", "aired=2026-11-21"]
    root = write_folder(tmp_path)
    with no_file_above(100):
        assert main([*command, "--root", str(root)]) == 3
    assert "'content/stories/2026/a-closet-of-coats.md' cannot be written" in capsys.readouterr().err
    assert not [path for path in (root / "content/stories").rglob("*") if path.is_file()]
    assert main([*command, "--root", str(root)]) == 0
    assert (root / "content/stories/2026/a-closet-of-coats.md").stat().st_size > 100


# --- schemas -----------------------------------------------------------------------------------


def test_schemas_stand_beside_the_content_and_are_made_anew_over_older_ones(tmp_path: Path) -> None:
    paths = write_schemas(tmp_path)
    assert paths == tuple(f"schemas/{name}.schema.json" for name in NAMES)
    older = tmp_path / "schemas/story.schema.json"
    older.write_text(schema_text("story").replace("headline", "title"), "utf-8")
    (tmp_path / "schemas/ours.json").write_text("{}")
    write_schemas(tmp_path)
    assert older.read_text("utf-8") == schema_text("story")
    assert sorted(path.name for path in (tmp_path / "schemas").iterdir()) == sorted(
        ["ours.json", *(f"{name}.schema.json" for name in NAMES)]
    )


@pytest.mark.parametrize("theirs", ["{}", "not JSON", '{"$id": "urn:other"}', "[]"])
def test_somebody_else_s_schema_is_never_written_over(tmp_path: Path, theirs: str) -> None:
    (tmp_path / "schemas").mkdir()
    (tmp_path / "schemas/place.schema.json").write_text(theirs)
    with pytest.raises(RefusedError, match=r"place\.schema\.json"):
        write_schemas(tmp_path)
    assert [path.name for path in (tmp_path / "schemas").iterdir()] == ["place.schema.json"]
