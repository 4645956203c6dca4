"""YAML text to nodes that keep their lines, by the core rules of YAML 1.2: every plain scalar stays its text.

The field that reads a scalar decides whether it is a date, a number, true or false, or nothing; so `no`,
`on`, `07` and `12:30` stay what the producer typed. Tags, anchors and aliases are faults, and so are keys
written twice. PyYAML (libyaml where it is built in) finds the tokens.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from typing import Any, NamedTuple, TypeAlias

import yaml

MOST_LEVELS = 12
"""How deep lists and mappings may nest; the deepest file format here needs 6."""
MOST_NODES = 50_000
"""How many values one file may hold."""

# YAML 1.2.2, 5.1, c-printable, turned round.
# Written as what it holds: what it does not would take a hundredth of a second to compile.
_UNPRINTABLE = re.compile(r"[\0-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")

LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


# Named tuples: a story has about a hundred nodes, and these are made in a third of a frozen dataclass's time.
class Scalar(NamedTuple):
    text: str
    line: int
    """From 1, within the text given to `compose` plus its first line."""
    column: int
    """From 1."""
    plain: bool = True
    """Written without quotes and not as a block."""

    @property
    def is_nothing(self) -> bool:
        """YAML 1.2 core schema, 10.3.2: the writings of null."""
        return self.plain and self.text in ("", "~", "null", "Null", "NULL")


class Sequence(NamedTuple):
    items: tuple[Node, ...]
    line: int
    column: int


class Mapping(NamedTuple):
    entries: tuple[tuple[Scalar, Node], ...]
    line: int
    column: int


Node: TypeAlias = Scalar | Sequence | Mapping


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that keeps a text from being read, with where and what to write instead."""

    line: int
    column: int
    message: str
    instead: str = ""
    check: str = "yaml"


@dataclass(slots=True)
class _Open:
    """A list or mapping whose end has not come yet."""

    is_mapping: bool
    line: int
    column: int
    items: list[Node] = field(default_factory=list)
    keys: list[Scalar] = field(default_factory=list)
    seen: dict[str, int] = field(default_factory=dict)
    pending: Scalar | None = None


def compose(text: str, first_line: int = 1) -> tuple[Node | None, list[Problem]]:
    """The node tree of a YAML text, and every problem found on the way.

    `first_line` is the file's line that the text starts on. The tree is None when the text is empty or
    could not be read to its end.
    """
    problems: list[Problem] = []
    stack: list[_Open] = []
    root: Node | None = None
    count = 0
    loader = LOADER(text)
    try:
        while True:
            event = loader.get_event()
            kind = type(event)
            mark = event.start_mark
            line, column = mark.line + first_line, mark.column + 1
            if kind is yaml.ScalarEvent and event.anchor is None and event.tag is None and stack:
                # Nine of ten events: nothing is wrong with them, and all that follows is about what may be.
                count += 1
                if count <= MOST_NODES:
                    scalar = Scalar(event.value, line, column, not event.style)
                    opened = stack[-1]
                    if not opened.is_mapping:
                        opened.items.append(scalar)
                    elif opened.pending is None and scalar.text not in opened.seen:
                        opened.pending = scalar
                    else:
                        _add(opened, scalar, problems)
                    continue
            if kind is yaml.StreamEndEvent:
                break
            if isinstance(event, yaml.DocumentStartEvent) and root is not None:
                problems.append(
                    Problem(line, column, "A second document begins here.", "Remove the `---` line.")
                )
                return root, problems
            if isinstance(event, (yaml.SequenceEndEvent, yaml.MappingEndEvent)):
                node = _close(stack.pop())
            elif isinstance(event, yaml.NodeEvent):
                count += 1
                if count > MOST_NODES:
                    problems.append(Problem(line, column, f"The file holds more than {MOST_NODES} values."))
                    return None, problems
                if event.anchor is not None:
                    sign = "*" if isinstance(event, yaml.AliasEvent) else "&"
                    problems.append(
                        Problem(
                            line,
                            column,
                            f"'{sign}{event.anchor}' is a YAML anchor; anchors are not read here.",
                            "Write the value out, or put the text in quotes.",
                            "yaml-anchor",
                        )
                    )
                tag = getattr(event, "tag", None)
                if tag is not None:
                    problems.append(
                        Problem(
                            line,
                            column,
                            f"'{_short_tag(tag)}' is a YAML tag; tags are not read here.",
                            "Remove it, or put the text in quotes.",
                            "yaml-tag",
                        )
                    )
                if isinstance(event, yaml.CollectionStartEvent):
                    if len(stack) >= MOST_LEVELS:
                        problems.append(
                            Problem(line, column, f"Lists are nested more than {MOST_LEVELS} deep.")
                        )
                        return None, problems
                    stack.append(_Open(isinstance(event, yaml.MappingStartEvent), line, column))
                    continue
                if isinstance(event, yaml.ScalarEvent):
                    node = Scalar(event.value, line, column, event.style is None or event.style == "")
                else:
                    node = Scalar("", line, column)
            else:
                continue
            if not stack:
                root = node
                continue
            _add(stack[-1], node, problems)
    except yaml.YAMLError as error:
        problems.append(_explain(error, text, first_line))
        return None, problems
    finally:
        loader.dispose()
    return root, problems


