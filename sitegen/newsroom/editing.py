"""Changing a file's text by its fields: what was not changed keeps every byte, comments, order and quotation marks included.

A file is given as text and as what it is to say; the difference becomes a few cuts at the places where `spans.py` found the
nodes. A library that writes YAML anew would keep comments too, but wraps, indents and quotes by its own rules. Every
result is read again, and a text that does not say what was asked for is never handed out.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from typing import TypeAlias

from sitegen.newsroom.matter import parts_of
from sitegen.newsroom.spans import Group, Row, Span, Value, Word, spans, value_of

FILL_IN = "# fill in:"
"""How a draft marks a blank, behind the key; the mark goes once the blank is filled."""

Trail: TypeAlias = tuple[str | int, ...]
"""Keys and indices (from 0) that lead to a field."""


class EditError(ValueError):
    """A file that cannot be changed field by field: `line` (from 1, in the file), and why in plain words."""

    def __init__(self, message: str, line: int = 1) -> None:
        super().__init__(message)
        self.line = line


@dataclass(frozen=True, slots=True)
class Item:
    """An entry of a wanted list, with where it was."""

    value: Wanted
    was: int | None = None
    """Its index (from 0) in the file as it is; None for a new entry."""


Wanted: TypeAlias = "str | tuple[Wanted | Item, ...] | Mapping[str, Wanted] | None"
"""What a file is to say. In a list either every entry is an `Item` or none; without, entries are found again by what they say."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How new parts of a group are written."""

    keys: Sequence[str] = ()
    """Its keys in their usual order: where a new one goes."""
    inside: Mapping[str, Layout] = field(default_factory=dict)
    """Of the groups and lists of groups in it, by key."""
    is_open: bool = False
    """New groups stand over several lines, one key each, instead of in braces."""


@dataclass(frozen=True, slots=True)
class Document:
    """What a file says: its fields, and for a file with front matter the text below."""

    values: Mapping[str, Value]
    body: str | None = None
    """Without blank lines around it; None in files that have none."""


NO_LAYOUT = Layout()


def read_document(text: str, has_body: bool) -> Document:
    """What a file's text says. Raises EditError when it cannot be read as front matter or YAML."""
    start, end, body, body_end = _parts(text, has_body)
    values = value_of(_root(text[start:end], text.count("\n", 0, start)))
    assert isinstance(values, Mapping)
    return Document(values, text[body:body_end] if has_body else None)


def rewrite(
    text: str,
    has_body: bool,
    wanted: Mapping[str, Wanted],
    body: str | None = None,
    layout: Layout = NO_LAYOUT,
) -> str:
    """The text of a file that says what is wanted; only lines of fields that differ are other than before.

    `body` is the text below the front matter, None to leave it. Raises EditError for a file that cannot be changed so.
    """
    start, end, body_start, body_end = _parts(text, has_body)
    front = _rewritten(text[start:end], wanted, layout, text.count("\n", 0, start))
    behind = text[end:]
    if has_body and body is not None:
        new = _trimmed(body)
        if new != text[body_start:body_end]:
            before = text[end:body_start]
            tail = text[body_end:] or "\n"
            behind = before + ("" if before.endswith("\n") else "\n") + new + (tail if new else "")
    return text[:start] + front + behind


def yaml_part(text: str, has_body: bool) -> tuple[int, int]:
    """(start, end) of the YAML in a file's text. Raises EditError where a file with a body has no front matter."""
    return _parts(text, has_body)[:2]


def _trimmed(body: str) -> str:
    """A text as it is kept: line feeds alone, no blank lines around it."""
    lines = body.replace("\r\n", "\n").replace("\r", "\n").rstrip().split("\n")
    while len(lines) > 1 and not lines[0].strip():
        del lines[0]
    return "\n".join(lines)


def _parts(text: str, has_body: bool) -> tuple[int, int, int, int]:
    if not has_body:
        return (1 if text.startswith("\ufeff") else 0), len(text), len(text), len(text)
    parts = parts_of(text)
    if parts is None:
        raise EditError("The file does not begin with front matter between two lines of ---.")
    return parts


def _root(text: str, lines_before: int) -> Group:
    root, problems = spans(text)
    if problems:
        raise EditError(problems[0].message, problems[0].line + lines_before)
    if not isinstance(root, Group):
        raise EditError("The file is not a set of keys.", 1 + lines_before)
    return root


# --- from a difference to cuts -----------------------------------------------------------------


