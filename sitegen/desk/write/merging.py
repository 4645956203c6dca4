"""Two people changed one file: what differs, field by field, and the file that keeps what each of them chose.

Three versions are held against each other: the file as it was opened, as it is now, and as the form has it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from sitegen.desk.write.entered import shown
from sitegen.newsroom.editing import Item, Wanted, plain
from sitegen.newsroom.forms import Entry, Input
from sitegen.newsroom.slugs import slug
from sitegen.newsroom.spans import Value


class Side(StrEnum):
    THEIRS = "theirs"
    """As the file is now."""
    MINE = "mine"
    """As the form has it."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that is not the same in the file and in the form."""

    name: str
    """As the field is called in the form of the file as it is now, or nearly so; unique."""
    label: str
    """Such as `Bring a winter coat: Deadline`."""
    opened: str
    theirs: str
    mine: str
    side: Side | None
    """Whose version is kept; None while nobody has chosen, where both changed it."""
    is_both: bool
    """Both changed it."""


@dataclass(slots=True)
class Merge:
    """The differences, and what the file is to say with the choices made. `wanted` has its `Item`s by the file as it is now."""

    wanted: dict[str, Wanted] = field(default_factory=dict)
    body: str = ""
    differences: list[Difference] = field(default_factory=list)

    @property
    def is_decided(self) -> bool:
        return all(each.side is not None for each in self.differences)


NOT_THERE = "(not there)"


def merge(
    fields: Sequence[Entry],
    opened: tuple[Mapping[str, Value], str],
    theirs: tuple[Mapping[str, Value], str],
    mine: tuple[Mapping[str, Wanted], str],
    choices: Mapping[str, Side],
) -> Merge:
    """Each version is (fields, body). Where only one side changed a field, it is kept unless chosen otherwise."""
    result = Merge()
    merging = _Merging(choices, result.differences)
    result.wanted = merging.group(fields, opened[0], theirs[0], mine[0], "", "")
    body = merging.leaf("body", "Text", opened[1] or None, theirs[1] or None, mine[1] or None, None)
    result.body = body if isinstance(body, str) else ""
    return result


class _Merging:
    def __init__(self, choices: Mapping[str, Side], differences: list[Difference]) -> None:
        self.choices = choices
        self.differences = differences

    def side(self, name: str, label: str, versions: tuple[str, str, str], default: Side | None) -> Side:
        """Whose version to keep, noted. Where nobody has chosen, mine stands in."""
        chosen = self.choices.get(name, default)
        self.differences.append(Difference(name, label, *versions, side=chosen, is_both=default is None))
        return chosen or Side.MINE

    def leaf(
        self, name: str, label: str, opened: Value, theirs: Value, mine: Value, entry: Entry | None
    ) -> Value:
        if theirs == mine:
            return theirs
        default = Side.THEIRS if mine == opened else Side.MINE if theirs == opened else None
        versions = (_said(entry, opened), _said(entry, theirs), _said(entry, mine))
        return theirs if self.side(name, label, versions, default) is Side.THEIRS else mine

    def group(
        self,
        fields: Sequence[Entry],
        opened: Mapping[str, Value],
        theirs: Mapping[str, Value],
        mine: Mapping[str, Wanted],
        name: str,
        label: str,
    ) -> dict[str, Wanted]:
        # What the form does not know stays as the file has it.
        wanted: dict[str, Wanted] = dict(theirs)
        for entry in fields:
            old, now, new = opened.get(entry.key), theirs.get(entry.key), mine.get(entry.key)
            called = f"{name}{entry.key}"
            words = f"{label}: {entry.label}" if label else entry.label
            value: Wanted
            if entry.input is Input.GROUP and all(_is_group(each) for each in (old, now, plain(new))):
                value = (
                    self.group(
                        entry.fields,
                        _group(old),
                        _group(now),
                        new if isinstance(new, Mapping) else {},
                        called + "/",
                        words,
                    )
                    or None
                )
                if value is None and entry.key in theirs and not now:
                    value = now
            elif entry.input is Input.GROUPS and all(_is_rows(each) for each in (old, now, plain(new))):
                value = self.rows(entry, _tuple(old), _tuple(now), _items(new, _tuple(old)), called, label)
            else:
                value = self.leaf(called, words, old, now, plain(new), entry)
            if value is None and not (entry.key in theirs and now is None):
                wanted.pop(entry.key, None)
            else:
                wanted[entry.key] = value
        return wanted

    def rows(
        self,
        entry: Entry,
        opened: tuple[Value, ...],
        theirs: tuple[Value, ...],
        mine: tuple[Item, ...],
        name: str,
        label: str,
    ) -> Wanted:
        of = matched(opened, theirs)
        now_of = {was: number for number, was in enumerate(of) if was is not None}
        mine_of = {item.was: item for item in mine if item.was is not None}
        found: dict[int, Item] = {}
        mine_only: list[Item] = []
        # What both added alike is one entry, and no difference.
        alike = [plain(item) for item in mine if item.was is None and plain(item) in theirs]
        for number, value in enumerate(theirs):
            was = of[number]
            words = f"{label}: {title(value)}" if label else title(value)
            called = f"{name}/{number}"
            if was is None and value in alike:
                found[number] = Item(value, number)
            elif was is None:
                if self.side(called, words, ("", title(value), NOT_THERE), Side.THEIRS) is Side.THEIRS:
                    found[number] = Item(value, number)
            elif was in mine_of:
                new = mine_of[was].value
                if (
                    isinstance(value, Mapping)
                    and isinstance(new, Mapping)
                    and isinstance(opened[was], Mapping)
                ):
                    inner = self.group(entry.fields, _group(opened[was]), value, new, called + "/", words)
                    found[number] = Item(inner, number)
                else:
                    kept = self.leaf(called, words, opened[was], value, plain(new), None)
                    found[number] = Item(kept, number)
            else:
                default = Side.MINE if value == opened[was] else None
                if (
                    self.side(called, words, (title(opened[was]), title(value), NOT_THERE), default)
                    is Side.THEIRS
                ):
                    found[number] = Item(value, number)
        for number, item in enumerate(mine):
            words = f"{label}: {title(plain(item))}" if label else title(plain(item))
            if item.was is None and plain(item) in alike:
                continue
            if item.was is None:
                if (
                    self.side(f"{name}/new{number}", words, ("", NOT_THERE, title(plain(item))), Side.MINE)
                    is Side.MINE
                ):
                    mine_only.append(Item(plain(item)))
            elif item.was < len(opened) and item.was not in now_of:
                default = Side.THEIRS if plain(item) == opened[item.was] else None
                versions = (title(opened[item.was]), NOT_THERE, title(plain(item)))
                if self.side(f"{name}/gone{number}", words, versions, default) is Side.MINE:
                    mine_only.append(Item(plain(item)))
        order = [now_of[item.was] for item in mine if item.was in now_of and now_of[item.was] in found]
        if [item.was for item in mine if item.was is not None] != sorted(mine_of):
            kept_in = iter([found[number] for number in order])
            ordered = [next(kept_in) if number in order else item for number, item in sorted(found.items())]
        else:
            ordered = [item for _, item in sorted(found.items())]
        return (*ordered, *mine_only) or None


