"""The tree that the proof looks at: a page's elements and texts, each of which keeps its place in the source.

Two readers make it. The strict one (`strict_reader`) knows only HTML in which every element is closed where it was opened and
no rule of the standard would move, close or add an element. At the first thing it is not certain about it gives up, and the
page is read by lexbor instead (`lenient_reader`), which builds the tree as the HTML Standard does for any bytes whatever
(https://html.spec.whatwg.org/multipage/parsing.html).

Comments are left out. Text inside `script`, `style` and `template` is kept as raw data, so a template's content is no part
of the tree. Scripting is taken to be off: what is inside `noscript` is ordinary content.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from operator import attrgetter
from typing import Final, TypeAlias

import msgspec

from sitegen.proof.contrast.names import names_in

WHITESPACE: Final = " \t\n\f\r"
"""ASCII whitespace as HTML defines it (https://infra.spec.whatwg.org/#ascii-whitespace)."""

_MOST_DIGITS: Final = 18
"""Of a number in a page; any longer one is merely very large. Python refuses to read one of more than 4,300."""


def whole_number(digits: str) -> int | None:
    """The number that digits alone say; None where something else is written."""
    if not (digits.isascii() and digits.isdigit()):
        return None
    return int(digits.lstrip("0")[:_MOST_DIGITS] or "0")


_OFTEN: Final = 16
"""So many places are found by counting lines before a table pays."""


class Lines:
    """Turns offsets in one source into lines and columns; a table of line starts is made when they are asked for often."""

    __slots__ = ("_asked", "_source", "_starts")

    def __init__(self, source: str) -> None:
        self._source = source
        self._asked = 0
        self._starts: list[int] | None = None

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column, both counted from 1, of a character offset."""
        if self._starts is None:
            self._asked += 1
            if self._asked < _OFTEN:
                source = self._source
                return source.count("\n", 0, offset) + 1, offset - source.rfind("\n", 0, offset)
            self._starts = [0, *(found.end() for found in re.finditer("\n", self._source))]
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1


class Text(msgspec.Struct, eq=False):
    """A run of characters, references such as `&amp;` already resolved; compared by identity."""

    # A page has hundreds of these and of elements: making one in C takes a third of the time.
    data: str
    parent: Element
    distance: int
    """How far from the beginning of its parent's start tag the run begins, in characters."""

    @property
    def offset(self) -> int:
        """Where the run begins in the document's source, in characters."""
        return self.parent.offset + self.distance

    @property
    def line(self) -> int:
        """The line it begins on, counted from 1."""
        return _lines(self.parent).place(self.offset)[0]

    def __repr__(self) -> str:
        return f"Text({self.data!r})"


class Element(msgspec.Struct, eq=False):
    """An element; compared by identity. Everything in it is for reading only: elements written alike share `attrs`."""

    tag: str
    """The element's name in lower case, also where the standard writes capitals (`foreignobject`)."""
    attrs: dict[str, str]
    """Names in lower case, in the order written; an attribute without a value has ""."""
    parent: Element | None
    namespace: str
    """"html", "svg" or "math"."""
    offset: int
    """Where the element's start tag begins in the document's source, in characters. An element the standard adds
    by itself stands where its first written neighbour or its parent stands."""
    children: list[Element | Text] = []  # each has one of its own

    @property
    def line(self) -> int:
        """The line of its start tag, counted from 1."""
        return _lines(self).place(self.offset)[0]

    @property
    def column(self) -> int:
        """The column of its start tag, counted from 1."""
        return _lines(self).place(self.offset)[1]

    def ancestors(self) -> Iterator[Element]:
        """From its parent up to `html`."""
        above = self.parent
        while above is not None:
            yield above
            above = above.parent

    def descendants(self) -> Iterator[Element | Text]:
        """Everything inside it, in document order."""
        waiting = self.children[::-1]
        while waiting:
            node = waiting.pop()
            yield node
            if isinstance(node, Element):
                waiting.extend(reversed(node.children))

    def text(self) -> str:
        """All characters inside it, in order, raw data of scripts and styles included."""
        return "".join(node.data for node in self.descendants() if isinstance(node, Text))

    def __repr__(self) -> str:
        return f"<{self.tag} at line {self.line}>"


class Root(Element, kw_only=True):
    """The `html` element, which keeps the lines of its document."""

    lines: Lines


def _lines(element: Element) -> Lines:
    while element.parent is not None:
        element = element.parent
    assert isinstance(element, Root)
    return element.lines


Node: TypeAlias = Element | Text

Choice: TypeAlias = Callable[[Sequence[Element]], list[Element]]
"""Picks some of the elements it is given, and keeps their order."""


class Shape:
    """What parts written alike have in common; compared by identity, so that what is worked out for one serves all of them."""

    __slots__ = ("is_kept", "made", "size", "spare", "width")

    def __init__(self) -> None:
        self.spare: list[Part] = []
        """Parts that no page holds at present."""
        self.made = 0
        """How many parts of this shape there are."""
        self.size = 0
        """How many elements each of them has; 0 before there is one."""
        self.width = 0
        """In how many characters it is written, its last line's end left out; 0 until somebody counted them."""
        self.is_kept = False
        """Whether it stays when room is made for others."""


class Part:
    """An element with everything in it that pages hold over and over, written alike, such as a site's header.

    It serves one page after the other: reading such a page again costs no more than putting the part in its place.
    """

    __slots__ = (
        "_attributes",
        "_distances",
        "_tags",
        "chosen",
        "elements",
        "kept_addresses",
        "kept_names",
        "shape",
    )

    def __init__(self, shape: Shape, elements: list[Element]) -> None:
        shape.made += 1
        shape.size = len(elements)
        self.shape = shape
        self.elements = elements
        """In document order, the outermost first."""
        self.chosen: dict[Choice, list[Element]] = {}
        """What choices pick of the elements inside the outermost, once somebody asked (`Document.chosen`)."""
        self.kept_names: dict[Element, str] | None = None
        """Names of its elements that depend on nothing around it, once somebody worked them out."""
        self.kept_addresses: tuple[list[tuple[str, int]], list[tuple[str, int]]] | None = None
        """The addresses of links and of what is loaded, each with its line counted from 0 at the part's first, once somebody
        looked for them."""
        self._tags: dict[str, list[Element]] = {}
        self._attributes: dict[str, list[Element]] = {}
        _sort(elements, self._tags, self._attributes)
        begin = elements[0].offset
        self._distances = [element.offset - begin for element in elements]

    def stand(self, parent: Element, offset: int) -> None:
        """Stand at the end of an element, at this place in its page's source."""
        outermost = self.elements[0]
        outermost.parent = parent
        parent.children.append(outermost)
        if outermost.offset != offset:
            for element, distance in zip(self.elements, self._distances, strict=True):
                element.offset = offset + distance

    def sort_into(self, tags: dict[str, list[Element]], attributes: dict[str, list[Element]]) -> None:
        """Add its elements to those of their names, and of their attributes' names."""
        for own, whole in ((self._tags, tags), (self._attributes, attributes)):
            for name, elements in own.items():
                if name in whole:
                    whole[name] += elements
                else:
                    whole[name] = elements.copy()

    def let_go(self) -> None:
        """Leave the page; its next one may take it."""
        self.elements[0].parent = None
        self.shape.spare.append(self)


_SORTED_TAGS: Final = names_in(
    "a area aside audio base blink body button canvas dialog embed footer form header iframe img input label link main"
    " marquee menu meta meter nav object ol option picture progress script search section select slot style summary svg"
    " table textarea th time title ul video"
)
_SORTED_ATTRIBUTES: Final = names_in(
    "accesskey autocomplete background contenteditable hidden id inert ismap lang name role scope shadowrootmode style"
    " tabindex title"
)
"""With everything of ARIA, what checks ask every page for. All else is looked for when somebody does: most elements of most
pages are paragraphs, items and the like, and to sort these costs more than it saves."""


def _is_sorted(attribute: str) -> bool:
    return attribute in _SORTED_ATTRIBUTES or attribute[:5] == "aria-"


def _sort(
    elements: list[Element], tags: dict[str, list[Element]], attributes: dict[str, list[Element]]
) -> None:
    """Add elements to those of their names, and of their attributes' names."""
    for element in elements:
        tag = element.tag
        if tag in _SORTED_TAGS:
            if tag in tags:
                tags[tag].append(element)
            else:
                tags[tag] = [element]
        for name in element.attrs:
            if name in _SORTED_ATTRIBUTES or name[:5] == "aria-":
                if name in attributes:
                    attributes[name].append(element)
                else:
                    attributes[name] = [element]


_offset: Final = attrgetter("offset")


class Document:
    """One page's tree."""

    __slots__ = (
        "_attributes", "_has_shadow_trees", "_ids", "_loose", "_repeated", "_tags",
        "doctype", "duplicates", "elements", "notes", "parts", "read_strictly", "root", "source",
    )  # fmt: skip

    def __init__(
        self,
        root: Element,
        source: str,
        doctype: str | None,
        elements: list[Element],
        duplicates: list[tuple[int, str, str]],
        notes: list[str],
        read_strictly: bool,
        parts: list[tuple[int, Part]] | None = None,
    ) -> None:
        self.root = root
        self.source = source
        """The text the tree was made from: decoded, without a byte order mark, line ends as line feeds."""
        self.doctype = doctype
        """What stands after `<!doctype`, such as "html"; None where the page has none."""
        self.elements = elements
        """Every element, `html` first, in document order."""
        self.duplicates = duplicates
        """Attributes written twice on one element: (line, element's name, attribute's name); the first one counts."""
        self.notes = notes
        """What a reader of the source should know, such as bytes that were not UTF-8."""
        self.read_strictly = read_strictly
        """Whether the strict reader made this tree."""
        self.parts = parts or []
        """Parts it shares with other pages, each with the place of its first element among `elements`; in order, none inside
        another."""
        self._has_shadow_trees: bool | None = None
        self._ids: dict[str, Element] | None = None
        self._loose: list[Element] | None = None
        self._repeated: list[Element] = []
        self._tags: dict[str, list[Element]] = {}
        self._attributes: dict[str, list[Element]] = {}

    def _index(self) -> dict[str, Element]:
        ids = self._ids = {}
        tags, attributes, repeated = self._tags, self._attributes, self._repeated
        elements, place = self.elements, 0
        for start, part in self.parts:
            _sort(elements[place:start], tags, attributes)
            part.sort_into(tags, attributes)
            place = start + len(part.elements)
        _sort(elements[place:] if place else elements, tags, attributes)
        for element in attributes.get("id", ()):
            if ids.setdefault(element.attrs["id"], element) is not element:
                repeated.append(element)
        return ids

    @property
    def ids(self) -> dict[str, Element]:
        """The first element of each `id`."""
        return self._index() if self._ids is None else self._ids

    @property
    def repeated_ids(self) -> list[Element]:
        """Elements whose `id` an earlier element already has."""
        if self._ids is None:
            self._index()
        return self._repeated

    def tagged(self, *tags: str) -> list[Element]:
        """Elements of these names; document order within each name. Elements of any namespace."""
        if self._ids is None:
            self._index()
        known = self._tags
        found: list[Element] = []
        for tag in tags:
            if tag in known:
                found += known[tag]
            elif tag not in _SORTED_TAGS:
                found += [element for element in self.elements if element.tag == tag]
        return found

    @property
    def has_shadow_trees(self) -> bool:
        """Whether any shadow tree is written in the page, or may be attached by one of its scripts."""
        found = self._has_shadow_trees
        if found is None:
            # Both are looked for where they can stand: to search all of a source costs more than many checks.
            found = self._has_shadow_trees = bool(self.having("shadowrootmode")) or any(
                "attachShadow" in script.text() for script in self.tagged("script")
            )
        return found

    def having(self, name: str) -> list[Element]:
        """Elements that carry this attribute, in document order."""
        if self._ids is None:
            self._index()
        found = self._attributes.get(name)
        if found is not None:
            return found
        return [] if _is_sorted(name) else [element for element in self.elements if name in element.attrs]

    def chosen(self, choice: Choice) -> list[Element]:
        """The elements that `choice` picks, in document order.

        It may look at an element, at what is in it and at its parent, and nowhere else: what it picks inside a part is kept
        with the part.
        """
        if not self.parts:
            return choice(self.elements)
        loose = self._loose
        if loose is None:
            # The outermost element of a part has a parent outside.
            loose, place, elements = [], 0, self.elements
            for start, part in self.parts:
                loose += elements[place : start + 1]
                place = start + len(part.elements)
            loose += elements[place:]
            self._loose = loose
        found = choice(loose)
        for _, part in self.parts:
            kept = part.chosen.get(choice)
            if kept is None:
                kept = part.chosen[choice] = choice(part.elements[1:])
            if kept:
                found += kept
        # Only pages read strictly have parts, and in these elements stand in the order in which they are written.
        found.sort(key=_offset)
        return found

    def let_go(self) -> None:
        """Takes the tree apart, so that its memory is free at once; nothing may be asked of it afterwards."""
        place = 0
        for start, part in self.parts:
            for element in self.elements[place:start]:
                element.children.clear()
            part.let_go()
            place = start + len(part.elements)
        for element in self.elements[place:]:
            element.children.clear()
        self.parts = []

    @property
    def aria_attributes(self) -> list[str]:
        """Every attribute name in use that begins as those of ARIA do."""
        if self._ids is None:
            self._index()
        return [name for name in self._attributes if name[:5] == "aria-"]


def parse(source: bytes | str) -> Document:
    """The tree of a page, for any input at all; never raises for what the page says.

    Bytes are decoded as a browser would: a byte order mark first, then UTF-8 where the bytes are UTF-8, then the encoding
    the page declares, then windows-1252.
    """
    notes: list[str] = []
    text = _decode(source, notes) if isinstance(source, bytes) else source
    written = None if notes or isinstance(source, str) or text.startswith("\ufeff") else source
    text = text.removeprefix("\ufeff")
    if "\r" in text:
        written = None
        # https://html.spec.whatwg.org/multipage/parsing.html#preprocessing-the-input-stream
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    # Imported here, since both readers build on this module.
    from sitegen.proof.strict_reader import read_strictly

    document = read_strictly(text, notes, written)
    if document is None:
        from sitegen.proof.lenient_reader import read_leniently

        document = read_leniently(text, notes)
    return document


_DECLARED = re.compile(rb"<meta[^>]+charset\s*=\s*[\"']?\s*([a-zA-Z0-9_:.-]+)", re.IGNORECASE)


def _decode(source: bytes, notes: list[str]) -> str:
    if source[:2] in (b"\xff\xfe", b"\xfe\xff"):
        notes.append("The page is written in UTF-16, not UTF-8.")
        return source.decode("utf-16", "replace")
    try:
        return source.decode("utf-8")
    except UnicodeDecodeError as problem:
        notes.append(f"The page is not UTF-8: byte {source[problem.start]:#04x} at position {problem.start}.")
    declared = _DECLARED.search(source[:1024])
    name = declared[1].decode("ascii").lower() if declared else "windows-1252"
    # The Encoding Standard reads these two labels as windows-1252 (https://encoding.spec.whatwg.org/#names-and-labels).
    if name in {"iso-8859-1", "us-ascii"}:
        name = "windows-1252"
    try:
        return source.decode(name, "replace")
    except LookupError:
        return source.decode("windows-1252", "replace")
