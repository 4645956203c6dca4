"""The page of one file: its fields as the template needs them, with what was found beside each."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from sitegen.desk.pages import set_template
from sitegen.desk.write.checking import Told
from sitegen.desk.write.entered import Entered, Row, is_blank
from sitegen.desk.write.offers import Offers
from sitegen.desk.write.wording import label_of
from sitegen.newsroom.aside import notes
from sitegen.newsroom.editing import Trail
from sitegen.newsroom.forms import ASK_PARTS, Entry, Form, Input
from sitegen.newsroom.records import Kind

_DATE = re.compile(r"\d{4}-\d\d-\d\d\Z", re.ASCII)
_MAIN = ("place", "from", "until", "hours", "note")
"""Of a drop-off: what stands in the open. Then what changes a shared place for this ask, then what a place has in its own file."""
_CHANGES = ("closed", "special_hours", "stopped")


@dataclass(slots=True)
class Cell:
    """One field on the page."""

    entry: Entry
    name: str
    text: str = ""
    control: str = "line"
    """`line`, `day`, `text`, `select`, `boxes`, `position`, `group`, `rows`, `locked`."""
    list_id: str = ""
    """Of the suggestions."""
    options: tuple[tuple[str, str], ...] = ()
    is_unused: bool = False
    """It means nothing for the kind of ask, and nothing stands in it."""
    cells: list[Cell] = field(default_factory=list)
    rows: list[Card] = field(default_factory=list)
    is_open: bool = False
    told: list[Told] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    """What the file's comments say of it."""

    @property
    def id(self) -> str:
        return id_of(self.name)

    @property
    def lines(self) -> list[str]:
        return self.text.split("\n") if self.text else []

    @property
    def height(self) -> int:
        """Rows of a box for text."""
        return min(12, max(2, self.text.count("\n") + 2, len(self.text) // 60 + 1))

    @property
    def is_wrong(self) -> bool:
        return any(told.is_fault for told in self.told)


@dataclass(slots=True)
class Part:
    heading: str
    cells: list[Cell]
    is_folded: bool = False
    """Shown once it is opened."""
    is_open: bool = False


@dataclass(slots=True)
class Card:
    """One entry of a list."""

    name: str
    title: str
    was: str
    parts: list[Part]
    told: list[Told] = field(default_factory=list)

    @property
    def id(self) -> str:
        return id_of(self.name)


@dataclass(frozen=True, slots=True)
class Noted:
    """What a file's comment says, beside the field it is about."""

    name: str
    """Of the field; empty for the whole file."""
    label: str
    text: str
    is_to_do: bool


def noted(form: Form, text: str, names: Mapping[Trail, str]) -> tuple[Noted, ...]:
    """The comments of a file's text, with the names of their fields. `names` are the form's, by where their values stand in the file."""
    found = []
    for note in notes(text, form.has_body):
        if note.trail == ("hold",):
            continue  # the form says it by itself
        trail, name = note.trail, ""
        while trail and not name:
            name = names.get((*trail, "place")) or names.get(trail, "")
            trail = trail[:-1]
        found.append(Noted(name, label_of(form, name), note.text, note.is_to_do))
    return tuple(dict.fromkeys(found))


def id_of(name: str) -> str:
    """The id of a field's control."""
    return "f-" + name.replace("/", "-")


class Page:
    """Makes the parts of a form's page."""

    def __init__(
        self, form: Form, offered: Offers, told: Iterable[Told], noted: Iterable[Noted] = ()
    ) -> None:
        self.form = form
        self.offered = offered
        self.told: dict[str, list[Told]] = {}
        for each in told:
            self.told.setdefault(each.name, []).append(each)
        self.notes: dict[str, list[str]] = {}
        for note in noted:
            self.notes.setdefault(note.name, []).append(note.text)

    def parts(self, entered: Entered) -> list[Part]:
        return self._parts(self.form.parts, self.form.fields, entered, "", None)

    def cells(self, entries: Iterable[Entry], entered: Entered, name: str) -> list[Cell]:
        """Fields of a record that is not in the file yet."""
        return [self._cell(entry, entered, name, None) for entry in entries]

    def _parts(
        self,
        headings: tuple[str, ...],
        fields: tuple[Entry, ...],
        entered: Entered,
        name: str,
        kind: str | None,
    ) -> list[Part]:
        found = []
        for heading in headings:
            cells = [self._cell(entry, entered, name, kind) for entry in fields if entry.part == heading]
            if cells:
                found.append(Part(heading, cells))
        return found

    def _cell(self, entry: Entry, entered: Entered, name: str, kind: str | None) -> Cell:
        called = f"{name}{entry.key}"
        given = entered.get(entry.key)
        cell = Cell(entry, called, told=self.told.get(called, []), notes=self.notes.get(called, []))
        if kind is not None and kind in tuple(Kind) and Kind(kind) not in entry.kinds:
            cell.is_unused = given is None or is_blank(given)
        if given is None:
            cell.control = "locked"
        elif isinstance(given, dict):
            cell.control = "group"
            cell.cells = [self._cell(each, given, called + "/", None) for each in entry.fields]
            cell.is_open = not is_blank(given) or any(
                name.startswith(called + "/") or name == called for name in (*self.told, *self.notes)
            )
        elif isinstance(given, list):
            cell.control = "rows"
            cell.rows = [
                self._card(entry, row, f"{called}/{number}", number) for number, row in enumerate(given)
            ]
        else:
            cell.text = given
            self._choose(cell)
        return cell

    def _card(self, entry: Entry, row: Row, name: str, number: int) -> Card:
        text = row.fields.get("title") or row.fields.get("place") or row.fields.get("name") or ""
        title = f"{entry.one.capitalize()} {number + 1}" + (
            f": {text}" if isinstance(text, str) and text else ""
        )
        if entry.one == "ask":
            kind = row.fields.get("kind")
            parts = self._parts(
                ASK_PARTS, entry.fields, row.fields, name + "/", kind if isinstance(kind, str) else ""
            )
        elif entry.one == "place":
            parts = self._place(entry, row, name + "/")
        else:
            parts = [Part("", [self._cell(each, row.fields, name + "/", None) for each in entry.fields])]
        return Card(name, title, "" if row.was is None else str(row.was), parts, self.told.get(name, []))

    def _place(self, entry: Entry, row: Row, name: str) -> list[Part]:
        cells = {each.key: self._cell(each, row.fields, name, None) for each in entry.fields}
        main = [cells[key] for key in _MAIN]
        changes = [cells[key] for key in _CHANGES]
        own = [cell for key, cell in cells.items() if key not in (*_MAIN, *_CHANGES)]

        def is_open(part: list[Cell]) -> bool:
            return any(
                cell.told
                or cell.notes
                or cell.is_open
                or (cell.control not in ("group", "rows", "locked") and cell.text)
                for cell in part
            )

        return [
            Part("", main),
            Part("Closed days and other changes for this ask alone", changes, True, is_open(changes)),
            Part("A place written out here, without a file of its own", own, True, is_open(own)),
        ]

    def _choose(self, cell: Cell) -> None:
        """Which control a field has, and what it offers."""
        entry, offered = cell.entry, self.offered
        match entry.input:
            case Input.DAY:
                cell.control = "day" if not cell.text or _DATE.match(cell.text) else "line"
            case Input.TEXT | Input.LIST | Input.MAP:
                cell.control = "text"
            case Input.POSITION:
                cell.control = "position"
            case Input.CHOICE:
                cell.control = "select"
                cell.options = entry.choices or tuple((name, name) for name in offered.counties)
                cell.options += self._as_written([cell.text], cell.options)
            case Input.COUNTIES:
                cell.control = "boxes"
                cell.options = tuple((name, name) for name in (*offered.counties, offered.beyond))
                cell.options += self._as_written(cell.lines, cell.options)
            case Input.TOWN:
                cell.list_id = "towns"
            case Input.PLACE:
                cell.list_id = "places"
            case Input.STORY:
                cell.list_id = "stories"
            case Input.PICTURE:
                cell.list_id = "pictures"
            case _:
                pass

    def _as_written(
        self, texts: list[str], options: tuple[tuple[str, str], ...]
    ) -> tuple[tuple[str, str], ...]:
        """Options for what a file says and nobody is offered: counties by their keys, and mistakes."""
        known = {text for text, _ in options}
        return tuple(
            (text, self.offered.by_key.get(text, f"As written: {text}"))
            for text in texts
            if text and text not in known
        )


def counted(told: Iterable[Told]) -> str:
    """Such as `2 faults, 1 concern.`"""
    faults = concerns = 0
    for each in told:
        faults, concerns = faults + each.is_fault, concerns + (not each.is_fault)
    words = [
        f"{count} {word}{'' if count == 1 else 's'}"
        for count, word in ((faults, "fault"), (concerns, "concern"))
        if count
    ]
    return ", ".join(words) + "." if words else "Nothing to mend."


def found_as_html(told: tuple[Told, ...]) -> dict[str, Any]:
    """What a check found, set as it stands in the page: as a whole, and by field."""
    by_name: dict[str, list[Told]] = {}
    for each in told:
        by_name.setdefault(each.name, []).append(each)
    return {
        "said": counted(told),
        "all": set_template("write_found.html", told=told, id_of=id_of),
        "fields": {
            name: set_template("write_told.html", told=each) for name, each in by_name.items() if name
        },
        "wrong": sorted(name for name, each in by_name.items() if any(told.is_fault for told in each)),
    }
