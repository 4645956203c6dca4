"""The shape of linked data: nodes of a type with properties, as https://schema.org names them. No bytes, no words of a theme."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias, Union


@dataclass(frozen=True, slots=True)
class Address:
    """An address of this site, said in full to whoever reads it elsewhere."""

    to: str
    """Site address, perhaps with a `#fragment`."""


@dataclass(frozen=True, slots=True)
class Term:
    """A member of one of the vocabulary's enumerations, such as `EventCancelled`."""

    name: str


@dataclass(frozen=True, slots=True)
class Said:
    """Words of the theme, by their key."""

    key: str


@dataclass(frozen=True, slots=True)
class Node:
    """A thing of a type. Empty values are left out when it is written."""

    type: str
    properties: tuple[tuple[str, Value], ...]
    """(name, value); each name once."""


Value: TypeAlias = Union[str, int, float, bool, Address, Term, Said, Node, "tuple[Value, ...]", None]


def node(type_: str, **properties: Value) -> Node:
    """A node of those properties that have a value."""
    return Node(
        type_,
        tuple(
            (name, value) for name, value in properties.items() if value is not None and value not in ("", ())
        ),
    )
