"""The shape of linked data: nodes of a type with properties, as https://schema.org names them. No bytes, no words of a theme."""

from __future__ import annotations

from typing import TypeAlias

from msgspec import Struct


class Address(Struct, frozen=True, tag_field="is", tag="address"):
    """An address of this site, said in full to whoever reads it elsewhere."""

    to: str
    """Site address, perhaps with a `#fragment`."""


class Term(Struct, frozen=True, tag_field="is", tag="term"):
    """A member of one of the vocabulary's enumerations, such as `EventCancelled`."""

    name: str


class Said(Struct, frozen=True, tag_field="is", tag="said"):
    """Words of the theme, by their key."""

    key: str


class Node(Struct, frozen=True, tag_field="is", tag="node"):
    """A thing of a type. Empty values are left out when it is written."""

    type: str
    properties: tuple[tuple[str, Value], ...]
    """(name, value); each name once."""


One: TypeAlias = str | int | float | bool | Address | Term | Said | Node | None
Value: TypeAlias = One | tuple[One, ...]
"""Nothing is deeper than a tuple of single values, and every class has a tag: so models can be unpacked again."""


def node(type_: str, **properties: Value) -> Node:
    """A node of those properties that have a value."""
    return Node(
        type_,
        tuple(
            (name, value) for name, value in properties.items() if value is not None and value not in ("", ())
        ),
    )
