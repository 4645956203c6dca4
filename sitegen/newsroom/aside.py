"""What the comments of a file's YAML say, each with the field it is about; and the ask that a draft holds in comments until somebody has looked.

Comments change nothing: this is for showing them where the file itself is not seen, and for taking the ask up.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from sitegen.newsroom.editing import EditError, Trail, read_document, yaml_part
from sitegen.newsroom.forms import FORMS, Entry
from sitegen.newsroom.spans import Group, Row, Span, Word, spans

_ASIDE = re.compile(r"# asks: +# fill in\b")
"""How the first line of an ask in comments begins."""
_EXAMPLE = re.compile(r"# asks:")
_INSIDE = re.compile(r"#  ")
_KEY = re.compile(r"(?P<key>[a-z_]+):(?: +(?P<rest>.*))?\Z")
_BEHIND = re.compile(r"(?:(?P<value>.*?) +)?# +(?P<words>.+)\Z")
_ASKS = re.compile(r"(?:fill in|look|a suggestion|looks like)\b")
_TO_DO = re.compile(r"\A(?:fill in|look|a suggestion)\b|\A\S+ looks like it\b")


@dataclass(frozen=True, slots=True)
class Note:
    """A comment of a file."""

    trail: Trail
    """Where the field that it is about stands, or would stand; empty for the whole file."""
    text: str
    line: int
    """From 1, in the file."""

    @property
    def is_to_do(self) -> bool:
        """It asks somebody to look or to fill something in."""
        return _TO_DO.search(self.text) is not None


def notes(text: str, has_body: bool) -> tuple[Note, ...]:
    """The comments of a file that can be read, but those of asks in comments and examples of what can be written."""
    start, end = yaml_part(text, has_body)
    root, problems = spans(text[start:end])
    if problems or root is None:
        return ()
    found = _Comments(text[start:end], root)
    before = text.count("\n", 0, start)
    return tuple(Note(trail, words, line + before + 1) for trail, words, line in dict.fromkeys(found.notes()))


def taken_up(text: str, has_body: bool) -> str | None:
    """The text of a file with the ask that stands in comments as one of its own; None where there is none, or where it cannot be read so.

    A file that has asks already keeps what it has in comments.
    """
    try:
        start, end = yaml_part(text, has_body)
        if "asks" in read_document(text, has_body).values:
            return None
        lines = text[start:end].split("\n")
        at = next((number for number, line in enumerate(lines) if _ASIDE.match(line)), None)
        if at is None:
            return None
        stop = _end_of_block(lines, at)
        asked = [line[2:] for line in lines[at + 1 : stop]]
        changed = text[:start] + "\n".join([*lines[:at], "asks:", *asked, *lines[stop:]]) + text[end:]
        return changed if isinstance(read_document(changed, has_body).values.get("asks"), tuple) else None
    except EditError:
        return None


def _end_of_block(lines: list[str], at: int) -> int:
    """The index behind the last line of what stands in comments below one."""
    stop = at + 1
    while stop < len(lines) and _INSIDE.match(lines[stop]):
        stop += 1
    return stop


@cache
def _keys() -> frozenset[str]:
    """Every key of a field: what stands behind one in comments is an example, unless it asks for something."""

    def of(fields: Iterable[Entry]) -> Iterator[str]:
        for entry in fields:
            yield entry.key
            yield from of(entry.fields)

    return frozenset(key for form in FORMS.values() for key in of(form.fields))


class _Comments:
    def __init__(self, text: str, root: Span) -> None:
        self.lines = text.split("\n")
        self.words: dict[int, list[tuple[int, int]]] = {}
        """(first column, column behind the last) of scalars, by line (from 0)."""
        self.trails: dict[int, list[tuple[int, Trail]]] = {}
        """(column, trail) of keys and of entries of lists, by line."""
        self.starts = [0]
        """Where each line begins."""
        for line in self.lines[:-1]:
            self.starts.append(self.starts[-1] + len(line) + 1)
        self._walk(root, ())

    def _place(self, at: int) -> tuple[int, int]:
        line = bisect_right(self.starts, at) - 1
        return line, at - self.starts[line]

    def _walk(self, span: Span, trail: Trail) -> None:
        if isinstance(span, Word):
            self._word(span)
        elif isinstance(span, Group):
            for key, value in span.entries:
                self._note(key.start, (*trail, key.text))
                self._word(key)
                self._walk(value, (*trail, key.text))
        elif isinstance(span, Row):
            for index, item in enumerate(span.items):
                if not (isinstance(item, Word) and item.start == item.end):
                    self._note(item.start, (*trail, index))
                self._walk(item, (*trail, index))

    def _note(self, at: int, trail: Trail) -> None:
        line, column = self._place(at)
        self.trails.setdefault(line, []).append((column, trail))

    def _word(self, word: Word) -> None:
        (line, column), (last, end) = self._place(word.start), self._place(word.end)
        for number in range(line, last + 1):
            first = column if number == line else 0
            self.words.setdefault(number, []).append(
                (first, end if number == last else len(self.lines[number]) + 1)
            )

    def notes(self) -> Iterator[tuple[Trail, str, int]]:
        number = 0
        while number < len(self.lines):
            line = self.lines[number]
            if _EXAMPLE.match(line):
                number = _end_of_block(self.lines, number)
                continue
            at = self._comment(number)
            if at is not None:
                words = line[at:].lstrip("#").strip()
                if line[:at].strip():
                    trail = next(
                        (each for _, each in self.trails.get(number, ()) if isinstance(each[-1], str)), ()
                    )
                    yield trail or self._next(number), words, number
                elif words:
                    yield from self._of_line(number, at, words)
            number += 1

    def _comment(self, number: int) -> int | None:
        """The column of a line's comment."""
        line, words = self.lines[number], self.words.get(number, ())
        for match in re.finditer("#", line):
            at = match.start()
            if (at == 0 or line[at - 1] in " \t") and not any(first <= at < end for first, end in words):
                return at
        return None

    def _of_line(self, number: int, at: int, words: str) -> Iterator[tuple[Trail, str, int]]:
        key = _KEY.match(words)
        group = self._group(number, at) if key is not None and key["key"] in _keys() else None
        if key is None or group is None:
            yield self._next(number), words, number
            return
        rest = key["rest"] or ""
        behind = _BEHIND.match(rest)
        said = behind["words"] if behind is not None else rest
        if _ASKS.match(said):
            if behind is not None and behind["value"] and not said.startswith("fill in"):
                said = f"{behind['value']} {said}"
            yield (*group, key["key"]), said, number

    def _next(self, number: int) -> Trail:
        """What the line after a comment begins with; nothing at the end of the file."""
        after = [line for line in self.trails if line > number]
        return self.trails[min(after)][0][1] if after else ()

    def _group(self, number: int, column: int) -> Trail | None:
        """The group whose keys stand in a column around a line."""
        for line in sorted((line for line in self.trails if line < number), reverse=True):
            for at, trail in self.trails[line]:
                if at == column and isinstance(trail[-1], str):
                    return trail[:-1]
            if min(at for at, _ in self.trails[line]) < column:
                break
        for line in sorted(line for line in self.trails if line > number):
            for at, trail in self.trails[line]:
                if at == column and isinstance(trail[-1], str):
                    return trail[:-1]
            return None
        return None
