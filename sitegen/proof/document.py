"""Reads HTML into a small tree that keeps the place of everything, for the proof to look at.

Two readers make the same tree. The strict one is a single pass over the source with one regular expression; it knows
only HTML in which every element is closed where it was opened and no rule of the standard would move, close or add an
element. At the first thing it is not certain about it gives up, and the page is read by lexbor instead, which builds
the tree as the HTML Standard does for any bytes whatever (https://html.spec.whatwg.org/multipage/parsing.html).

Comments are left out. Text inside `script`, `style` and `template` is kept as raw data, so a template's content is no part
of the tree. Scripting is taken to be off: what is inside `noscript` is ordinary content.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from html.entities import html5 as named_references
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from selectolax.lexbor import LexborNode

WHITESPACE: Final = " \t\n\f\r"
"""ASCII whitespace as HTML defines it (https://infra.spec.whatwg.org/#ascii-whitespace)."""


def _names_in(words: str) -> frozenset[str]:
    return frozenset(words.split())


class Lines:
    """Turns offsets in one source into lines and columns; the table of line starts is made when first asked for."""

    __slots__ = ("_source", "_starts")

    def __init__(self, source: str) -> None:
        self._source = source
        self._starts: list[int] | None = None

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column, both counted from 1, of a character offset."""
        if self._starts is None:
            self._starts = [0, *(found.end() for found in re.finditer("\n", self._source))]
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1


class Text:
    """A run of characters, references such as `&amp;` already resolved."""

    __slots__ = ("data", "offset", "parent")

    def __init__(self, data: str, parent: Element, offset: int) -> None:
        self.data = data
        self.parent = parent
        self.offset = offset
        """Where the run begins in the document's source, in characters."""

    @property
    def line(self) -> int:
        """The line it begins on, counted from 1."""
        return _lines(self.parent).place(self.offset)[0]

    def __repr__(self) -> str:
        return f"Text({self.data!r})"


class Element:
    """An element; compared by identity. Everything in it is for reading only: elements written alike share `attrs`."""

    __slots__ = ("attrs", "children", "namespace", "offset", "parent", "tag")

    def __init__(
        self, tag: str, attrs: dict[str, str], parent: Element | None, namespace: str, offset: int
    ) -> None:
        self.tag = tag
        """The element's name in lower case, also where the standard writes capitals (`foreignobject`)."""
        self.attrs = attrs
        """Names in lower case, in the order written; an attribute without a value has ""."""
        self.children: list[Element | Text] = []
        self.parent = parent
        self.namespace = namespace
        """"html", "svg" or "math"."""
        self.offset = offset
        """Where the element's start tag begins in the document's source, in characters. An element the standard adds
        by itself stands where its first written neighbour or its parent stands."""

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


class _Root(Element):
    """The `html` element, which keeps the lines of its document."""

    __slots__ = ("lines",)

    def __init__(self, attrs: dict[str, str], offset: int, lines: Lines) -> None:
        super().__init__("html", attrs, None, "html", offset)
        self.lines = lines


def _lines(element: Element) -> Lines:
    while element.parent is not None:
        element = element.parent
    assert isinstance(element, _Root)
    return element.lines


Node: TypeAlias = Element | Text


class Document:
    """One page's tree."""

    __slots__ = (
        "_attributes", "_ids", "_repeated", "_tags",
        "doctype", "duplicates", "elements", "notes", "read_strictly", "root", "source",
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
        self._ids: dict[str, Element] | None = None
        self._repeated: list[Element] = []
        self._tags: dict[str, list[Element]] = {}
        self._attributes: dict[str, list[Element]] = {}

    def _index(self) -> dict[str, Element]:
        ids = self._ids = {}
        tags, attributes, repeated = self._tags, self._attributes, self._repeated
        for element in self.elements:
            tag = element.tag
            if tag in tags:
                tags[tag].append(element)
            else:
                tags[tag] = [element]
            for name in element.attrs:
                if name in attributes:
                    attributes[name].append(element)
                else:
                    attributes[name] = [element]
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
        if len(tags) == 1:
            return self._tags.get(tags[0], [])
        return [element for tag in tags for element in self._tags.get(tag, ())]

    def having(self, name: str) -> list[Element]:
        """Elements that carry this attribute, in document order."""
        if self._ids is None:
            self._index()
        return self._attributes.get(name, [])

    def let_go(self) -> None:
        """Takes the tree apart, so that its memory is free at once; nothing may be asked of it afterwards."""
        for element in self.elements:
            element.children.clear()

    @property
    def attribute_names(self) -> list[str]:
        """Every attribute name in use, in order of first appearance."""
        if self._ids is None:
            self._index()
        return list(self._attributes)


def parse(source: bytes | str) -> Document:
    """The tree of a page, for any input at all; never raises for what the page says.

    Bytes are decoded as a browser would: a byte order mark first, then UTF-8 where the bytes are UTF-8, then the encoding
    the page declares, then windows-1252.
    """
    notes: list[str] = []
    text = _decode(source, notes) if isinstance(source, bytes) else source
    text = text.removeprefix("\ufeff")
    if "\r" in text:
        # https://html.spec.whatwg.org/multipage/parsing.html#preprocessing-the-input-stream
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return _read_strictly(text, notes) or _read_leniently(text, notes)


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


# ---------------------------------------------------------------------------------------------------------------------
# The strict reader


class _NotCertainError(Exception):
    """Something the strict reader leaves to the standard's own algorithm."""


_VOID: Final = _names_in("area base br col embed hr img input link meta source track wbr")
_RAW: Final = frozenset({"script", "style", "title", "textarea", "iframe", "template"})
_REFERENCES_RESOLVED: Final = frozenset({"title", "textarea"})

# Start tags that end an open paragraph (https://html.spec.whatwg.org/multipage/parsing.html#parsing-main-inbody).
_ENDS_PARAGRAPH: Final = _names_in(
    "address article aside blockquote center dd details dialog dir div dl dt fieldset figcaption figure footer form h1 h2 h3"
    " h4 h5 h6 header hgroup hr li main menu nav ol p pre search section summary table ul"
)
_HEADINGS: Final = frozenset({"h1", "h2", "h3", "h4", "h5", "h6"})

# Where only these children keep their place; anything else would be moved, dropped or would close its parent.
_CHILDREN: Final[dict[str, frozenset[str]]] = {
    "": frozenset({"html"}),
    "html": frozenset({"head", "body"}),
    "head": frozenset({"title", "meta", "link", "base", "style", "script", "template"}),
    "table": frozenset({"caption", "colgroup", "thead", "tbody", "tfoot"}),
    "colgroup": frozenset({"col"}),
    "thead": frozenset({"tr"}),
    "tbody": frozenset({"tr"}),
    "tfoot": frozenset({"tr"}),
    "tr": frozenset({"td", "th"}),
    "select": frozenset({"option", "optgroup"}),
    "optgroup": frozenset({"option"}),
    "option": frozenset(),
    "ruby": frozenset({"rt", "rp"}),
}
# The other way round: elements certain to keep their place under these parents alone.
_PARENTS: Final[dict[str, frozenset[str]]] = {
    "head": frozenset({"html"}),
    "body": frozenset({"html"}),
    "li": frozenset({"ul", "ol", "menu"}),
    "caption": frozenset({"table"}),
    "colgroup": frozenset({"table"}),
    "thead": frozenset({"table"}),
    "tbody": frozenset({"table"}),
    "tfoot": frozenset({"table"}),
    "col": frozenset({"colgroup"}),
    "tr": frozenset({"thead", "tbody", "tfoot"}),
    "td": frozenset({"tr"}),
    "th": frozenset({"tr"}),
    "option": frozenset({"select", "optgroup", "datalist"}),
    "optgroup": frozenset({"select"}),
    "rt": frozenset({"ruby"}),
    "rp": frozenset({"ruby"}),
}
# Text that isn't whitespace would be moved out of these.
_NO_TEXT: Final = frozenset({"", "html", "head", "table", "colgroup", "thead", "tbody", "tfoot", "tr"})
# One of these may not be open inside another of its kind.
_NOT_NESTED: Final = frozenset({"a", "button", "form", "nobr", "select"})
# Names with rules of their own that our pages never need.
_LEFT_TO_LEXBOR: Final = _names_in(
    "applet basefont bgsound command frame frameset image isindex keygen listing marquee math menuitem noembed noframes"
    " nextid nobr param plaintext rb rtc xmp"
)
# Start tags that end foreign content (https://html.spec.whatwg.org/multipage/parsing.html#parsing-main-inforeign), and
# elements in which HTML's rules apply again.
_NOT_IN_SVG: Final = _names_in(
    "b big blockquote body br center code dd div dl dt em embed font foreignobject desc h1 h2 h3 h4 h5 h6 head hr html i img"
    " li listing math menu meta nobr ol p pre ruby s small span strong strike sub sup svg table tt u ul var"
)

_ATTRIBUTES: Final = r"(?:[ \t\n\f]++[a-zA-Z_:@][-a-zA-Z0-9_:.]*+(?:=(?:\"[^<\"]*+\"|'[^<']*+'|[^ \t\n\f\"'=<>`]++))?+)*+[ \t\n\f]*+"
_NAME: Final = r"[a-zA-Z][-a-zA-Z0-9:]*+"
# A tag as far as its end is concerned; whether the strict reader knows it is looked at once for each way of writing it.
_TO_END_OF_TAG: Final = r"[^<>\"']*+(?:(?:\"[^\"]*+\"|'[^']*+')[^<>\"']*+)*+>"
_RAW_PIECE: Final = "|".join(
    rf"{name}(?=[ \t\n\f/>]){_TO_END_OF_TAG}(?s:.*?)</{name}[ \t\n\f]*+>" for name in sorted(_RAW)
)
_PIECES: Final = re.compile(
    rf"(<(?:/{_NAME}[ \t\n\f]*+>|(?=[ist])(?:{_RAW_PIECE})|[a-zA-Z]{_TO_END_OF_TAG}|!--(?s:.*?)-->))"
)
_OPENING: Final = re.compile(rf"<({_NAME}){_TO_END_OF_TAG}")
_START_TAG: Final = re.compile(rf"<({_NAME})({_ATTRIBUTES})(/?)>")
_END_TAG: Final = re.compile(rf"</({_NAME})[ \t\n\f]*+>")
_DOCTYPE_FIRST: Final = re.compile(r"[ \t\n\f]*+<!doctype[ \t\n\f]++html[ \t\n\f]*+>", re.IGNORECASE)
_ATTRIBUTE: Final = re.compile(
    r"[ \t\n\f]+([a-zA-Z_:@][-a-zA-Z0-9_:.]*)(?:=(?:\"([^\"]*)\"|'([^']*)'|([^ \t\n\f\"'=<>`]+)))?"
)
_WHOLE_TEMPLATE: Final = re.compile(rf"(?:[^<]++|</{_NAME}[ \t\n\f]*+>|<{_NAME}{_ATTRIBUTES}/?>)*+")
_END_OF_PAGE: Final = re.compile(r"([ \t\n\f]*)</html[ \t\n\f]*>([ \t\n\f]*)\Z", re.IGNORECASE)
_REFERENCE: Final = re.compile(
    r"&(?:#(?:[xX]([0-9a-fA-F]{1,6})|([0-9]{1,7}));|([a-zA-Z][a-zA-Z0-9]*);|([a-zA-Z0-9#]?))"
)

# What a tag asks of the reader.
_END, _ORDINARY, _VOID_ELEMENT, _RAW_ELEMENT = range(4)
# What must be looked at before it is taken; none of these for most tags.
(
    _ENDS_A_PARAGRAPH,
    _HAS_ITS_PLACE,
    _NOT_INSIDE_ITSELF,
    _RESTRICTS,
    _CLOSES_ITSELF,
    _TWICE,
    _IS_ROOT,
    _IS_BODY,
    _IS_PARAGRAPH,
    _IS_PRE,
    _IS_RAW,
    _IS_SVG,
) = (1 << bit for bit in range(12))
_Tag: TypeAlias = tuple[int, str, dict[str, str], int]
"""What one way of writing a tag means: its kind, the element's name, its attributes, what must be looked at."""

# Tags repeat within a page and from page to page, so each way of writing one is worked out once.
_tags: dict[str, _Tag] = {}
_TAGS_KEPT: Final = 8192
_LONGEST_KEPT: Final = 300


def _tag(written: str) -> _Tag:
    if written.startswith("</"):
        found = _END_TAG.fullmatch(written)
        if found is None:
            raise _NotCertainError
        name = found[1].lower()
        looked_at = _IS_PARAGRAPH * (name == "p") | _IS_BODY * (name == "body")
        looked_at |= _NOT_INSIDE_ITSELF * (name in _NOT_NESTED)
        tag: _Tag = (_END, name, {}, looked_at)
    else:
        tag = _start_tag(written)
    if len(written) <= _LONGEST_KEPT:
        if len(_tags) >= _TAGS_KEPT:
            _tags.clear()
        _tags[written] = tag
    return tag


def _start_tag(written: str) -> _Tag:
    found = _START_TAG.fullmatch(written)
    if found is None:
        raise _NotCertainError
    name = found[1].lower()
    if name in _LEFT_TO_LEXBOR:
        raise _NotCertainError
    attrs: dict[str, str] = {}
    looked_at = _CLOSES_ITSELF if found[3] else 0
    for key, double, single, bare in _ATTRIBUTE.findall(found[2]):
        value = double or single or bare
        lower = key.lower()
        if lower in attrs:
            looked_at |= _TWICE
        else:
            attrs[lower] = _resolve(value) if "&" in value else value
    looked_at |= _ENDS_A_PARAGRAPH * (name in _ENDS_PARAGRAPH) | _NOT_INSIDE_ITSELF * (name in _NOT_NESTED)
    looked_at |= _HAS_ITS_PLACE * (name in _PARENTS or name in _HEADINGS or name in {"dt", "dd", "html"})
    looked_at |= _IS_PARAGRAPH * (name == "p") | _IS_SVG * (name == "svg") | _IS_PRE * (name == "pre")
    looked_at |= _IS_RAW * (name in _RAW) | _RESTRICTS * (name in _CHILDREN) | _IS_ROOT * (name == "html")
    return (_VOID_ELEMENT if name in _VOID else _ORDINARY, name, attrs, looked_at)


def _resolve(data: str) -> str:
    """The text with its character references resolved, where each is written out in full.

    Raises _NotCertainError for what the standard reads by special rules: no semicolon, an unknown name, a number it replaces.
    """
    return _REFERENCE.sub(_resolve_one, data)


def _resolve_one(found: re.Match[str]) -> str:
    hexadecimal, decimal, name, following = found.groups()
    if name is not None:
        meaning = named_references.get(name + ";")
        if meaning is None:
            raise _NotCertainError
        return meaning
    if hexadecimal is not None or decimal is not None:
        number = int(hexadecimal, 16) if hexadecimal is not None else int(decimal)
        if number < 0x20 or 0x7F <= number <= 0x9F or 0xD800 <= number <= 0xDFFF or number > 0x10FFFF:
            if number in (9, 10):
                return chr(number)
            raise _NotCertainError
        return chr(number)
    if following:
        raise _NotCertainError
    return "&"


def _read_strictly(source: str, notes: list[str]) -> Document | None:
    if "\0" in source:
        return None
    try:
        return _strict_tree(source, notes)
    except _NotCertainError:
        return None


def _strict_tree(source: str, notes: list[str]) -> Document | None:
    start = _DOCTYPE_FIRST.match(source)
    if start is None:
        return None
    pieces = _PIECES.split(source[start.end() :])
    lines = Lines(source)
    offset = start.end()
    root = _Root({}, 0, lines)
    elements: list[Element] = [root]
    append = elements.append
    duplicates: list[tuple[int, str, str]] = []
    # `current` is the open element that receives children; `above` holds what it stands in.
    current: Element = root
    current_tag = ""  # until the html element begins
    children = root.children
    restricted = True  # whether only some children keep their place in it
    above: list[tuple[Element, str, list[Element | Text], bool]] = []
    open_once: set[str] = set()
    paragraph = newline_is_dropped = False
    svg_depth = brackets = 0
    raw = ""
    known = _tags
    makes = object.__new__
    for gap, written in zip(pieces[::2], pieces[1::2], strict=False):
        if gap:
            data = _resolve(gap) if "&" in gap else gap
            if restricted and current_tag in _NO_TEXT:
                if data.strip(WHITESPACE):
                    return None
                if not above or (current_tag == "html" and not children):
                    data = ""
            elif newline_is_dropped and data[0] == "\n":
                data = data[1:]
            if data:
                # What Text() does, and below Element(), without a call for each of a page's nodes.
                text: Text = makes(Text)
                text.data = data
                text.parent = current
                text.offset = offset
                children.append(text)
            offset += len(gap)
        newline_is_dropped = False
        try:
            kind, name, attrs, looked_at = known[written]
        except KeyError:
            brackets += written.count("<") - 1
            if written[1] == "!":
                if not _certain_comment(written):
                    return None
                offset += len(written)
                continue
            if written[1] in "ist" and "</" in written:
                (kind, name, attrs, looked_at), raw = _raw_piece(written)
            else:
                kind, name, attrs, looked_at = _tag(written)
        if kind == _END:
            if name != current_tag:
                return None
            offset += len(written)
            if looked_at:
                if looked_at & _IS_BODY:
                    # A "<" in no piece is one the pattern could not read.
                    if source.count("<", start.end()) != brackets + len(pieces) // 2:
                        return None
                    return _finish(source, offset, current, elements, duplicates, notes)
                if looked_at & _IS_PARAGRAPH:
                    paragraph = False
                if not svg_depth:
                    open_once.discard(name)
            if svg_depth:
                svg_depth -= 1
            if not above:
                return None
            current, current_tag, children, restricted = above.pop()
            continue
        if looked_at or restricted or svg_depth:
            if svg_depth:
                if name in _NOT_IN_SVG or (kind == _RAW_ELEMENT and (name != "title" or "<" in raw)):
                    return None
            else:
                if restricted and name not in _CHILDREN[current_tag]:
                    return None
                if paragraph and looked_at & _ENDS_A_PARAGRAPH:
                    return None
                if looked_at & _HAS_ITS_PLACE and not _keeps_its_place(name, current, current_tag):
                    return None
                if looked_at & _NOT_INSIDE_ITSELF:
                    if name in open_once:
                        return None
                    open_once.add(name)
                if looked_at & _CLOSES_ITSELF and kind == _ORDINARY and not looked_at & _IS_SVG:
                    return None
                if looked_at & _IS_RAW and kind == _ORDINARY:  # its end was not found
                    return None
                if looked_at & _IS_ROOT:
                    root.attrs = attrs
                    root.offset = offset
                    above.append((root, "", children, True))
                    current_tag = name
                    offset += len(written)
                    if looked_at & _TWICE:
                        duplicates += _written_twice(written, root)
                    continue
        element: Element = makes(Element)
        element.tag = name
        element.attrs = attrs
        inside: list[Element | Text] = []
        element.children = inside
        element.parent = current
        element.namespace = "svg" if svg_depth else "html"
        element.offset = offset
        append(element)
        children.append(element)
        offset += len(written)
        if looked_at & _TWICE:
            duplicates += _written_twice(written, element)
        if kind == _VOID_ELEMENT:
            if not svg_depth or looked_at & _CLOSES_ITSELF:
                continue
        elif kind == _RAW_ELEMENT:
            data = _raw_data(name, raw)
            if data:
                where = offset - len(written) + written.rindex("</") - len(raw)
                inside.append(Text(data, element, where))
            continue
        elif looked_at:
            if looked_at & _IS_SVG:
                element.namespace = "svg"
                if looked_at & _CLOSES_ITSELF:
                    continue
                svg_depth += 1
            elif svg_depth:
                if looked_at & _CLOSES_ITSELF:
                    continue
            elif looked_at & _IS_PARAGRAPH:
                paragraph = True
            elif looked_at & _IS_PRE:
                newline_is_dropped = True
        if svg_depth and not looked_at & _IS_SVG:
            svg_depth += 1
        above.append((current, current_tag, children, restricted))
        current, current_tag, children = element, name, inside
        restricted = bool(looked_at & _RESTRICTS) and not svg_depth
    return None  # the page ended before </body>


def _raw_piece(written: str) -> tuple[_Tag, str]:
    """The start tag and the raw content of a piece such as `<title>…</title>`; an ordinary tag has no content."""
    opening = _OPENING.match(written)
    end = written.rindex("</")
    if opening is None or opening[1] not in _RAW or end < opening.end():
        return _tag(written), ""
    _, name, attrs, looked_at = _tags.get(opening[0]) or _tag(opening[0])
    return (_RAW_ELEMENT, name, attrs, looked_at), written[opening.end() : end]


def _written_twice(written: str, element: Element) -> list[tuple[int, str, str]]:
    opening = _OPENING.match(written)
    seen: set[str] = set()
    found: list[tuple[int, str, str]] = []
    for attribute in _ATTRIBUTE.finditer(opening[0] if opening else written, len(element.tag) + 1):
        name = attribute[1].lower()
        if name in seen:
            found.append((element.line, element.tag, name))
        seen.add(name)
    return found


def _keeps_its_place(name: str, current: Element, current_tag: str) -> bool:
    if name == "html":
        return not current_tag
    if name == "head":
        return not current.children
    if name == "body":
        return any(isinstance(child, Element) for child in current.children) and all(
            not (isinstance(child, Element) and child.tag == "body") for child in current.children
        )
    parents = _PARENTS.get(name)
    if parents is not None:
        return current_tag in parents
    if name in _HEADINGS:
        return current_tag not in _HEADINGS
    holder = current.parent if current_tag == "div" else current
    return holder is not None and holder.tag == "dl"


def _certain_comment(written: str) -> bool:
    inside = written[4:-3]
    return (
        len(written) >= 7
        and not inside.startswith((">", "->"))
        and "--!>" not in inside
        and not inside.endswith("<!-")
    )


def _raw_data(name: str, raw: str) -> str:
    """The data of an element whose content isn't markup. Raises _NotCertainError where its end might lie elsewhere."""
    if f"</{name}" in raw.lower() or (name == "script" and "<!--" in raw):
        raise _NotCertainError
    if name == "template" and (
        _WHOLE_TEMPLATE.fullmatch(raw) is None or any(f"<{inner}" in raw.lower() for inner in _RAW)
    ):
        raise _NotCertainError
    if name in _REFERENCES_RESOLVED:
        if name == "textarea":
            raw = raw.removeprefix("\n")
        if "&" in raw:
            raw = _resolve(raw)
    return raw


def _finish(
    source: str,
    offset: int,
    body: Element,
    elements: list[Element],
    duplicates: list[tuple[int, str, str]],
    notes: list[str],
) -> Document | None:
    """Closes the page after </body>: only whitespace may follow, and the standard puts it into the body."""
    rest = _END_OF_PAGE.match(source, offset)
    if rest is None:
        return None
    space = rest[1] + rest[2]
    if space:
        last = body.children[-1] if body.children else None
        if isinstance(last, Text):
            last.data += space
        else:
            body.children.append(Text(space, body, offset))
    return Document(elements[0], source, "html", elements, duplicates, notes, True)


# ---------------------------------------------------------------------------------------------------------------------
# The lenient reader

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


def _read_leniently(source: str, notes: list[str]) -> Document:
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
    root = _Root(attrs, places.of("html", attrs, 0), lines)
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
        parent.children.append(Text(data, parent, before))


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
