"""Telephone numbers and addresses read aloud."""

from __future__ import annotations

import pytest

from sitegen.intake.contacts import contacts_in
from tests.intake.said import sentences


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("Call 237-555-0142.", [("phone", "237-555-0142")]),
        ("The number is (237) 555-0142.", [("phone", "237-555-0142")]),
        ("It's five five five, oh one four two.", [("phone", "555-0142")]),
        ("Write to coats at example dot org.", [("email", "coats@example.org")]),
        ("E-mail them at good dot news at friends dot example dot org.", [("email", "good.news@friends.example.org")]),
        ("Send word to coats@example.org.", [("email", "coats@example.org")]),
        ("Go to friends dot example dot org slash coats.", [("web", "https://friends.example.org/coats")]),
        ("You'll find it at www dot example dot com.", [("web", "https://example.com/")]),
        ("It's posted at example.org.", [("web", "https://example.org/")]),
        ("They counted 1,250 coats in 2025 at 6:30.", []),
        ("He looked at example after example.", []),
    ],
)  # fmt: skip
def test_ways_to_reach_somebody(said: str, found: list[tuple[str, str]]) -> None:
    assert [(each.kind, each.value) for each in contacts_in(sentences(said))] == found
