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

    __slots__ = ("_lines", "data", "offset", "parent")

    def __init__(self, data: str, parent: Element, offset: int, lines: Lines) -> None:
        self.data = data
        self.parent = parent
        self.offset = offset
        """Where the run begins in the document's source, in characters."""
        self._lines = lines

    @property
    def line(self) -> int:
        """The line it begins on, counted from 1."""
        return self._lines.place(self.offset)[0]

    def __repr__(self) -> str:
        return f"Text({self.data!r})"


class Element:
    """An element; compared by identity. Everything in it is for reading only: elements written alike share `attrs`."""

    __slots__ = ("_lines", "attrs", "children", "namespace", "offset", "parent", "tag")

    def __init__(
        self,
        tag: str,
        attrs: dict[str, str],
        parent: Element | None,
        namespace: str,
        offset: int,
        lines: Lines,
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
        self._lines = lines

    @property
    def line(self) -> int:
        """The line of its start tag, counted from 1."""
        return self._lines.place(self.offset)[0]

    @property
    def column(self) -> int:
        """The column of its start tag, counted from 1."""
        return self._lines.place(self.offset)[1]

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
_NO_TEXT: Final = frozenset({"html", "head", "table", "colgroup", "thead", "tbody", "tfoot", "tr"})
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

_ATTRIBUTES: Final = r"(?:[ \t\n\f]++[a-zA-Z_:@][-a-zA-Z0-9_:.]*+(?:=(?:\"[^\"]*+\"|'[^']*+'|[^ \t\n\f\"'=<>`]++))?+)*+[ \t\n\f]*+"
_TAG: Final = rf"<[a-zA-Z][-a-zA-Z0-9:]*+{_ATTRIBUTES}/?>"
_PIECES: Final = re.compile(
    rf"([^<]*+)(</[a-zA-Z][-a-zA-Z0-9:]*+[ \t\n\f]*+>"
    rf"|<(?=[steti])(script|style|title|textarea|iframe|template)(?![^ \t\n\f/>]){_ATTRIBUTES}>(.*?)</\3[ \t\n\f]*+>"
    rf"|{_TAG}"
    rf"|<!--.*?-->"
    rf"|<![dD][oO][cC][tT][yY][pP][eE][ \t\n\f]++[hH][tT][mM][lL][ \t\n\f]*+>)",
    re.DOTALL,
)
_NAME: Final = re.compile(r"</?([a-zA-Z][-a-zA-Z0-9:]*)")
_ATTRIBUTE: Final = re.compile(
    r"[ \t\n\f]+([a-zA-Z_:@][-a-zA-Z0-9_:.]*)(?:=(?:\"([^\"]*)\"|'([^']*)'|([^ \t\n\f\"'=<>`]+)))?"
)
_WHOLE_TEMPLATE: Final = re.compile(rf"(?:[^<]++|</[a-zA-Z][-a-zA-Z0-9:]*+[ \t\n\f]*+>|{_TAG})*+")
_END_OF_PAGE: Final = re.compile(r"([ \t\n\f]*)</html[ \t\n\f]*>([ \t\n\f]*)\Z", re.IGNORECASE)
_REFERENCE: Final = re.compile(
    r"&(?:#(?:[xX]([0-9a-fA-F]{1,6})|([0-9]{1,7}));|([a-zA-Z][a-zA-Z0-9]*);|([a-zA-Z0-9#]?))"
)

# What a tag asks of the reader; see the loop.
_END, _ORDINARY, _VOID_ELEMENT, _RAW_ELEMENT, _UNCERTAIN = range(5)


class _Tag:
    """What one way of writing a tag means. Tags repeat within a page and from page to page, so each is worked out once."""

    __slots__ = ("attrs", "duplicates", "ends_paragraph", "kind", "name", "named_checks", "self_closing")

    def __init__(self, written: str) -> None:
        found = _NAME.match(written)
        if found is None:  # a comment or the doctype
            raise _NotCertainError
        self.name = name = found[1].lower()
        self.attrs: dict[str, str] = {}
        self.duplicates: tuple[str, ...] = ()
        self.self_closing = written.endswith("/>")
        self.ends_paragraph = name in _ENDS_PARAGRAPH
        self.named_checks = (
            name in _PARENTS or name in _NOT_NESTED or name in _HEADINGS or name in {"dt", "dd", "svg"}
        )
        if written.startswith("</"):
            self.kind = _END
            return
        if name in _LEFT_TO_LEXBOR:
            self.kind = _UNCERTAIN
        elif name in _VOID:
            self.kind = _VOID_ELEMENT
        else:
            self.kind = _RAW_ELEMENT if name in _RAW else _ORDINARY
        end = found.end()
        for attribute in _ATTRIBUTE.finditer(written, end):
            key, double, single, bare = attribute.groups()
            key = key.lower()
            value = double or single or bare or ""
            if "&" in value:
                value = _resolve(value)
            if key in self.attrs:
                self.duplicates += (key,)
            else:
                self.attrs[key] = value
            if bare and attribute.end() == len(written) - 1 and written[-2] == "/":
                self.self_closing = False  # <a href=x/> has the value "x/"


_tags: dict[str, _Tag] = {}
_TAGS_KEPT: Final = 8192


def _tag(written: str) -> _Tag:
    known = _Tag(written)
    if len(written) < 400:
        if len(_tags) >= _TAGS_KEPT:
            _tags.clear()
        _tags[written] = known
    return known


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
    pieces: list[tuple[str, str, str, str]] = _PIECES.findall(source)
    if (
        len(pieces) < 2
        or pieces[0][1][:2] != "<!"
        or pieces[0][1][2:3] == "-"
        or pieces[0][0].strip(WHITESPACE)
    ):
        return None
    lines = Lines(source)
    offset = len(pieces[0][0]) + len(pieces[0][1])
    elements: list[Element] = []
    append = elements.append
    duplicates: list[tuple[int, str, str]] = []
    # `current` is the open element that receives children; its ancestors are the other open elements.
    current: Element | None = None
    current_tag = ""
    children: list[Element | Text] = []
    paragraphs = svg_depth = 0
    head_seen = newline_is_dropped = False
    namespace = "html"
    tags = _tags
    for gap, written, raw_name, raw in pieces[1:]:
        if gap:
            if current is None:
                if gap.strip(WHITESPACE):
                    return None
            else:
                data = gap
                if "&" in data:
                    data = _resolve(data)
                if current_tag in _NO_TEXT:
                    if data.strip(WHITESPACE):
                        return None
                    if current_tag == "html" and not head_seen:
                        data = ""
                elif newline_is_dropped and data[0] == "\n":
                    data = data[1:]
                if data:
                    children.append(Text(data, current, offset, lines))
            offset += len(gap)
        newline_is_dropped = False
        if raw_name:
            opening = written[: written.rindex("</") - len(raw)]
            tag = tags.get(opening) or _tag(opening)
        else:
            found = tags.get(written)
            if found is None:
                if written[1] == "!":
                    if written[2] != "-" or not _certain_comment(written):
                        return None
                    offset += len(written)
                    continue
                found = _tag(written)
            tag = found
        kind = tag.kind
        if kind == _END:
            if current is None or tag.name != current_tag or raw_name:
                return None
            offset += len(written)
            if current_tag == "body":
                return _finish(source, offset, written, current, elements, duplicates, lines, notes)
            if current_tag == "p":
                paragraphs -= 1
            elif svg_depth:
                svg_depth -= 1
                if not svg_depth:
                    namespace = "html"
            current = current.parent
            if current is None:  # </html> without a body
                return None
            current_tag = current.tag
            children = current.children
            continue
        name = tag.name
        if current is None:
            if name != "html" or elements:
                return None
        elif svg_depth:
            if name in _NOT_IN_SVG or name in {"script", "style", "textarea", "iframe", "template"}:
                return None
        else:
            if kind == _UNCERTAIN or (tag.self_closing and kind != _VOID_ELEMENT and name != "svg"):
                return None
            if current_tag in _CHILDREN and name not in _CHILDREN[current_tag]:
                return None
            if paragraphs and tag.ends_paragraph:
                return None
            if tag.named_checks and not _keeps_its_place(tag, current, head_seen):
                return None
        element = Element(name, tag.attrs, current, namespace, offset, lines)
        append(element)
        if current is not None:
            children.append(element)
        if tag.duplicates:
            line = element.line
            duplicates.extend((line, name, duplicate) for duplicate in tag.duplicates)
        offset += len(written)
        if svg_depth or name == "svg":
            if raw_name:  # a title
                if "<" in raw:
                    return None
            elif tag.self_closing:
                if name == "svg" and not svg_depth:
                    element.namespace = "svg"
                continue
            else:
                namespace = element.namespace = "svg"
                svg_depth += 1
                current, current_tag, children = element, name, element.children
                continue
        elif kind == _VOID_ELEMENT:
            continue
        elif kind == _ORDINARY:
            current, current_tag, children = element, name, element.children
            if name == "p":
                paragraphs += 1
            elif name == "pre":
                newline_is_dropped = True
            elif name == "head":
                head_seen = True
            continue
        if not raw_name:  # written with capitals, so the pattern did not take its content along
            return None
        data = _raw_data(name, raw)
        if data:
            element.children.append(Text(data, element, offset - (len(written) - len(opening)), lines))
    return None  # the page ended before </body>


def _keeps_its_place(tag: _Tag, current: Element, head_seen: bool) -> bool:
    name = tag.name
    parents = _PARENTS.get(name)
    if parents is not None:
        return current.tag in parents and (name == "body") == (name == "body" and head_seen)
    if name in _NOT_NESTED:
        above: Element | None = current
        while above is not None:
            if above.tag == name:
                return False
            above = above.parent
        return True
    if name in _HEADINGS:
        return current.tag not in _HEADINGS
    if name in {"dt", "dd"}:
        holder = current.parent if current.tag == "div" else current
        return holder is not None and holder.tag == "dl"
    return True  # svg


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
    written: str,
    body: Element,
    elements: list[Element],
    duplicates: list[tuple[int, str, str]],
    lines: Lines,
    notes: list[str],
) -> Document | None:
    """Closes the page after </body>: only whitespace may follow, and the standard puts it into the body."""
    rest = _END_OF_PAGE.match(source, offset)
    # Where the pattern stepped over characters it could not read, the pieces do not add up to this place.
    if rest is None or not source.startswith(written, offset - len(written)):
        return None
    space = rest[1] + rest[2]
    if space:
        last = body.children[-1] if body.children else None
        if isinstance(last, Text):
            last.data += space
        else:
            body.children.append(Text(space, body, offset, lines))
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
    root = _element(top, None, "html", places, 0, lines)
    elements.append(root)
    # Not recursive: pages nest deeper than Python's stack.
    waiting: list[tuple[Element, LexborNode | None]] = [(root, top.child)]
    while waiting:
        parent, node = waiting.pop()
        while node is not None:
            tag = node.tag
            if tag == "-text":
                _add_text(parent, node.text_content or "", lines)
            elif tag is not None and tag[0] not in "-!":
                element = _element(node, parent, _namespace_inside(parent), places, parent.offset, lines)
                parent.children.append(element)
                elements.append(element)
                if element.tag == "template" and element.namespace == "html":
                    _add_text(element, node.inner_html or "", lines)
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


def _add_text(parent: Element, data: str, lines: Lines) -> None:
    if data:
        before = parent.children[-1].offset if parent.children else parent.offset
        parent.children.append(Text(data, parent, before, lines))


def _namespace_inside(parent: Element) -> str:
    if parent.namespace == "svg" and parent.tag not in _SVG_HOLDS_HTML:
        return "svg"
    if parent.namespace == "math" and parent.tag not in _MATH_HOLDS_HTML:
        return "math"
    return "html"


def _element(
    node: LexborNode, parent: Element | None, namespace: str, places: _Places, otherwise: int, lines: Lines
) -> Element:
    tag = (node.tag or "").lower()
    attrs = {name.lower(): value or "" for name, value in node.attributes.items()}
    if tag in {"svg", "math"}:
        namespace = tag
    return Element(tag, attrs, parent, namespace, places.of(tag, attrs, otherwise), lines)