def matched(opened: tuple[Value, ...], theirs: tuple[Value, ...]) -> list[int | None]:
    """For each entry of a changed list where it was before: the same one, else one of the same name, else the one in its place."""
    left = set(range(len(opened)))
    found: list[int | None] = [None] * len(theirs)

    def pair(fits: Callable[[Value, Value, int, int], bool]) -> None:
        for number, value in enumerate(theirs):
            if found[number] is None:
                at = next((was for was in sorted(left) if fits(opened[was], value, was, number)), None)
                if at is not None:
                    found[number] = at
                    left.discard(at)

    pair(lambda old, now, was, number: old == now)
    pair(lambda old, now, was, number: bool(slug(title(now))) and slug(title(old)) == slug(title(now)))
    pair(lambda old, now, was, number: was == number and len(opened) == len(theirs))
    return found


def title(value: Value) -> str:
    """What an entry of a list is called."""
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        for key in ("title", "place", "name", "story", "said", "text"):
            text = value.get(key)
            if isinstance(text, str) and text:
                return text
    return "(without a name)"


def _said(entry: Entry | None, value: Value) -> str:
    if value is None:
        return ""
    text = shown(entry, value) if entry is not None else None
    if text is not None:
        return text
    if isinstance(value, str):
        return value
    return ", ".join(_said(None, each) for each in (value if isinstance(value, tuple) else value.values()))


def _is_group(value: Value) -> bool:
    return value is None or isinstance(value, Mapping)


def _group(value: Value) -> Mapping[str, Value]:
    return value if isinstance(value, Mapping) else {}


def _is_rows(value: Value) -> bool:
    return value is None or isinstance(value, tuple)


def _tuple(value: Value) -> tuple[Value, ...]:
    return value if isinstance(value, tuple) else ()


def _items(value: Wanted, opened: tuple[Value, ...]) -> tuple[Item, ...]:
    """A list's entries with where they were in the file as it was opened, found again where nobody said."""
    items = value if isinstance(value, tuple) else ()
    found = matched(opened, tuple(plain(item) for item in items))
    return tuple(
        item if isinstance(item, Item) else Item(item, was) for item, was in zip(items, found, strict=True)
    )
