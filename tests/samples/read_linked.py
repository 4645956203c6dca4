"""Reads the linked data of pages for tests."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import lru_cache
from html.parser import HTMLParser
from typing import Any


class _Blocks(HTMLParser):
    """The text of every data block, as a browser's parser takes it: up to the end tag, with no entities."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._inside = tag == "script" and ("type", "application/ld+json") in attrs
        if self._inside:
            self.texts.append("")

    def handle_endtag(self, tag: str) -> None:
        self._inside = False

    def handle_data(self, data: str) -> None:
        if self._inside:
            self.texts[-1] += data


def blocks(html: bytes) -> list[str]:
    reader = _Blocks()
    reader.feed(html.decode())
    return reader.texts


def nodes_of(html: bytes) -> list[dict[str, Any]]:
    """The nodes of a page's graph, in order; none where it has no linked data."""
    found: list[dict[str, Any]] = []
    for text in blocks(html):
        found += json.loads(text)["@graph"]
    return found


def every_node(value: object) -> Iterator[dict[str, Any]]:
    """A node and every one inside it."""
    if isinstance(value, list):
        for each in value:
            yield from every_node(each)
    elif isinstance(value, dict):
        yield value
        for each in value.values():
            yield from every_node(each)


@lru_cache(maxsize=4096)
def open_in_linked_data(html: bytes) -> frozenset[str]:
    """The addresses of the asks that a page's linked data say can be answered. Kept: most pages stay the same for weeks."""
    return frozenset(
        node["url"]
        for node in nodes_of(html)
        if "#ask-" in node.get("url", "") and node.get("eventStatus") != "https://schema.org/EventCancelled"
    )
