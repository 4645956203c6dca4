"""Sets of names, written as they are read."""

from __future__ import annotations


def names_in(text: str) -> frozenset[str]:
    """The words of a text, divided at white space, as a set."""
    return frozenset(text.split())
