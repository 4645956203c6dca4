"""YAML text to nodes that keep where they begin and end, for changing a file without touching the rest of it.

`nodes.py` reads for meaning and keeps lines; here every node keeps the characters it was written with, and how.
"""

from __future__ import annotations

from collections.abc import Mapping as MappingLike
from dataclasses import dataclass
from typing import Any, TypeAlias

import yaml

from sitegen.newsroom.nodes import LOADER, Problem, compose

Value: TypeAlias = "str | tuple[Value, ...] | MappingLike[str, Value] | None"
"""What a file says, without how: a scalar's text, None for nothing (`null`, `~` or no text at all), a list, a group."""


@dataclass(frozen=True, slots=True)
class Word:
    """A scalar."""

    start: int
    """Index of its first character, quotation marks included; where it would stand, when it is empty."""
    end: int
    """Index behind its last character."""
    text: str
    style: str
    """`'`, `"`, `|`, `>`, or nothing for a plain one."""

    @property
    def is_nothing(self) -> bool:
        """YAML 1.2.2, 10.3.2: the writings of null."""
        return not self.style and self.text in ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True, slots=True)
class Row:
    """A list."""

    start: int
    end: int
    """Behind the last character of its last item, or behind its closing bracket."""
    is_flow: bool
    """Written in brackets."""
    items: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """A mapping."""

    start: int
    end: int
    is_flow: bool
    """Written in braces."""
    entries: tuple[tuple[Word, Span], ...]

    def at(self, key: str) -> Span | None:
        return next((value for name, value in self.entries if name.text == key), None)


Span: TypeAlias = Word | Row | Group


def spans(text: str) -> tuple[Span | None, list[Problem]]:
    """The nodes of a YAML text, or the problems that keep it from being read; then there are none."""
    root, problems = compose(text)
    if problems or root is None:
        return None, problems
    loader = LOADER(text)
    try:
        loader.get_event()  # the stream's start
        loader.get_event()  # the document's start
        return _node(loader, loader.get_event(), text), []
    finally:
        loader.dispose()


def _node(loader: Any, event: Any, text: str) -> Span:
    start, end = event.start_mark.index, event.end_mark.index
    if isinstance(event, yaml.ScalarEvent):
        style = event.style or ""
        if style in ("|", ">"):
            # Its end lies behind the line ends that follow it, which are not ours to remove.
            end = start + len(text[start:end].rstrip())
        return Word(start, end, event.value, style)
    items: list[Span] = []
    is_flow = bool(event.flow_style)
    is_row = isinstance(event, yaml.SequenceStartEvent)
    while True:
        inner: Any = loader.get_event()
        if isinstance(inner, yaml.CollectionEndEvent):
            break
        items.append(_node(loader, inner, text))
    closing: Any = inner.end_mark
    end = closing.index if is_flow else items[-1].end
    if is_row:
        return Row(start, end, is_flow, tuple(items))
    keys = [key for key in items[::2] if isinstance(key, Word)]
    values = [
        _behind_colon(key, value, text) if isinstance(value, Word) and value.start == value.end else value
        for key, value in zip(keys, items[1::2], strict=True)
    ]
    if not is_flow:
        end = values[-1].end
    return Group(start, end, is_flow, tuple(zip(keys, values, strict=True)))


def _behind_colon(key: Word, value: Word, text: str) -> Word:
    """An empty value, where it would be written; parsers put it before whatever comes next."""
    at = key.end
    while at < len(text) and text[at] in " \t":
        at += 1
    if not text.startswith(":", at):
        return value
    return Word(at + 1, at + 1, value.text, value.style)


def value_of(span: Span) -> Value:
    """What a node says."""
    if isinstance(span, Word):
        return None if span.is_nothing else span.text
    if isinstance(span, Row):
        return tuple(value_of(item) for item in span.items)
    return {key.text: value_of(value) for key, value in span.entries}
