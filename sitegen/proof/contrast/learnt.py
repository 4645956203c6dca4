"""What a theme has learnt of a site's elements, as plain data for a later process of the same program.

Most of what the first pages of a process cost is finding out, once for each node, which rules hold and that nothing is wrong
with what they come to. Both follow from the stylesheets, the scenarios and the looks on the way to a node alone, so they can be
told: a node that was told has its rules, its facts and that it is clean; its styles are worked out when somebody asks. What did
not come out clean is not told, and is judged again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from hashlib import blake2b
from typing import Any, Final

import msgspec

from sitegen.proof.contrast.facts import Facts
from sitegen.proof.contrast.theme import Look, Node, Theme, Way
from sitegen.proof.document import Element

_DIGEST: Final = 16
"""Bytes of a digest."""


class ToldLook(msgspec.Struct, array_like=True, frozen=True):
    """A look, by an element that has it."""

    tag: str
    namespace: str
    seen: dict[str, str]
    """Its attributes, as far as anybody looks at them."""


class ToldWay(msgspec.Struct, array_like=True, frozen=True):
    """See `Way`."""

    kinds: list[str]
    depth: int
    place: int
    reason: str
    rules: int
    """The place of its rules in `Told.rules`."""


class ToldNode(msgspec.Struct, array_like=True, frozen=True):
    """A node with all below it."""

    look: int
    """The place of its look in `Told.looks`."""
    around: list[int]
    """Numbers of the rules that hold because of what is around it."""
    ways: list[ToldWay]
    has_pseudo: bool
    facts: Facts | None
    is_clean: bool
    children: list[ToldNode]


class Told(msgspec.Struct, array_like=True, frozen=True):
    """What one theme has learnt."""

    looks: list[ToldLook]
    rules: list[list[int]]
    """Sets of rules, by their numbers in the theme."""
    roots: list[ToldNode]


class Learnt(msgspec.Struct, array_like=True, frozen=True):
    """What an engine has learnt; each theme packed by itself, since most processes need one."""

    themes: dict[bytes, bytes]
    """By the digest of everything that made the theme."""


def pack(learnt: Learnt) -> bytes:
    """The bytes of it, behind a digest of them."""
    data = msgspec.msgpack.encode(learnt)
    return _digest(data) + data


def unpack(data: bytes) -> Learnt | None:
    """What was packed; None for bytes that are not, or no longer, such a thing."""
    digest, rest = data[:_DIGEST], data[_DIGEST:]
    if digest != _digest(rest):
        return None
    try:
        return msgspec.msgpack.decode(rest, type=Learnt)
    except msgspec.ValidationError:
        return None


def _digest(data: bytes) -> bytes:
    return blake2b(data, digest_size=_DIGEST).digest()


def name_of(theme: Theme, key: object) -> bytes:
    """The digest of everything that made a theme; `key` is what its engine knows it by, plain data."""
    sheets = [(placed.name, placed.text) for placed in theme.sheets]
    return _digest(msgspec.msgpack.encode((key, sheets, [asdict(each) for each in theme.scenarios])))


def told_by(theme: Theme, clean: object) -> bytes:
    """What a theme can tell, packed; `clean` is what the judgement of a node is where nothing is wrong."""
    return msgspec.msgpack.encode(_Teller(theme, clean).told())


class _Teller:
    def __init__(self, theme: Theme, clean: object) -> None:
        self._clean = clean
        self._numbers: dict[Any, int] = {rule: number for number, rule in enumerate(theme.rules)}
        self._roots = theme.roots
        self._known = frozenset(theme.looks)
        self._looks: dict[Look, int] = {}
        self._sets: dict[tuple[int, ...], int] = {}

    def told(self) -> Told:
        roots = list(self._below(self._roots))
        looks = [ToldLook(look.tag, look.namespace, look.seen) for look in self._looks]
        return Told(looks, [list(each) for each in self._sets], roots)

    def _below(self, children: dict[Any, Node]) -> Iterator[ToldNode]:
        for key, node in children.items():
            look, around = (key[0], key[1]) if isinstance(key, tuple) else (key, ())
            # Left out are nodes that depend on states of their neighbours, those that another theme put into a shadow tree, and
            # links coloured by an attribute of the page's body.
            if (isinstance(key, tuple) and len(key) > 2) or look not in self._known:
                continue
            if look.tag == "a" and look.entries:
                continue
            yield ToldNode(
                self._looks.setdefault(look, len(self._looks)),
                [self._numbers[rule] for rule in around],
                [
                    ToldWay(sorted(way.kinds), way.depth, way.place, way.reason, self._set(way))
                    for way in node.ways
                ],
                bool(node.pseudo),
                node.facts,
                node.judged is self._clean,
                list(self._below(node.children)),
            )

    def _set(self, way: Way) -> int:
        numbers = tuple([self._numbers[rule] for rule in way.rules])
        return self._sets.setdefault(numbers, len(self._sets))


def tell(theme: Theme, data: bytes, clean: object) -> None:
    """Tell a new theme what one like it has learnt. Raises ValueError or IndexError for what it cannot take in."""
    told = msgspec.msgpack.decode(data, type=Told)
    looks = [theme.look_of(Element(each.tag, each.seen, None, each.namespace, 0)) for each in told.looks]
    rules = [tuple([theme.rules[number] for number in each]) for each in told.rules]
    waiting: list[tuple[ToldNode, Node | None, dict[Any, Node]]] = [
        (each, None, theme.roots) for each in told.roots
    ]
    while waiting:
        each, parent, into = waiting.pop()
        look = looks[each.look]
        around = {theme.rules[number] for number in each.around}
        # In the order in which this process compares them.
        matched = tuple([rule for rule in look.structural if rule in around])
        node = into[(look, matched) if matched else look] = Node(parent, look, theme)
        node.ways = tuple(
            [
                Way(frozenset(way.kinds), way.depth, way.place, way.reason, rules[way.rules])
                for way in each.ways
            ]
        )
        if not each.has_pseudo:
            node.pseudo = {}
        node.facts = each.facts
        if each.is_clean:
            node.judged = clean
        theme.size += 1
        waiting += [(child, node, node.children) for child in each.children]