def plain(wanted: Wanted | Item) -> Value:
    """What a wanted value says, without where its entries were."""
    if isinstance(wanted, Item):
        return plain(wanted.value)
    if isinstance(wanted, tuple):
        return tuple(plain(item) for item in wanted)
    if isinstance(wanted, Mapping):
        return {key: plain(value) for key, value in wanted.items()}
    return wanted


def _rewritten(text: str, wanted: Mapping[str, Wanted], layout: Layout, lines_before: int) -> str:
    sheet = _Sheet(text, layout, lines_before)
    old = value_of(sheet.root)
    if not wanted:
        raise EditError("Nothing would be left in the file.", 1 + lines_before)
    _reconcile(sheet, (), old, wanted)
    if value_of(sheet.root) != plain(wanted):
        raise EditError(
            "The file is written in a way that can only be changed in its text.", 1 + lines_before
        )
    return sheet.text


def _reconcile(sheet: _Sheet, path: Trail, old: Value, wanted: Wanted) -> None:
    if isinstance(old, Mapping) and isinstance(wanted, Mapping) and wanted:
        for key in sorted(wanted.keys() & old.keys(), key=list(old).index):
            _reconcile(sheet, (*path, key), old[key], wanted[key])
        # Before anything goes, so that no group is empty in between.
        for key in _in_order(wanted.keys() - old.keys(), wanted, sheet.layout_at(path)):
            sheet.put((*path, key), plain(wanted[key]))
        for key in old.keys() - wanted.keys():
            sheet.drop((*path, key))
    elif isinstance(old, tuple) and isinstance(wanted, tuple) and wanted:
        _reconcile_row(sheet, path, old, _found_again(old, wanted))
    elif old != plain(wanted):
        sheet.put(path, plain(wanted))


def _in_order(keys: set[str], wanted: Mapping[str, Wanted], layout: Layout) -> list[str]:
    usual = {key: number for number, key in enumerate(layout.keys)}
    return sorted(keys, key=lambda key: (usual.get(key, len(usual)), list(wanted).index(key)))


def _found_again(old: tuple[Value, ...], wanted: tuple[Wanted | Item, ...]) -> list[Item]:
    """The wanted entries with where each was: as they say, else by being equal, else by standing in the same gap."""
    if all(isinstance(item, Item) for item in wanted):
        return [item for item in wanted if isinstance(item, Item)]
    values = [item.value if isinstance(item, Item) else item for item in wanted]
    matcher = SequenceMatcher(
        None, [repr(value) for value in old], [repr(plain(value)) for value in values], False
    )
    was: list[int | None] = [None] * len(values)
    for _, old_from, old_to, new_from, new_to in matcher.get_opcodes():
        for offset in range(min(old_to - old_from, new_to - new_from)):
            was[new_from + offset] = old_from + offset
    return [Item(value, index) for value, index in zip(values, was, strict=True)]


def _reconcile_row(sheet: _Sheet, path: Trail, old: tuple[Value, ...], wanted: list[Item]) -> None:
    kept = [item.was for item in wanted if item.was is not None and item.was < len(old)]
    if not kept or len(set(kept)) != len(kept):
        if old != plain(tuple(wanted)):
            sheet.put(path, plain(tuple(wanted)))
        return
    for index in range(len(old) - 1, -1, -1):
        if index not in kept:
            sheet.drop((*path, index))
    left = sorted(kept)
    if kept != left:
        sheet.permute(path, [left.index(index) for index in kept])
    for index, item in enumerate(wanted):
        if item.was is None or item.was >= len(old):
            sheet.insert(path, index, plain(item.value))
        else:
            _reconcile(sheet, (*path, index), old[item.was], item.value)


# --- cuts --------------------------------------------------------------------------------------