def _add(parent: _Open, node: Node, problems: list[Problem]) -> None:
    if not parent.is_mapping:
        parent.items.append(node)
    elif parent.pending is None:
        if not isinstance(node, Scalar):
            problems.append(Problem(node.line, node.column, "A key must be a word.", "Write `key: value`."))
            node = Scalar("", node.line, node.column)
        elif node.text in parent.seen:
            problems.append(
                Problem(
                    node.line,
                    node.column,
                    f"The key '{node.text}' is written twice; the first is on line {parent.seen[node.text]}.",
                    "Keep one of them.",
                    "key-twice",
                )
            )
        parent.pending = node
    else:
        if parent.pending.text not in parent.seen:
            parent.seen[parent.pending.text] = parent.pending.line
            parent.keys.append(parent.pending)
            parent.items.append(node)
        parent.pending = None


def _close(opened: _Open) -> Node:
    if opened.is_mapping:
        return Mapping(tuple(zip(opened.keys, opened.items, strict=True)), opened.line, opened.column)
    return Sequence(tuple(opened.items), opened.line, opened.column)


def _short_tag(tag: str) -> str:
    return tag.replace("tag:yaml.org,2002:", "!!")


def _explain(error: yaml.YAMLError, text: str, first_line: int) -> Problem:
    """A parser's error in a journalist's words."""
    bad = _UNPRINTABLE.search(text)
    if bad is not None and isinstance(error, yaml.reader.ReaderError):
        # libyaml gives its place in bytes only.
        good = text[: bad.start()]
        return Problem(
            good.count("\n") + first_line,
            len(good) - (good.rfind("\n") + 1) + 1,
            f"An invisible control character stands here (U+{ord(bad[0]):04X}).",
            "Delete it; retyping the text helps.",
            "control-character",
        )
    space = wrong_space(text, first_line)
    if space is not None:
        return space
    problem = str(getattr(error, "problem", "") or getattr(error, "reason", "") or "")
    mark = getattr(error, "problem_mark", None)
    context = str(getattr(error, "context", "") or "")
    context_mark = getattr(error, "context_mark", None)
    lines = text.splitlines()

    def at(where: Any, message: str, instead: str = "") -> Problem:
        if where is None:
            return Problem(first_line, 1, message, instead)
        line = min(where.line, max(len(lines) - 1, 0))
        return Problem(line + first_line, where.column + 1 if line == where.line else 1, message, instead)

    if "':'" in problem and "simple key" in context:
        where = context_mark or mark
        if where is not None and where.line < len(lines) and is_like_fence(lines[where.line]):
            return at(
                where,
                f"'{lines[where.line].strip()}' does not end the front matter; three hyphens do.",
                "Write --- on this line.",
            )
        written = lines[where.line].strip() if where is not None and where.line < len(lines) else ""
        return at(
            where,
            f"There is no colon after the key in '{written[:60]}'.",
            "Write `key: value`, with a space after the colon.",
        )
    if "mapping values are not allowed" in problem:
        before = _line_without_colon(lines, mark)
        if before is not None:
            return Problem(
                before + first_line,
                1,
                f"There is no colon with a space behind it after the key in '{lines[before].strip()[:60]}'.",
                "Write `key: value`, with a space after the colon.",
            )
        return at(
            mark,
            "There is a second colon in this line, or the line is indented too far.",
            "Put a text that holds ': ' in quotes: \"…\".",
        )
    if "tab character" in problem and "\t" in text:
        good = text[: text.index("\t")]
        column = len(good) - (good.rfind("\n") + 1) + 1
        return Problem(good.count("\n") + first_line, column, *TAB, "tab")
    if "alphabetic or numeric" in problem or "mapping keys are not allowed" in problem:
        where = context_mark or mark
        sign = (
            lines[where.line][where.column : where.column + 1]
            if where is not None and where.line < len(lines)
            else ""
        )
        if sign in ("*", "&", "?"):
            return at(where, f"A value cannot begin with '{sign}'.", 'Put the text in quotes: "…".')
    if "cannot start any token" in problem:
        sign = ""
        if mark is not None and mark.line < len(lines) and mark.column < len(lines[mark.line]):
            sign = lines[mark.line][mark.column]
        if sign == "\t":
            return at(mark, "A tab stands where only spaces may indent.", "Indent with spaces.")
        return at(
            mark,
            f"A value cannot begin with '{sign}'."
            if sign
            else "A value begins with a sign that YAML keeps for itself.",
            'Put the text in quotes: "…".',
        )
    if "escape" in problem:
        return at(
            mark,
            "A backslash in a double-quoted text stands before a letter it does not go with.",
            "Write '…' instead of \"…\".",
        )
    if "quoted scalar" in context or "end of stream" in problem:
        return at(
            context_mark or mark,
            "A quotation mark or bracket is opened here and not closed.",
            "Close it on the same line.",
        )
    if "block sequence entries" in problem:
        return at(
            mark,
            "A hyphen with a space behind it begins an entry of a list, and none can begin here.",
            f"Put a text that begins with a hyphen in quotes{_quoted_rest(lines, mark)}; "
            "each entry of a list stands on a line of its own.",
        )
    in_brackets = "',' or" in problem
    if in_brackets or "expected key" in problem or "expected '-' indicator" in problem:
        ended = _text_ended_early(lines, mark, in_brackets)
        if mark is not None and ended is not None:
            return Problem(mark.line + first_line, *ended)
    if in_brackets:
        closed = _closed_in_comment(lines, context_mark, mark)
        if closed is not None:
            return Problem(
                closed[0] + first_line,
                closed[1] + 1,
                "A # after a space begins a comment, and with it goes the bracket that closes the list or group.",
                "Put the text that holds ' #' in quotes: \"…\".",
            )
        if mark is not None and mark.line < len(lines) and _is_second_colon(lines[mark.line], mark.column):
            return at(
                mark, "There is a second colon in this entry.", "Put a text that holds ': ' in quotes: \"…\"."
            )
        return at(
            context_mark or mark,
            "A list or group that begins here is not closed, or an entry in it lacks its comma.",
            "Separate entries with commas and close with ] or }.",
        )
    if "undefined alias" in problem:
        return at(
            mark, "A value cannot begin with '*' unless it is in quotes.", 'Put the text in quotes: "…".'
        )
    if (
        "expected key" in problem
        or "block end" in problem
        or "expected '-' indicator" in problem
        or "block entry" in problem
        or "document start" in problem
    ):
        return at(
            mark,
            "The indentation of this line does not fit the lines before it.",
            "Line it up with the keys or entries it belongs with.",
        )
    return at(
        mark,
        f"This cannot be read as YAML ({problem or 'unreadable'}).",
        "Compare it with the example in the README.",
    )


