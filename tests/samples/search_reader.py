"""Reads the search's files as the browser does, written apart from what writes them: words to stories, and cards."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from sitegen.typeset.searchdata import term, words_in

Fetch = Callable[[str], bytes]
"""Gives the file at a site address."""


class SearchReader:
    """What a search asks of the files."""

    def __init__(self, directory: bytes, fetch: Fetch) -> None:
        self.data: dict[str, Any] = json.loads(directory)
        self._fetch = fetch

    def files(self, kind: str) -> dict[str, str]:
        """Digest by key of the files `words`, `starts`, `ends` or `cards`."""
        listed = str(self.data[kind]).split(" ")
        return {each[:-10]: each[-10:] for each in listed}

    def lines(self, kind: str, word: str) -> list[str]:
        """The lines of the one file that may have a word."""
        files = self.files(kind)
        keys = [word[:length] for length in range(len(word), -1, -1)]
        found = next((files[key] for key in keys if key in files), "")
        return self._fetch(f"data/search/{found}.txt").decode().splitlines() if found else []

    def stories(self, word: str) -> dict[int, int]:
        """Weight (0 to 7) by number of the stories that have a word as it is typed."""
        (typed,) = words_in(word)
        return self.exactly(term(typed, self.data["language"]))

    def exactly(self, sought: str) -> dict[int, int]:
        line = next((line for line in self.lines("words", sought) if line.split(" ")[0] == sought), "")
        found: dict[int, int] = {}
        number = value = shift = 0
        for sign in line.partition(" ")[2]:
            digit = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_".index(sign)
            value += (digit & 31) << shift
            shift += 5
            if digit < 32:
                number += value >> 3
                found[number] = value & 7
                value = shift = 0
        return found

    def cards(self) -> dict[int, list[Any]]:
        """Every card by its number."""
        cards = (
            card
            for digest in self.files("cards").values()
            for card in json.loads(self._fetch(f"data/search/{digest}.json"))
        )
        return {card[0]: card for card in cards}

    def found(self, word: str) -> set[str]:
        """Ids of the stories that have a word."""
        cards = self.cards()
        return {cards[number][1] for number in self.stories(word)}

    def asks(self) -> set[tuple[str, str]]:
        """(site address of the story's page, fragment) of every ask that results name."""
        return {
            (f"stories/{card[1]}/", ask[2])
            for card in self.cards().values()
            if len(card) > 7
            for ask in card[7]
        }
