"""Galleys: bodies set once, with what depends on the page left open."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.newsroom.galley import BETWEEN, CLOSE, OPEN, set_body, text_of
from sitegen.newsroom.records import Link
from tests.counts import tries


def test_links_are_left_open_and_told() -> None:
    galley, links = set_body('Ask [us *all*](about "Who <we> are").', 9)
    assert links == (Link("about", 9, column=5),)
    assert galley == (
        f'<p>Ask {OPEN}a{BETWEEN}about{BETWEEN} title="Who &lt;we&gt; are"{CLOSE}us <em>all</em>{OPEN}/{CLOSE}.</p>\n'
    )


@pytest.mark.parametrize(
    ("markdown", "text"),
    [
        ("# Coats\n\nA [rail](about) of\ncoats", "Coats A rail of coats"),
        ("- one\n- two\n\n| a | b |\n|---|---|\n| c | d |", "one two a b c d"),
        ("`x <b>` & <about:x> 1 < 2 &copy;", "x <b> & about:x 1 < 2 ©"),
        ("![A rail](coats.jpg)\\\nof coats\n\n    code\n", "A rail of coats code"),
        ("[](https://a.example/)", ""),
    ],
)
def test_the_text_is_what_is_read(markdown: str, text: str) -> None:
    assert " ".join(text_of(set_body(markdown)[0]).split()) == text


PIECES = [
    "[", "](about)", "](<a b>)", "<https://a.example/>", "*", "`", "\n", "\n\n", "# ", "- ", "> ", "| a |\n|---|\n", "a", " ", "\\",
    "![x](y)", "[](about)", OPEN, CLOSE, BETWEEN, f"{OPEN}#1{CLOSE}", f"{OPEN}/{CLOSE}", "<", "&#xfdd0;", "&#64976;",
]  # fmt: skip


@settings(max_examples=tries(200), deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=30).map("".join))
def test_no_text_can_hold_the_signs_of_what_is_left_open(text: str) -> None:
    galley, links = set_body(text)
    marks = re.findall(f"{OPEN}([^{OPEN}{CLOSE}]*){CLOSE}", galley)
    assert galley.count(OPEN) == galley.count(CLOSE) == len(marks)
    began = [mark for mark in marks if mark[0] == "a"]
    assert len(began) == sum(mark[0] == "/" for mark in marks) == sum(not link.picture for link in links)
    assert all(mark.count(BETWEEN) == 2 for mark in began)
    assert galley.count(BETWEEN) == 2 * len(began)