TAB = "A tab stands in the front matter or YAML.", "Write spaces instead."
"""What is wrong with one, and what to write instead."""
# Spaces of Unicode (category Zs) that are none to YAML, where it needs one: to indent, behind a hyphen of a list, behind the colon of a key.
_WRONG_SPACE = re.compile(
    r"(?:^ *(?:- +)*-? *|(?:^ *(?:- +)*|[{,] *)\w+: *)(?P<space>[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000])",
    re.MULTILINE,
)


def wrong_space(text: str, first_line: int) -> Problem | None:
    """The first space that looks like one and is none, in a text that cannot be read."""
    found = _WRONG_SPACE.search(text)
    if found is None:
        return None
    at = found.start("space")
    sign = text[at]
    line = text.count("\n", 0, at)
    name = "a no-break space" if sign == "\xa0" else f"one called {unicodedata.name(sign).lower()}"
    return Problem(
        line + first_line,
        at - text.rfind("\n", 0, at),
        f"The space here is {name} (U+{ord(sign):04X}), which copied text brings along and YAML does not take for a space.",
        "Delete it and press the space bar; in a text that was copied, do so with each.",
        "wrong-space",
    )


def _is_second_colon(line: str, at: int) -> bool:
    """What stands at `at` is the second colon of an entry in braces or brackets."""
    entry = re.split(r"[,{\[]", line[:at])[-1]
    return line[at : at + 1] == ":" and ": " in entry and not re.search(r": *[\"']|[}\]]", entry)


