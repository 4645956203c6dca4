"""What the strict reader knows of tags and of the text between them: which it is certain about, and what each asks of it.

The rules are those of https://html.spec.whatwg.org/multipage/parsing.html, as far as nothing is moved, closed or added.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html.entities import html5 as named_references
from typing import Any, Final, TypeAlias


def _names_in(words: str) -> frozenset[str]:
    return frozenset(words.split())


class NotCertainError(Exception):
    """Something the strict reader leaves to the standard's own algorithm."""


_VOID: Final = _names_in("area base br col embed hr img input link meta source track wbr")
_RAW: Final = frozenset({"script", "style", "title", "textarea", "iframe", "template"})
_REFERENCES_RESOLVED: Final = frozenset({"title", "textarea"})

# Start tags that end an open paragraph (https://html.spec.whatwg.org/multipage/parsing.html#parsing-main-inbody).
_ENDS_PARAGRAPH: Final = _names_in(
    "address article aside blockquote center dd details dialog dir div dl dt fieldset figcaption figure footer form h1 h2 h3"
    " h4 h5 h6 header hgroup hr li main menu nav ol p pre search section summary table ul"
)
HEADINGS: Final = frozenset({"h1", "h2", "h3", "h4", "h5", "h6"})

# Where only these children keep their place; anything else would be moved, dropped or would close its parent.
CHILDREN: Final[dict[str, frozenset[str]]] = {
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
PARENTS: Final[dict[str, frozenset[str]]] = {
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
NO_TEXT: Final = frozenset({"", "html", "head", "table", "colgroup", "thead", "tbody", "tfoot", "tr"})
# Start tags that end foreign content (https://html.spec.whatwg.org/multipage/parsing.html#parsing-main-inforeign), and
# elements in which HTML's rules apply again. So they do in `desc`, which is read as long as it holds nothing but text.
NOT_IN_SVG: Final = _names_in(
    "b big blockquote body br center code dd div dl dt em embed font foreignobject h1 h2 h3 h4 h5 h6 head hr html i img"
    " li listing math menu meta nobr ol p pre ruby s small span strong strike sub sup svg table tt u ul var"
)

# One of these may not be open inside another of its kind.
_NOT_NESTED: Final = frozenset({"a", "button", "form", "nobr", "select"})
# Names with rules of their own that our pages never need.
_LEFT_TO_LEXBOR: Final = _names_in(
    "applet basefont bgsound command frame frameset image isindex keygen listing marquee math menuitem noembed noframes"
    " nextid nobr param plaintext rb rtc xmp"
)
_ATTRIBUTES: Final = r"(?:[ \t\n\f]++[a-zA-Z_:@][-a-zA-Z0-9_:.]*+(?:=(?:\"[^<\"]*+\"|'[^<']*+'|[^ \t\n\f\"'=<>`]++))?+)*+[ \t\n\f]*+"
_NAME: Final = r"[a-zA-Z][-a-zA-Z0-9:]*+"
# A tag as far as its end is concerned; whether the strict reader knows it is looked at once for each way of writing it.
_TO_END_OF_TAG: Final = r"[^<>\"']*+(?:(?:\"[^\"]*+\"|'[^']*+')[^<>\"']*+)*+>"
_RAW_PIECE: Final = "|".join(
    rf"{name}(?=[ \t\n\f/>]){_TO_END_OF_TAG}(?:[^<]++|<(?!/{name}[ \t\n\f]*+>))*+</{name}[ \t\n\f]*+>"
    for name in sorted(_RAW)
)
# Of these, text is not read in one step with the tags around it: it may have no place there, or they mean more.
_TEXT_APART: Final = "|".join(sorted(name for name in {*NO_TEXT, "body", "pre", "svg"} if name))
# Of most start tags also the name, and the text that is all its element holds, where the end tag follows that.
_PIECES: Final = re.compile(
    rf"(<(?:/{_NAME}[ \t\n\f]*+>|(?=[ist])(?:{_RAW_PIECE})"
    rf"|(?:(?!(?i:{_TEXT_APART})[ \t\n\f/>])({_NAME})|{_NAME}){_TO_END_OF_TAG}|!--(?s:.*?)-->))"
    r"(?:(?<!/>)([^<]*+)</\2>)?+"
)
_OPENING: Final = re.compile(rf"<({_NAME}){_TO_END_OF_TAG}")
_START_TAG: Final = re.compile(rf"<({_NAME})({_ATTRIBUTES})(/?)>")
_END_TAG: Final = re.compile(rf"</({_NAME})[ \t\n\f]*+>")
_ATTRIBUTE: Final = re.compile(
    r"[ \t\n\f]+([a-zA-Z_:@][-a-zA-Z0-9_:.]*)(?:=(?:\"([^\"]*)\"|'([^']*)'|([^ \t\n\f\"'=<>`]+)))?"
)
_WHOLE_TEMPLATE: Final = re.compile(rf"(?:[^<]++|</{_NAME}[ \t\n\f]*+>|<{_NAME}{_ATTRIBUTES}/?>)*+")
_REFERENCE: Final = re.compile(
    r"&(?:#(?:[xX]([0-9a-fA-F]{1,6})|([0-9]{1,7}));|([a-zA-Z][a-zA-Z0-9]*);|([a-zA-Z0-9#]?))"
)

# What a piece of the source is to the reader.
END, ORDINARY, VOID_ELEMENT, RAW_ELEMENT, COMMENT = range(5)
# What must be looked at before it is taken; none of these for most tags.
(
    ENDS_A_PARAGRAPH,
    HAS_ITS_PLACE,
    NOT_INSIDE_ITSELF,
    RESTRICTS,
    CLOSES_ITSELF,
    TWICE,
    IS_ROOT,
    IS_BODY,
    IS_PARAGRAPH,
    IS_PRE,
    IS_RAW,
    IS_SVG,
    HOLDS_A_BRACKET,
) = (1 << bit for bit in range(13))
Tag: TypeAlias = tuple[int, str, dict[str, str], int]
"""What one way of writing a tag means: its kind, the element's name, its attributes, what must be looked at."""

# Tags repeat within a page and from page to page, so each way of writing one is worked out once.
tags: dict[str, Tag] = {}
"""By how they are written, those met before."""
_A_COMMENT: Final[Tag] = COMMENT, "", {}, 0
_TAGS_KEPT: Final = 8192
_LONGEST_KEPT: Final = 2000
_forms: dict[tuple[str, ...], tuple[int, str, tuple[str, ...], int]] = {}
"""By what is written around the values of a start tag, all of them in double quotes: what the tag means but for the values,
and the names of those."""
_FORMS_KEPT: Final = 2048


def _tag(written: str) -> Tag:
    if written.startswith("</"):
        found = _END_TAG.fullmatch(written)
        if found is None:
            raise NotCertainError
        name = found[1].lower()
        looked_at = IS_PARAGRAPH * (name == "p") | IS_BODY * (name == "body")
        looked_at |= NOT_INSIDE_ITSELF * (name in _NOT_NESTED)
        tag: Tag = (END, name, {}, looked_at)
    else:
        tag = _start_tag(written)
    if len(written) <= _LONGEST_KEPT:
        if len(tags) >= _TAGS_KEPT:
            tags.clear()
        tags[written] = tag
    return tag


def _start_tag(written: str) -> Tag:
    # Most tags that were not met before differ from one that was in their values alone.
    parts = written.split('"')
    around = tuple(parts[::2])
    form = _forms.get(around)
    if form is not None and written.count("<") == 1:
        kind, name, keys, looked_at = form
        values = parts[1::2]
        if "&" in written:
            values = [_resolve(value) for value in values]
        return kind, name, dict(zip(keys, values, strict=True)), looked_at
    found = _START_TAG.fullmatch(written)
    if found is None:
        raise NotCertainError
    name = found[1].lower()
    if name in _LEFT_TO_LEXBOR:
        raise NotCertainError
    attrs: dict[str, str] = {}
    looked_at = CLOSES_ITSELF if found[3] else 0
    for key, double, single, bare in _ATTRIBUTE.findall(found[2]):
        value = double or single or bare
        lower = key.lower()
        if lower in attrs:
            looked_at |= TWICE
        else:
            attrs[lower] = _resolve(value) if "&" in value else value
    kind, looked_at = VOID_ELEMENT if name in _VOID else ORDINARY, looked_at | _looked_at_for(name)
    if len(attrs) == len(parts) // 2 and not looked_at & TWICE and not any("'" in part for part in around):
        if len(_forms) >= _FORMS_KEPT:
            _forms.clear()
        _forms[around] = kind, name, tuple(attrs), looked_at
    return kind, name, attrs, looked_at


@lru_cache(maxsize=256)
def _looked_at_for(name: str) -> int:
    """What must be looked at for any start tag of this name."""
    looked_at = ENDS_A_PARAGRAPH * (name in _ENDS_PARAGRAPH) | NOT_INSIDE_ITSELF * (name in _NOT_NESTED)
    looked_at |= HAS_ITS_PLACE * (name in PARENTS or name in HEADINGS or name in {"dt", "dd", "html"})
    looked_at |= IS_PARAGRAPH * (name == "p") | IS_SVG * (name == "svg") | IS_PRE * (name == "pre")
    return looked_at | IS_RAW * (name in _RAW) | RESTRICTS * (name in CHILDREN) | IS_ROOT * (name == "html")


def _resolve(data: str) -> str:
    """The text with its character references resolved, where each is written out in full.

    Raises NotCertainError for what the standard reads by special rules: no semicolon, an unknown name, a number it replaces.
    """
    return _REFERENCE.sub(_resolve_one, data)


def _resolve_one(found: re.Match[str]) -> str:
    hexadecimal, decimal, name, following = found.groups()
    if name is not None:
        meaning = named_references.get(name + ";")
        if meaning is None:
            raise NotCertainError
        return meaning
    if hexadecimal is not None or decimal is not None:
        number = int(hexadecimal, 16) if hexadecimal is not None else int(decimal)
        if number < 0x20 or 0x7F <= number <= 0x9F or 0xD800 <= number <= 0xDFFF or number > 0x10FFFF:
            if number in (9, 10):
                return chr(number)
            raise NotCertainError
        return chr(number)
    if following:
        raise NotCertainError
    return "&"


def _certain_comment(written: str) -> bool:
    inside = written[4:-3]
    return (
        len(written) >= 7
        and not inside.startswith((">", "->"))
        and "--!>" not in inside
        and not inside.endswith("<!-")
    )


def _raw_data(name: str, raw: str) -> str:
    """The data of an element whose content isn't markup. Raises NotCertainError where its end might lie elsewhere."""
    if ("</" in raw and f"</{name}" in raw.lower()) or (name == "script" and "<!--" in raw):
        raise NotCertainError
    if name == "template" and (
        _WHOLE_TEMPLATE.fullmatch(raw) is None or any(f"<{inner}" in raw.lower() for inner in _RAW)
    ):
        raise NotCertainError
    if name in _REFERENCES_RESOLVED:
        if name == "textarea":
            raw = raw.removeprefix("\n")
        if "&" in raw:
            raw = _resolve(raw)
    return raw


def pieces_of(text: str) -> tuple[list[str], list[str], list[str | None]] | None:
    """The texts of a stretch of source, one more than its pieces; the pieces between them, each a tag, a comment or a raw
    element; and for each piece that is a start tag the text up to the end tag, where its element holds nothing else.

    Of an element that holds only text the end tag belongs to the piece, though it is not written there. None where the stretch
    ends inside a piece, or holds a "<" that begins none.
    """
    cut: list[Any] = _PIECES.split(text)
    texts = cut[::4]
    if "<" in "".join(texts) or not _RAW.isdisjoint(cut[2::4]):
        return None
    return texts, cut[1::4], cut[3::4]


def resolve(data: str) -> str:
    """The text with its character references resolved. Raises NotCertainError."""
    return _resolve(data) if "&" in data else data


def piece(written: str) -> tuple[Tag, str, int]:
    """What a piece of the source is; of a raw element also its text, and how far from its beginning that is written.

    Raises NotCertainError.
    """
    if written[1] == "!":
        if not _certain_comment(written):
            raise NotCertainError
        return _A_COMMENT, "", 0
    if written[1] in "ist" and "</" in written:
        return _raw_piece(written)
    return _tag(written), "", 0


def _raw_piece(written: str) -> tuple[Tag, str, int]:
    """A piece such as `<title>…</title>`: its tag, its text, and where that begins; an ordinary tag has no text."""
    opening = _OPENING.match(written)
    end = written.rindex("</")
    if opening is None or opening[1] not in _RAW or end < opening.end():
        return _tag(written), "", 0
    _, name, attrs, looked_at = tags.get(opening[0]) or _tag(opening[0])
    raw = written[opening.end() : end]
    looked_at |= HOLDS_A_BRACKET * ("<" in raw)
    return (RAW_ELEMENT, name, attrs, looked_at), _raw_data(name, raw), opening.end()


def names_written_twice(written: str) -> list[str]:
    """The attributes that a tag, as written, names again; in lower case."""
    opening = _OPENING.match(written)
    assert opening is not None
    seen: set[str] = set()
    found: list[str] = []
    for attribute in _ATTRIBUTE.finditer(opening[0], len(opening[1]) + 1):
        name = attribute[1].lower()
        if name in seen:
            found.append(name)
        seen.add(name)
    return found
