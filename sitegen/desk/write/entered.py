"""Between what a file says and what stands in the fields of its form, both ways, losing nothing.

A field that was not touched keeps its value to the letter, and so does one whose value the form cannot show.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from sitegen.newsroom.editing import EditError, Item, Trail, Wanted, plain, read_document
from sitegen.newsroom.forms import Entry, Input
from sitegen.newsroom.spans import Value

Entered: TypeAlias = "dict[str, str | Entered | list[Row]]"
"""What stands in the fields, by key. A key that is missing has no field: its value stays."""


@dataclass(slots=True)
class Row:
    """One entry of a list of groups."""

    fields: Entered = field(default_factory=dict)
    was: int | None = None
    """Its index in the file as it was opened; None for a new one."""


_PAIR = re.compile(r"([-+]?[\d.]+),\s*([-+]?[\d.]+)\Z", re.ASCII)
"""Latitude and longitude, copied as one."""
MOST_ROWS = 200
"""How many entries a list may have in a form."""


# --- from the file ------------------------------------------------------------------------------


def shown(entry: Entry, value: Value) -> str | None:
    """A value as it stands in its field; None when the field cannot show it."""
    if value is None:
        return ""
    if entry.input in (Input.LIST, Input.COUNTIES, Input.POSITION):
        texts = value if isinstance(value, tuple) else (value,)
        if entry.input is Input.POSITION and (not isinstance(value, tuple) or len(texts) != 2):
            return None
        if any(not isinstance(text, str) or not text.strip() or "\n" in text for text in texts):
            return None
        return "\n".join(str(text) for text in texts)
    if entry.input is Input.MAP and isinstance(value, Mapping):
        lines = []
        for key, text in value.items():
            if (
                not isinstance(text, str)
                or "\n" in key + text
                or ": " in key
                or not text.strip()
                or not key.strip()
            ):
                return None
            lines.append(f"{key}: {text}")
        return "\n".join(lines)
    return value if isinstance(value, str) else None


def entered_of(fields: Sequence[Entry], values: Mapping[str, Wanted]) -> Entered:
    """What stands in the fields of a record. Where lists hold `Item`s, those say where their entries were."""
    found: Entered = {}
    for entry in fields:
        value = values.get(entry.key)
        if entry.input is Input.GROUP:
            if value is None or isinstance(value, Mapping):
                found[entry.key] = entered_of(entry.fields, value or {})
        elif entry.input is Input.GROUPS:
            rows = _rows(entry, value)
            if rows is not None:
                found[entry.key] = rows
        else:
            text = shown(entry, plain(value))
            if text is not None:
                found[entry.key] = text
    return found


def _rows(entry: Entry, value: Wanted) -> list[Row] | None:
    items = value if isinstance(value, tuple) else () if value is None else (value,)
    if len(items) > MOST_ROWS:
        return None
    rows: list[Row] = []
    for number, item in enumerate(items):
        each, was = (item.value, item.was) if isinstance(item, Item) else (item, number)
        group = _as_group(entry, each)
        if group is None:
            return None
        rows.append(Row(entered_of(entry.fields, group), was))
    return rows


def _as_group(entry: Entry, value: Wanted) -> Mapping[str, Wanted] | None:
    """An entry as a group: a shared place may be written as its name alone."""
    if isinstance(value, str) and entry.fields and entry.fields[0].input is Input.PLACE:
        return {"place": value}
    return value if isinstance(value, Mapping) else None


# --- to the file --------------------------------------------------------------------------------


def read_text(entry: Entry, text: str) -> Value:
    """What a field's text means; None when it is empty."""
    text = pasted(entry, text)
    if entry.input in (Input.LIST, Input.COUNTIES, Input.POSITION):
        lines = tuple(line for line in (_one_line(line) for line in _lines(text)) if line)
        if (
            entry.input is not Input.POSITION
            and len(lines) == 1
            and (entry.alone or entry.input is Input.COUNTIES)
        ):
            return lines[0]
        return lines or None
    if entry.input is Input.MAP:
        pairs: dict[str, Value] = {}
        for line in _lines(text):
            key, colon, value = _one_line(line).partition(": ")
            if not colon or not value or key in pairs:
                return _one_line(text) or None
            pairs[key] = value
        return pairs or None
    return _one_line(text) or None


_EXACT = ("hours", "web", "email", "phone")
"""Keys of texts that no quotation marks belong to."""
_QUOTED = re.compile(r"""(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')\Z""")
_GATHERED = re.compile(r"(?:\[[^\[\]#]*\]|\{[^{}#]*\})\Z")


def pasted(entry: Entry, text: str) -> str:
    """What is meant by a field's text that was copied as it would stand in a file, with its own key: `web: "https://…"`. Any
    other text as it is."""
    words = text.strip()
    if (entry.key in _EXACT or entry.input in (Input.DAY, Input.MOMENT)) and _QUOTED.match(words):
        return shown(entry, in_file(words)) or text
    rest = words.removeprefix(f"{entry.key}:")
    if rest == words or not rest[:1].isspace():
        return text
    rest = rest.strip()
    value = in_file(rest)
    if value is not None:
        return shown(entry, value) or text
    # What is free to be any words, or names and texts itself, may begin like that.
    return text if entry.input in (Input.TEXT, Input.MAP) else rest


def in_file(text: str) -> Value:
    """What a text in quotation marks, brackets or braces says in a file; None for any other, or one that would lose a word."""
    if "\n" in text or not (_QUOTED.match(text) or _GATHERED.match(text)):
        return None
    try:
        return read_document(f"value: {text}\n", False).values.get("value")
    except EditError:
        return None