class _Sheet:
    """A YAML text that is cut one place after the other, and read anew after each."""

    def __init__(self, text: str, layout: Layout, lines_before: int) -> None:
        self.text = text
        self.layout = layout
        self.lines_before = lines_before
        self.root = _root(text, lines_before)
        self.newline = "\r\n" if "\r\n" in text else "\n"

    def layout_at(self, path: Trail) -> Layout:
        layout = self.layout
        for step in path:
            if isinstance(step, str):
                layout = layout.inside.get(step, NO_LAYOUT)
        return layout

    def _cut(self, start: int, end: int, text: str) -> None:
        self.text = self.text[:start] + text + self.text[end:]
        self.root = _root(self.text, self.lines_before)

    def _refuse(self, at: int) -> EditError:
        line = self.text.count("\n", 0, at) + 1 + self.lines_before
        return EditError(
            "This part of the file is written in a way that can only be changed in its text.", line
        )

    def _at(self, path: Trail) -> Span:
        span: Span | None = self.root
        for step in path:
            if isinstance(span, Group) and isinstance(step, str):
                span = span.at(step)
            elif isinstance(span, Row) and isinstance(step, int):
                span = span.items[step]
            else:
                span = None
        if span is None:
            raise EditError("A part of the file to be changed is not there.", 1 + self.lines_before)
        return span

    # --- lines ---

    def _line_start(self, at: int) -> int:
        return self.text.rfind("\n", 0, at) + 1

    def _line_end(self, at: int) -> int:
        """Index of the line's end, before what ends it."""
        end = self.text.find("\n", at)
        end = len(self.text) if end < 0 else end
        return end - 1 if end > at and self.text[end - 1] == "\r" else end

    def _column(self, at: int) -> int:
        return at - self._line_start(at)

    def _begins_line(self, at: int) -> bool:
        return not self.text[self._line_start(at) : at].strip(" ")

    def _with_remarks_inside(self, end: int, column: int) -> int:
        """A field's end, behind the comments below it that stand farther in than it does."""
        at = self._line_end(end)
        while (start := self.text.find("\n", at) + 1) and start < len(self.text):
            at = self._line_end(start)
            line = self.text[start:at]
            if line.strip() and (line.strip()[0] != "#" or len(line) - len(line.lstrip(" ")) <= column):
                break
            if line.strip():
                end = at
        return end

    def _remove_lines(self, start: int, end: int) -> None:
        """From the line of one character to that of another, both whole, with the comments inside."""
        first, last = (
            self._line_start(start),
            self._line_end(self._with_remarks_inside(end, self._column(start))),
        )
        behind = self.text.find("\n", last)
        if behind >= 0:
            self._cut(first, behind + 1, "")
            return
        # The last line had no end, so the one before needs none; but a literal text there would read otherwise without it.
        left = self.text[:first]
        bare = left.rstrip("\r\n")
        reads_alike = value_of(_root(bare, self.lines_before)) == value_of(_root(left, self.lines_before))
        self._cut(len(bare) if reads_alike else first, len(self.text), "")

    # --- operations ---

    def put(self, path: Trail, value: Value) -> None:
        """Writes a field of a group, or an entry of a list that has one there."""
        parent, step = self._at(path[:-1]), path[-1]
        if isinstance(parent, Group) and isinstance(step, str):
            entry = next(((key, old) for key, old in parent.entries if key.text == step), None)
            if entry is None:
                self._add(parent, path, value)
            else:
                self._replace(parent, entry[0], entry[1], path, value)
        elif isinstance(parent, Row) and isinstance(step, int):
            self._replace(parent, None, parent.items[step], path, value)
        else:
            raise self._refuse(parent.start)

    def _replace(self, parent: Group | Row, key: Word | None, old: Span, path: Trail, value: Value) -> None:
        layout = self.layout_at(path)
        if parent.is_flow or (not _stands_open(value, layout) and not _is_block(old)):
            style = old.style if isinstance(old, Word) else ""
            written = flow(value, in_flow=parent.is_flow, style=style)
            end = old.end
            if isinstance(old, Word) and old.start == old.end:
                if key is not None and not self.text[key.end : old.start].strip(" ") and old.start == key.end:
                    raise self._refuse(key.start)
                written = " " + written
                marked = re.compile(r"[ \t]*" + re.escape(FILL_IN) + r"[^\r\n]*").match(self.text, end)
                end = marked.end() if marked is not None else end
                if self.text[end : end + 1] not in ("", " ", "\n", "\r", ",", "}", "]"):
                    written += " "
            self._cut(old.start, end, written)
            return
        start = key.start if key is not None else old.start
        if isinstance(old, Word) and old.start == old.end and key is None:
            raise self._refuse(old.start)
        if key is not None:
            lines = _entry(self.text[key.start : key.end], value, layout)
            margin = self._column(key.start)
        else:
            lines = _open_or_flow(value, layout)
            margin = self._column(old.start)
        if key is not None and _is_block(old):
            # A comment behind the key stays behind it.
            behind = self.text[key.end : self._line_end(key.end)]
            comment = behind[behind.index("#") - 1 :] if " #" in behind else ""
            lines = [lines[0] + comment, *lines[1:]]
        self._cut(start, old.end, (self.newline + " " * margin).join(lines))

    def _add(self, parent: Group, path: Trail, value: Value) -> None:
        key = path[-1]
        assert isinstance(key, str)
        before = self._predecessor(parent, key, self.layout_at(path[:-1]))
        if parent.is_flow:
            written = f"{scalar(key, True)}: {flow(value, in_flow=True)}"
            if not parent.entries:
                self._cut(parent.start, parent.end, "{" + written + "}")
            elif before is None:
                at = parent.entries[0][0].start
                self._cut(at, at, written + ", ")
            else:
                gap = " " if self.text[before.end - 1 : before.end] == ":" else ""
                self._cut(before.end, before.end, f"{gap}, {written}")
            return
        margin = self._column(parent.entries[0][0].start)
        lines = _entry(scalar(key, False), value, self.layout_at(path))
        written = (self.newline + " " * margin).join(lines)
        first = parent.entries[0][0]
        if before is None and self._begins_line(first.start):
            at = self._line_start(first.start)
            self._cut(at, at, " " * margin + written + self.newline)
        else:
            at = self._line_end((before or parent.entries[0][1]).end)
            self._cut(at, at, self.newline + " " * margin + written)

    def _predecessor(self, parent: Group, key: str, layout: Layout) -> Span | None:
        """The value that a new key goes behind; None for none."""
        keys = list(layout.keys)
        if key not in keys:
            return parent.entries[-1][1] if parent.entries else None
        for earlier in reversed(keys[: keys.index(key)]):
            found = parent.at(earlier)
            if found is not None:
                return found
        return None

    def drop(self, path: Trail) -> None:
        """Removes a field of a group, or an entry of a list; not the only one."""
        parent, step = self._at(path[:-1]), path[-1]
        if isinstance(parent, Group):
            pairs: list[tuple[Span, Span]] = list(parent.entries)
            number = next(number for number, (key, _) in enumerate(parent.entries) if key.text == step)
        else:
            assert isinstance(parent, Row) and isinstance(step, int)
            pairs, number = [(item, item) for item in parent.items], step
        if len(pairs) < 2:
            raise self._refuse(parent.start)
        start, end = pairs[number][0].start, pairs[number][1].end
        if parent.is_flow:
            if number + 1 < len(pairs):
                self._cut(start, pairs[number + 1][0].start, "")
            else:
                self._cut(pairs[number - 1][1].end, end, "")
        elif isinstance(parent, Row):
            self._remove_lines(self._dash(parent.items[number]), end)
        elif self._begins_line(start):
            self._remove_lines(start, end)
        else:
            # The first key of a list's entry stands behind its dash.
            line_end, following = self._line_end(end), pairs[1][0].start
            comments = self.text[line_end:following].strip()
            self._cut(start, line_end if comments else following, "")

    def _dash(self, item: Span) -> int:
        """Where the dash of a list's entry stands, which must begin its line."""
        at = item.start - 1
        while at >= 0 and self.text[at] in " \t\r\n":
            at -= 1
        if at < 0 or self.text[at] != "-" or not self._begins_line(at):
            raise self._refuse(item.start)
        return at

    def _slots(self, row: Row) -> list[tuple[int, int]]:
        """(start, end) of each entry with its dash and the comments that stand right above it, at the dash's column."""
        if row.is_flow:
            return [(item.start, item.end) for item in row.items]
        found: list[tuple[int, int]] = []
        for item in row.items:
            dash = self._dash(item)
            start, column = self._line_start(dash), self._column(dash)
            while start > 0:
                above = self._line_start(start - 1)
                line = self.text[above:start]
                if line.strip()[:1] != "#" or len(line) - len(line.lstrip(" ")) != column:
                    break
                start = above
            found.append((start, self._line_end(item.end)))
        return found

    def insert(self, path: Trail, index: int, value: Value) -> None:
        """A new entry of a list, before the one that is there, or at its end."""
        row = self._at(path)
        assert isinstance(row, Row)
        if row.is_flow:
            written = flow(value, in_flow=True)
            if not row.items:
                self._cut(row.start, row.end, f"[{written}]")
            elif index < len(row.items):
                at = row.items[index].start
                self._cut(at, at, written + ", ")
            else:
                self._cut(row.items[-1].end, row.items[-1].end, ", " + written)
            return
        slots = self._slots(row)
        dash = self._dash(row.items[0])
        column = self._column(dash)
        lines = _dashed(value, self.layout_at(path))
        written = (self.newline + " " * column).join(lines)
        if index < len(slots):
            at = slots[index][0]
            self._cut(at, at, " " * column + written + self.newline)
        else:
            self._cut(slots[-1][1], slots[-1][1], self.newline + " " * column + written)

    def permute(self, path: Trail, order: Sequence[int]) -> None:
        """Puts the entries of a list in another order; `order` gives for each place the index of what goes there."""
        row = self._at(path)
        assert isinstance(row, Row)
        slots = self._slots(row)
        written: list[str] = []
        at = slots[0][0]
        for (start, end), index in zip(slots, order, strict=True):
            written += [self.text[at:start], self.text[slots[index][0] : slots[index][1]]]
            at = end
        self._cut(slots[0][0], slots[-1][1], "".join(written))