_DASHES = re.compile(r"[-\u2010-\u2015\u2212 ]+")


def is_like_fence(line: str) -> bool:
    """True for a line of dashes alone that is not the `---` it was to be: four hyphens, or the long dash that some
    programs make of two or three."""
    written = line.rstrip()
    return written != "---" and written.strip() not in ("", "-") and _DASHES.fullmatch(written) is not None


_OPENING = re.compile(r"(?:[-:,\[{]\s|[\[{])\s*(?P<mark>[\"'])")
_NEXT_ENTRY = re.compile(r"[\"'\[{]|[\w ]+:(?:\s|\Z)")


def _text_ended_early(lines: list[str], mark: Any, in_brackets: bool) -> tuple[int, str, str] | None:
    """(column, message, what to write instead) where words follow a quotation mark that ends a text."""
    if mark is None or mark.line >= len(lines):
        return None
    line = lines[mark.line]
    before, behind = line[: mark.column].rstrip(), line[mark.column :].rstrip()
    # Nothing but a text in quotes can end in a quotation mark there: a text without quotes would go on.
    if not before.endswith(('"', "'")) or not behind or (in_brackets and _NEXT_ENTRY.match(behind)):
        return None
    sign = before[-1]
    doubled = '\\"' if sign == '"' else "''"
    other = "'" if sign == '"' else '"'
    instead = f"Put the whole text between {other} and {other}, or write {doubled} for a quotation mark inside of it."
    starts = [each.start("mark") for each in _OPENING.finditer(before[:-1]) if each["mark"] == sign]
    if starts and not in_brackets and " #" not in line and "\\" not in line:
        whole = line[starts[0] :].rstrip()
        touching = len(before) == mark.column
        if touching and whole.endswith(sign) and behind[0].isalnum():
            instead = f"Write instead: {_in_quotes(whole[1:-1])}"
        elif not touching and not whole.endswith(sign):
            instead = f"Write instead: {_in_quotes(whole)}"
    return len(before), f"The quotation mark {sign} here ends the text, and more words follow.", instead


def _in_quotes(text: str) -> str:
    """A text without a backslash in whichever quotation marks it does not hold."""
    if '"' not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"


def _quoted_rest(lines: list[str], mark: Any) -> str:
    rest = lines[mark.line][mark.column :].rstrip() if mark is not None and mark.line < len(lines) else ""
    return f": {_in_quotes(rest)}" if rest and " #" not in rest and "\\" not in rest else ""


def _closed_in_comment(lines: list[str], start: Any, mark: Any) -> tuple[int, int] | None:
    """(line, column) from 0 of a # whose comment holds the bracket that would have closed what begins at `start`."""
    if start is None or mark is None:
        return None
    for index in range(start.line, min(mark.line + 1, len(lines))):
        line = lines[index]
        column = line.find(" #", start.column if index == start.line else 0)
        if column >= 0 and any(sign in line[column:] for sign in "]}") and not line[:column].count('"') % 2:
            return index, column + 1
    return None


def _line_without_colon(lines: list[str], mark: Any) -> int | None:
    """The index of the line before a mark where a key lacks its colon, which YAML notices one line late."""
    if mark is None or mark.line >= len(lines) or ":" in lines[mark.line][: mark.column]:
        return None
    for index in range(mark.line - 1, -1, -1):
        line = lines[index].strip()
        if line and not line.startswith("#"):
            return index if ": " not in line and not line.endswith(":") else None
    return None