def _lines(text: str) -> list[str]:
    return [line for line in re.split(r"\r\n|\r|\n", text) if line.strip()]


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _is_same(entry: Entry, text: str, before: str) -> bool:
    if entry.input in (Input.LIST, Input.COUNTIES, Input.POSITION, Input.MAP):
        now, then = ([_one_line(line) for line in _lines(each)] for each in (text, before))
        # Boxes to tick stand in the station's order, whatever the file's.
        return sorted(now) == sorted(then) if entry.input is Input.COUNTIES else now == then
    return _one_line(text) == _one_line(before)


def wanted_of(fields: Sequence[Entry], before: Mapping[str, Value], entered: Entered) -> dict[str, Wanted]:
    """What a record is to say, from what it said and what stands in its fields."""
    wanted: dict[str, Wanted] = dict(before)
    for entry in fields:
        given = entered.get(entry.key)
        if given is None:
            continue
        old = before.get(entry.key)
        new: Wanted
        if isinstance(given, str):
            then = shown(entry, old)
            if then is None or _is_same(entry, given, then):
                continue
            new = read_text(entry, given)
        elif isinstance(given, dict):
            if old is not None and not isinstance(old, Mapping):
                continue
            new = wanted_of(entry.fields, old or {}, given) or None
            if new is None and not old:
                continue
        else:
            new = _wanted_rows(entry, old, given)
            if new is None and not old:
                continue
        if new is None:
            wanted.pop(entry.key, None)
        else:
            wanted[entry.key] = new
    return wanted


def _wanted_rows(entry: Entry, old: Value, rows: list[Row]) -> Wanted:
    were = old if isinstance(old, tuple) else () if old is None else (old,)
    items: list[Item] = []
    for row in rows:
        if is_blank(row):
            continue
        before = were[row.was] if row.was is not None and row.was < len(were) else None
        group = _as_group(entry, before) if before is not None else {}
        if group is None:
            continue
        each = wanted_of(entry.fields, plain_group(group), row.fields)
        value: Wanted = each
        if list(each) == ["place"] and not isinstance(before, Mapping):
            value = each["place"]
        items.append(Item(value, row.was if before is not None else None))
    if not items:
        return None
    if not isinstance(old, tuple) and old is not None and len(items) == 1 and plain(items[0]) == old:
        return old
    return tuple(items)


def plain_group(group: Mapping[str, Wanted]) -> dict[str, Value]:
    return {key: plain(value) for key, value in group.items()}


def is_blank(given: str | Entered | list[Row] | Row) -> bool:
    """True when nothing stands in a field, or in any of a group or list."""
    if isinstance(given, str):
        return not given.strip()
    if isinstance(given, Row):
        return given.was is None and is_blank(given.fields)
    return all(is_blank(each) for each in (given.values() if isinstance(given, dict) else given))


def names(
    fields: Sequence[Entry], entered: Entered, trail: Trail = (), name: str = ""
) -> Iterator[tuple[Trail, str]]:
    """(where in the file, name of the field) of everything that stands in a form."""
    for entry in fields:
        given = entered.get(entry.key)
        if given is None:
            continue
        here, called = (*trail, entry.key), f"{name}{entry.key}"
        yield here, called
        if isinstance(given, dict):
            yield from names(entry.fields, given, here, called + "/")
        elif isinstance(given, list):
            number = 0
            for index, row in enumerate(given):
                if is_blank(row):
                    continue
                yield (*here, number), f"{called}/{index}"
                yield from names(entry.fields, row.fields, (*here, number), f"{called}/{index}/")
                number += 1


# --- from a posted form -------------------------------------------------------------------------


def posted(fields: Sequence[Entry], pairs: Sequence[tuple[str, str]]) -> Entered:
    """What stood in the fields of a form that was sent, by the names that `names` gives them."""
    by_name: dict[str, list[str]] = {}
    for name, text in pairs:
        by_name.setdefault(name, []).append(text)
    return _posted(fields, by_name, "")


def _posted(fields: Sequence[Entry], by_name: Mapping[str, list[str]], name: str) -> Entered:
    found: Entered = {}
    for entry in fields:
        called = f"{name}{entry.key}"
        if entry.input is Input.GROUP:
            inner = _posted(entry.fields, by_name, called + "/")
            if inner:
                found[entry.key] = inner
        elif entry.input is Input.GROUPS:
            if called in by_name:
                indices = sorted(
                    {
                        int(rest[0])
                        for each in by_name
                        if each.startswith(called + "/")
                        and (rest := each[len(called) + 1 :].split("/", 1))
                        and rest[0].isascii()
                        and rest[0].isdigit()
                        and len(rest[0]) < 6
                    }
                )
                found[entry.key] = [
                    _posted_row(entry, by_name, f"{called}/{index}") for index in indices[:MOST_ROWS]
                ]
        elif entry.input is Input.POSITION:
            if f"{called}/latitude" in by_name:
                both = [
                    _one_line(by_name.get(f"{called}/{half}", [""])[0]) for half in ("latitude", "longitude")
                ]
                pair = _PAIR.match(pasted(entry, both[0]).replace("\n", ", ")) if not both[1] else None
                if pair is not None:
                    both = [pair[1], pair[2]]
                found[entry.key] = "\n".join(each or "?" for each in both) if any(both) else ""
        elif called in by_name:
            texts = by_name[called]
            found[entry.key] = (
                "\n".join(text for text in texts if text.strip())
                if entry.input is Input.COUNTIES
                else texts[0]
            )
    return found


def _posted_row(entry: Entry, by_name: Mapping[str, list[str]], name: str) -> Row:
    was = by_name.get(f"{name}/was", [""])[0]
    index = int(was) if was.isascii() and was.isdigit() and len(was) < 6 else None
    return Row(_posted(entry.fields, by_name, name + "/"), index)
