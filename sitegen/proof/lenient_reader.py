"""Reads any HTML into the proof's tree as the HTML Standard says, with lexbor, and finds where each element was written.

https://html.spec.whatwg.org/multipage/parsing.html
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from sitegen.proof.document import WHITESPACE, Document, Element, Lines, Root, Text

if TYPE_CHECKING:
    from selectolax.lexbor import LexborNode

_ANY_TOKEN: Final = re.compile(
    r"<!--(?:-?>|.*?(?:--!?>|\Z))"
    r"|<[!?][^>]*>?"
    r"|</[a-zA-Z][^>]*>?"
    r"|<([a-zA-Z][^ \t\n\f/>]*)((?:[^>\"'=]|=[ \t\n\f]*(?:\"[^\"]*\"|'[^']*'|)|[\"'])*)>",
    re.DOTALL,
)
_ANY_ATTRIBUTE: Final = re.compile(
    r"([^ \t\n\f/>=][^ \t\n\f/>=]*)(?:[ \t\n\f]*=[ \t\n\f]*(?:\"([^\"]*)\"|'([^']*)'|([^ \t\n\f>]*)))?",
    re.DOTALL,
)
_DOCTYPE: Final = re.compile(
    r"(?:[ \t\n\f]*(?:<!--.*?-->)?)*<!doctype[ \t\n\f]*([^>]*)>", re.IGNORECASE | re.DOTALL
)
_SVG_HOLDS_HTML: Final = frozenset({"foreignobject", "desc", "title"})
_MATH_HOLDS_HTML: Final = frozenset({"mi", "mo", "mn", "ms", "mtext", "annotation-xml"})


class _Written:
    """A start tag found in the source."""

    __slots__ = ("names", "offset", "tag")

    def __init__(self, tag: str, names: tuple[str, ...], offset: int) -> None:
        self.tag = tag
        self.names = names
        self.offset = offset


def _start_tags(source: str) -> list[_Written]:
    """The start tags of the source in order, leaving out comments, raw text and templates."""
    found: list[_Written] = []
    position, templates = 0, 0
    while True:
        token = _ANY_TOKEN.search(source, position)
        if token is None:
            return found
        position = token.end()
        if token[1] is None:
            if templates and token[0][:10].lower() == "</template":
                templates -= 1
            continue
        tag = token[1].lower()
        if tag == "template":
            if not templates:
                found.append(_Written(tag, _names(token[2]), token.start()))
            templates += 1
            continue
        if not templates:
            found.append(_Written("img" if tag == "image" else tag, _names(token[2]), token.start()))
        if tag in {"script", "style", "title", "textarea", "iframe", "xmp", "noembed", "noframes"}:
            end = re.compile(rf"</{tag}[ \t\n\f/>]", re.IGNORECASE).search(source, position)
            # A title in SVG holds markup, but never a start tag the tree would place elsewhere.
            position = end.start() if end else position
        elif tag == "plaintext":
            return found


def _names(attributes: str) -> tuple[str, ...]:
    return tuple(found[1].lower() for found in _ANY_ATTRIBUTE.finditer(attributes))


class _Places:
    """Finds, for the elements of a tree in order, the start tags they were made from."""

    __slots__ = ("_last", "_waiting")

    def __init__(self, written: list[_Written]) -> None:
        self._waiting: dict[tuple[str, tuple[str, ...]], list[int]] = {}
        self._last: dict[tuple[str, tuple[str, ...]], int] = {}
        for start in reversed(written):
            key = start.tag, tuple(dict.fromkeys(start.names))
            self._waiting.setdefault(key, []).append(start.offset)

    def of(self, tag: str, attrs: dict[str, str], otherwise: int) -> int:
        key = tag, tuple(attrs)
        waiting = self._waiting.get(key)
        if waiting:
            self._last[key] = waiting[-1]
            return waiting.pop()
        # The standard made this element itself, or made a second copy of one that was closed out of order.
        return self._last.get(key, otherwise)


def read_leniently(source: str, notes: list[str]) -> Document:
    """The tree of a page, whatever it says; `notes` go into the document."""
    from selectolax.lexbor import LexborHTMLParser

    lines = Lines(source)
    written = _start_tags(source)
    places = _Places(written)
    duplicates = [
        (lines.place(start.offset)[0], start.tag, name)
        for start in written
        if len(set(start.names)) < len(start.names)
        for position, name in enumerate(start.names)
        if name in start.names[:position]
    ]
    tree = LexborHTMLParser(source.encode("utf-8", "replace").decode("utf-8"))
    top = tree.root
    if top is None:  # an empty page: the standard still makes html, head and body
        tree = LexborHTMLParser("<html>")
        top = tree.root
    assert top is not None
    elements: list[Element] = []
    attrs = _attributes(top)
    root = Root("html", attrs, None, "html", places.of("html", attrs, 0), lines=lines)
    elements.append(root)
    # Not recursive: pages nest deeper than Python's stack.
    waiting: list[tuple[Element, LexborNode | None]] = [(root, top.child)]
    while waiting:
        parent, node = waiting.pop()
        while node is not None:
            tag = node.tag
            if tag == "-text":
                _add_text(parent, node.text_content or "")
            elif tag is not None and tag[0] not in "-!":
                element = _element(node, parent, places)
                parent.children.append(element)
                elements.append(element)
                if element.tag == "template" and element.namespace == "html":
                    _add_text(element, node.inner_html or "")
                else:
                    child = node.child
                    if child is not None:
                        waiting.append((parent, node.next))
                        parent, node = element, child
                        continue
            node = node.next
    doctype = _DOCTYPE.match(source)
    return Document(
        root, source, doctype[1].strip(WHITESPACE) if doctype else None, elements, duplicates, notes, False
    )


def _add_text(parent: Element, data: str) -> None:
    if data:
        before = parent.children[-1].offset if parent.children else parent.offset
        parent.children.append(Text(data, parent, before - parent.offset))


def _namespace_inside(parent: Element) -> str:
    if parent.namespace == "svg" and parent.tag not in _SVG_HOLDS_HTML:
        return "svg"
    if parent.namespace == "math" and parent.tag not in _MATH_HOLDS_HTML:
        return "math"
    return "html"


def _attributes(node: LexborNode) -> dict[str, str]:
    return {name.lower(): value or "" for name, value in node.attributes.items()}


def _element(node: LexborNode, parent: Element, places: _Places) -> Element:
    tag = (node.tag or "").lower()
    attrs = _attributes(node)
    namespace = tag if tag in {"svg", "math"} else _namespace_inside(parent)
    return Element(tag, attrs, parent, namespace, places.of(tag, attrs, parent.offset))
