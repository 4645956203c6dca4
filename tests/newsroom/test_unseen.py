"""Signs that nobody sees are found where they stand, and those that letters and emoji need are left alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Weight
from tests.newsroom.whole_station import PLACE, STORY, write_whole

PATH = "stories/2026/coat-closet.md"


def told(root: Path, path: str = PATH) -> list[tuple[str, Weight, int, int]]:
    return [
        (each.check, each.weight, each.spot.line, each.spot.column)
        for each in read_newsroom(root, read_map).findings
        if each.spot.path == f"content/{path}" and each.check in ("control-character", "unseen-sign")
    ]


@pytest.mark.parametrize("sign", ["\x0b", "\x0c", "\x07", "\x9d", "\u202e", "\u2066"])
def test_a_control_in_a_text_is_a_fault_where_it_stands(tmp_path: Path, sign: str) -> None:
    text = f"{STORY.rstrip()}\n\nCome in.{sign}Stay.\n"
    line = text.count("\n")
    assert told(write_whole(tmp_path, {PATH: text})) == [("control-character", Weight.FAULT, line, 9)]


@pytest.mark.parametrize("sign", ["\u200b", "\u2060", "\ufeff"])
def test_an_unseen_sign_is_a_concern_once_in_a_file(tmp_path: Path, sign: str) -> None:
    text = f"{STORY.rstrip()}\n\nCome{sign}in, st{sign}ay.\n"
    line = text.count("\n")
    assert told(write_whole(tmp_path, {PATH: text})) == [("unseen-sign", Weight.CONCERN, line, 5)]
    place = PLACE + f"note: ring{sign} the bell\n"
    path = "places/millrace-library.yaml"
    assert [each[0] for each in told(write_whole(tmp_path, {path: place}), path)] == ["unseen-sign"]


@pytest.mark.parametrize(
    "words",
    [
        "two\tcells",
        "a\u00adlong word",
        "12\u00a0coats",
        "\U0001f468\u200d\U0001f469\u200d\U0001f467",
        "ab\u200ccd",
        "\u200eabc",
    ],
)
def test_what_letters_need_is_left_alone(tmp_path: Path, words: str) -> None:
    assert told(write_whole(tmp_path, {PATH: f"{STORY.rstrip()}\n\n{words}\n"})) == []


def test_a_tab_that_keeps_a_file_from_being_read_is_told_of_once(tmp_path: Path) -> None:
    text = STORY.replace("    kind:", "\tkind:", 1)
    assert "\t" in text
    found = read_newsroom(write_whole(tmp_path, {PATH: text}), read_map).findings
    assert [each.check for each in found if each.spot.path == f"content/{PATH}"] == ["tab"]