# --- new text ----------------------------------------------------------------------------------


def _is_block(span: Span) -> bool:
    return not isinstance(span, Word) and not span.is_flow


def _stands_open(value: Value, layout: Layout) -> bool:
    """True for what is written over several lines."""
    if isinstance(value, Mapping):
        return layout.is_open and bool(value)
    return isinstance(value, tuple) and any(isinstance(item, (Mapping, tuple)) for item in value)


def _entry(key: str, value: Value, layout: Layout) -> list[str]:
    """Lines of a key with its value, without margin; `key` as it is written."""
    if isinstance(value, Mapping) and _stands_open(value, layout):
        return [f"{key}:", *(f"  {line}" for line in _open_group(value, layout))]
    if isinstance(value, tuple) and _stands_open(value, layout):
        return [f"{key}:", *(f"  {line}" for item in value for line in _dashed(item, layout))]
    return [f"{key}: {flow(value)}"]


def _open_group(value: Mapping[str, Value], layout: Layout) -> list[str]:
    return [
        line
        for key in _in_order(set(value), value, layout)
        for line in _entry(scalar(key), value[key], layout.inside.get(key, NO_LAYOUT))
    ]


def _open_or_flow(value: Value, layout: Layout) -> list[str]:
    if isinstance(value, Mapping) and _stands_open(value, layout):
        return _open_group(value, layout)
    return [flow(value)]


