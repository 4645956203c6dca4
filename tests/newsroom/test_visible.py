"""Text for a terminal: what it shows is what stands there, line by line."""

from __future__ import annotations

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.visible import one_line, visible

CONTROLS = st.text(
    st.one_of(st.characters(categories=["Cc", "Zl", "Zp", "Cf"]), st.sampled_from("ab é\\\u202e\x9b\n\t\r"))
)


@given(st.one_of(st.text(), CONTROLS))
def test_one_line_is_one_line_without_a_control(text: str) -> None:
    shown = one_line(text)
    assert len(shown.splitlines()) <= 1
    assert not [sign for sign in shown if unicodedata.category(sign) in ("Cc", "Zl", "Zp")]
    assert not [sign for sign in shown if unicodedata.bidirectional(sign) in BIDIRECTIONAL]
    assert one_line(shown) == shown


BIDIRECTIONAL = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
"""Classes of the explicit formatting characters (UAX #9, 2.1 to 2.5)."""


@given(st.one_of(st.text(), CONTROLS))
def test_lines_stay_the_same_lines(text: str) -> None:
    shown = visible(text)
    assert shown.count("\n") == text.count("\n")
    assert [one_line(line) for line in text.split("\n")] == [
        line.replace("\t", "\\u0009") for line in shown.split("\n")
    ]


@given(st.dictionaries(CONTROLS, st.lists(CONTROLS)))
def test_json_says_the_same(value: object) -> None:
    assert json.loads(visible(json.dumps(value, ensure_ascii=False, indent=1))) == value


@pytest.mark.parametrize("text", ["Bring a coat to Niño’s", "– „gut“ ✓", "שלום\u200f", "👩\u200d👧"])
def test_words_in_any_script_are_left_as_they_are(text: str) -> None:
    assert one_line(text) == visible(text) == text
