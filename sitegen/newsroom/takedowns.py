"""What a file with faults means to take back, read from its keys alone.

The fault may stand in the very words that take something down (`hold: yes`, `withdrawn: Dec 5`), or keep an ask from being read that
has been stopped. What viewers are told instead is not known then, and what is to leave is. Pure.
"""

from __future__ import annotations

from collections.abc import Sequence as SequenceLike
from dataclasses import dataclass

from sitegen.newsroom.nodes import Mapping, Node, Scalar, Sequence
from sitegen.newsroom.slugs import slug

_NOT = ("false", "no", "off", "n", "none")
"""What somebody writes who means the opposite, right or not; in small letters."""


@dataclass(frozen=True, slots=True)
class WrittenPlace:
    """A place of an ask, as far as its keys say."""

    name: str
    """Of the file, where it is a shared one."""
    stopped: bool = False
    withheld: bool = False


@dataclass(frozen=True, slots=True)
class WrittenAsk:
    """An ask, as far as its keys say."""

    key: str
    stopped: bool = False
    places: tuple[WrittenPlace, ...] = ()


@dataclass(frozen=True, slots=True)
class Takedown:
    """What one file takes back: a story, an episode or a place."""

    hold: bool = False
    withdrawn: bool = False
    embargo: bool = False
    withheld: bool = False
    photo: bool = False
    """It has one."""
    children: bool = False
    """Its photo shows some."""
    asks: tuple[WrittenAsk, ...] = ()


def takedown_of(node: Mapping) -> Takedown:
    """What a file's keys take back."""
    keys = _keys(node)
    return Takedown(
        hold=_is_meant(keys, "hold"),
        withdrawn=_is_meant(keys, "withdrawn"),
        embargo=_is_meant(keys, "embargo"),
        withheld=_is_meant(keys, "address"),
        photo=_is_meant(keys, "photo"),
        children=_is_meant(_keys(keys.get("photo")), "children"),
        asks=tuple(_ask(_keys(each)) for each in _items(keys.get("asks"))),
    )


def _ask(keys: dict[str, Node]) -> WrittenAsk:
    places = [*_items(keys.get("drop_off")), *_items(keys.get("where"))]
    return WrittenAsk(
        _text(keys.get("key")) or slug(_text(keys.get("title"))),
        _is_meant(keys, "stopped"),
        tuple(_place(each) for each in places),
    )


def _place(node: Node) -> WrittenPlace:
    if isinstance(node, Scalar):
        return WrittenPlace(_text(node))
    keys = _keys(node)
    name = _text(keys.get("place")) or _text(keys.get("name"))
    return WrittenPlace(name, _is_meant(keys, "stopped"), _is_meant(keys, "address"))


def _keys(node: Node | None) -> dict[str, Node]:
    """By names in small letters: `Hold` is no key, and everybody knows what it means."""
    return {key.text.lower(): value for key, value in node.entries} if isinstance(node, Mapping) else {}


def _items(node: Node | None) -> SequenceLike[Node]:
    if isinstance(node, Sequence):
        return node.items
    return () if node is None else (node,)


def _text(node: Node | None) -> str:
    return " ".join(node.text.split()) if isinstance(node, Scalar) else ""


def _is_meant(keys: dict[str, Node], key: str) -> bool:
    """True where something is written behind a key, whatever it is, and it does not say no."""
    node = keys.get(key)
    if isinstance(node, Scalar):
        return not node.is_nothing and _text(node).lower() not in ("", *_NOT)
    return node is not None