def _dashed(value: Value, layout: Layout) -> list[str]:
    """Lines of a list's entry, without margin."""
    first, *more = _open_or_flow(value, layout)
    return [f"- {first}", *(f"  {line}" for line in more)]


def flow(value: Value, in_flow: bool = False, style: str = "") -> str:
    """A value on one line."""
    if value is None:
        return "null"
    if isinstance(value, str):
        return scalar(value, in_flow, style)
    if isinstance(value, Mapping):
        return (
            "{" + ", ".join(f"{scalar(key, True)}: {flow(each, True)}" for key, each in value.items()) + "}"
        )
    return "[" + ", ".join(flow(each, True) for each in value) + "]"


_NOTHING = frozenset({"", "~", "null", "Null", "NULL"})
_INDICATORS = frozenset("-?:,[]{}#&*!|>'\"%@`=<")
"""What no plain scalar of ours begins with: YAML 1.2.2, 5.3, and `=` and `<`, which older readers mind."""


def scalar(text: str, in_flow: bool = False, style: str = "") -> str:
    """A text as a scalar of one line: plain where it reads back as the same text, else in quotes.

    By the rules of `nodes.py` `no`, `07` and `12:30` are texts and stay plain; only the writings of nothing need quotes.
    `style` is the quotation mark that the text had before, which it keeps.
    """
    if not style and _is_plain(text, in_flow):
        return text
    if style == "'" and text.isprintable():
        return "'" + text.replace("'", "''") + "'"
    return "".join(
        sign
        if sign.isprintable()
        else f"\\u{ord(sign):04x}"
        if ord(sign) < 0x10000
        else f"\\U{ord(sign):08x}"
        for sign in json.dumps(text, ensure_ascii=False)
    )


def _is_plain(text: str, in_flow: bool) -> bool:
    if text in _NOTHING or text != text.strip() or not text.isprintable():
        return False
    if text[0] in _INDICATORS and not re.match(r"-\d", text):
        return False
    if ": " in text or " #" in text or text.endswith(":") or text.startswith(("---", "...")):
        return False
    return not (in_flow and re.search(r"[,\[\]{}]|:(?![\w/.-])", text))
