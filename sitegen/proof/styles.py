"""The few style questions that decide what is read and seen: is this displayed, where does it stand, how is it spaced.

Style attributes and the page's own style elements are read, for a screen in its default state. Linked stylesheets are not:
a page's bytes do not hold them. A selector this module does not know takes part in nothing; colours are not its business.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from sitegen.proof.document import Document, Element


class Declared(NamedTuple):
    """A property as the cascade leaves it on one element."""

    value: str
    """As written, in lower case, without `!important`."""
    important: bool
    in_attribute: bool
    """Whether the winning declaration stands in the element's own style attribute."""


NO_STYLE: Final[dict[str, Declared]] = {}

_COMMENT = re.compile(r"/\*.*?(?:\*/|\Z)", re.DOTALL)
_DECLARATION = re.compile(
    r"\s*([-a-zA-Z]+)\s*:((?:[^;\"'()]|\"[^\"]*\"|'[^']*'|\((?:[^()]|\([^()]*\))*\))*)(?:;|\Z)"
)
_IMPORTANT = re.compile(r"\s*!\s*important\s*\Z", re.IGNORECASE)

_attributes: dict[str, dict[str, Declared]] = {}
_ATTRIBUTES_KEPT: Final = 1024


def style_attribute(written: str) -> dict[str, Declared]:
    """The declarations of a style attribute; where one property stands twice, the one that wins."""
    known = _attributes.get(written)
    if known is None:
        known = _declarations(written, True)
        if len(_attributes) >= _ATTRIBUTES_KEPT:
            _attributes.clear()
        _attributes[written] = known
    return known


def _declarations(written: str, in_attribute: bool) -> dict[str, Declared]:
    declared: dict[str, Declared] = {}
    for found in _DECLARATION.finditer(_COMMENT.sub(" ", written)):
        name, value = found[1].lower(), found[2]
        bare = _IMPORTANT.sub("", value)
        new = Declared(bare.strip().lower(), bare != value, in_attribute)
        before = declared.get(name)
        if new.value and (before is None or new.important or not before.important):
            declared[name] = new
    return declared


class _Compound(NamedTuple):
    tag: str
    identifier: str
    classes: tuple[str, ...]
    attributes: tuple[tuple[str, str, str], ...]
    combinator: str
    """How it hangs on the compound before it: "", " ", ">", "+", "~"."""


class StyleRule(NamedTuple):
    """One rule of a style element with one of its selectors."""

    selector: tuple[_Compound, ...]
    specificity: tuple[int, int, int]
    declared: dict[str, Declared]
    media: str
    """The conditions of the `@media` rules around it, in lower case, joined with " and "; "" without one."""


_SIMPLE = re.compile(
    r"\s*([>+~]?)\s*(?=[^\s>+~])(\*|[a-zA-Z][-\w]*)?((?:\.[-\w]+|#[-\w]+|\[[^\]]*\])*)", re.ASCII
)
_PART = re.compile(r"\.([-\w]+)|#([-\w]+)|\[\s*([-\w]+)\s*(?:([~|^$*]?=)\s*[\"']?([^\"'\]]*?)[\"']?\s*)?\]")


def _selector(written: str) -> tuple[tuple[_Compound, ...], tuple[int, int, int]] | None:
    """A selector of types, classes, ids, attributes and combinators; None for any other."""
    compounds: list[_Compound] = []
    identifiers = classes = types = 0
    position = 0
    while position < len(written):
        found = _SIMPLE.match(written, position)
        if found is None or not (found[2] or found[3]):
            return None
        if compounds and not found[1] and not written[position].isspace():
            return None
        names: list[str] = []
        identifier = ""
        attributes: list[tuple[str, str, str]] = []
        for part in _PART.finditer(found[3]):
            if part[1]:
                names.append(part[1])
            elif part[2]:
                identifier = part[2]
                identifiers += 1
            else:
                attributes.append((part[3].lower(), part[4] or "", part[5] or ""))
        classes += len(names) + len(attributes)
        tag = (found[2] or "").lower().replace("*", "")
        types += bool(tag)
        combinator = (found[1] or " ") if compounds else ""
        compounds.append(_Compound(tag, identifier, tuple(names), tuple(attributes), combinator))
        position = found.end()
    return (tuple(compounds), (identifiers, classes, types)) if compounds else None


def _matches_compound(compound: _Compound, element: Element) -> bool:
    if compound.tag and compound.tag != element.tag:
        return False
    attrs = element.attrs
    if compound.identifier and attrs.get("id") != compound.identifier:
        return False
    if compound.classes and not set(compound.classes) <= set(attrs.get("class", "").split()):
        return False
    return all(
        _matches_attribute(attrs.get(name), operator, value) for name, operator, value in compound.attributes
    )


def _matches_attribute(has: str | None, operator: str, value: str) -> bool:
    if has is None:
        return False
    if not operator:
        return True
    if operator == "=":
        return has == value
    if not value:
        return False
    if operator == "~=":
        return value in has.split()
    if operator == "|=":
        return has == value or has.startswith(value + "-")
    if operator == "^=":
        return has.startswith(value)
    if operator == "$=":
        return has.endswith(value)
    return value in has


def matches(selector: tuple[_Compound, ...], element: Element) -> bool:
    """Whether a selector matches an element."""
    compound = selector[-1]
    if not _matches_compound(compound, element):
        return False
    if len(selector) == 1:
        return True
    rest = selector[:-1]
    if compound.combinator == " ":
        return any(matches(rest, above) for above in element.ancestors())
    if compound.combinator == ">":
        return element.parent is not None and matches(rest, element.parent)
    if element.parent is None:
        return False
    siblings = [child for child in element.parent.children if isinstance(child, Element)]
    before = siblings[: siblings.index(element)]
    if compound.combinator == "+":
        before = before[-1:]
    return any(matches(rest, sibling) for sibling in before)


class Styles:
    """What the page's own styles say of its elements."""

    __slots__ = ("_known", "rules")

    def __init__(self, document: Document) -> None:
        self._known: dict[Element, dict[str, Declared]] = {}
        self.rules: tuple[StyleRule, ...] = ()
        """The rules of the page's style elements, in order, those under `@media` included."""
        sheets = [sheet for sheet in document.tagged("style") if sheet.namespace == "html"]
        if sheets:
            self.rules = tuple(
                rule
                for sheet in sheets
                for rule in _read_sheet(sheet.text(), sheet.attrs.get("media", "").strip().lower())
            )

    def of(self, element: Element) -> dict[str, Declared]:
        """The declarations that win on an element, by property; nothing inherited."""
        if not self.rules:
            written = element.attrs.get("style")
            return style_attribute(written) if written else NO_STYLE
        known = self._known.get(element)
        if known is None:
            known = self._known[element] = self._cascade(element)
        return known

    def value(self, element: Element, name: str) -> str:
        """What is declared for a property on an element, "" where nothing is."""
        declared = self.of(element).get(name)
        return declared.value if declared is not None else ""

    def _cascade(self, element: Element) -> dict[str, Declared]:
        # https://www.w3.org/TR/css-cascade-4/#cascade-sort: importance, the attribute, specificity, order.
        found = [
            rule for rule in self.rules if _applies_to_screen(rule.media) and matches(rule.selector, element)
        ]  # fmt: skip
        found.sort(key=lambda rule: rule.specificity)
        winning: dict[str, Declared] = {}
        written = element.attrs.get("style")
        for declared in [
            *(rule.declared for rule in found),
            style_attribute(written) if written else NO_STYLE,
        ]:
            for name, new in declared.items():
                before = winning.get(name)
                if before is None or new.important or not before.important:
                    winning[name] = new
        return winning


def _applies_to_screen(media: str) -> bool:
    """Whether a media condition holds for any screen; what depends on a screen's kind is taken not to hold."""
    return all(
        part.strip() in ("", "all", "screen", "only screen", "only all") for part in media.split(" and ")
    )


# A statement such as `@import "a.css";`, or a prelude and its block; strings are passed over whole.
_RULE = re.compile(r"\s*((?:[^{};\"']|\"[^\"]*\"|'[^']*')*)([{;])")
_BLOCK_PIECE = re.compile(r"[^{}\"']+|\"[^\"]*\"|'[^']*'|[{}\"']")


def _read_sheet(text: str, media: str) -> Iterator[StyleRule]:
    """The rules of a stylesheet; `@media` is followed inside, every other block rule is left out."""
    text = _COMMENT.sub(" ", text)
    position = 0
    while (found := _RULE.match(text, position)) is not None:
        position = found.end()
        if found[2] == ";":
            continue
        prelude, start = found[1].strip(), position
        position = _end_of_block(text, start)
        content = text[start : position - 1]
        if prelude[:6].lower() == "@media":
            condition = prelude[6:].strip().lower()
            yield from _read_sheet(content, f"{media} and {condition}" if media else condition)
        elif not prelude.startswith("@"):
            declared = _declarations(content, False)
            for written in prelude.split(","):
                selector = _selector(written.strip())
                if selector is not None:
                    yield StyleRule(*selector, declared, media)


def _end_of_block(text: str, start: int) -> int:
    depth = 1
    for piece in _BLOCK_PIECE.finditer(text, start):
        depth += (piece[0] == "{") - (piece[0] == "}")
        if not depth:
            return piece.end()
    return len(text) + 1


_LENGTH = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(px|em|rem|pt|pc|in|cm|mm|q|%|)", re.ASCII)
_PX: Final = {
    "px": 1.0,
    "pt": 4 / 3,
    "pc": 16.0,
    "in": 96.0,
    "cm": 96 / 2.54,
    "mm": 96 / 25.4,
    "q": 96 / 101.6,
}
_ROOT_SIZE: Final = 16.0


def length(value: str, font_size: float = _ROOT_SIZE, root_size: float = _ROOT_SIZE) -> float | None:
    """A CSS length in pixels, percentages taken of the font size; None for what isn't a plain length."""
    found = _LENGTH.fullmatch(value)
    if found is None:
        return None
    number, unit = float(found[1]), found[2]
    if unit == "":
        return 0.0 if number == 0 else None
    if unit == "em":
        return number * font_size
    if unit == "rem":
        return number * root_size
    if unit == "%":
        return number * font_size / 100
    return number * _PX[unit]


# Absolute and relative keywords: https://www.w3.org/TR/css-fonts-4/#absolute-size-value
_SIZE_WORDS: Final = {
    "xx-small": 9.6, "x-small": 12.0, "small": 128 / 9, "medium": 16.0, "large": 19.2, "x-large": 24.0, "xx-large": 32.0,
    "xxx-large": 48.0,
}  # fmt: skip
# https://html.spec.whatwg.org/multipage/rendering.html: sizes that HTML's own styles give.
_DEFAULT_SIZES: Final = {
    "h1": 2.0, "h2": 1.5, "h3": 1.17, "h4": 1.0, "h5": 0.83, "h6": 0.67, "small": 5 / 6, "big": 1.2, "sub": 5 / 6, "sup": 5 / 6,
}  # fmt: skip


def font_size(element: Element, styles: Styles) -> float | None:
    """The computed font size in pixels; None where a declaration on the way isn't understood."""
    chain = [element, *element.ancestors()]
    size: float | None = _ROOT_SIZE
    for each in reversed(chain):
        written = styles.value(each, "font-size")
        if not written or written == "unset" or written == "inherit":
            size = size if size is None or written else size * _DEFAULT_SIZES.get(each.tag, 1.0)
            if each.tag in {"button", "input", "select", "textarea"} and not written:
                size = 40 / 3
        elif written in _SIZE_WORDS:
            size = _SIZE_WORDS[written]
        elif written == "initial":
            size = _ROOT_SIZE
        elif size is not None or not written.endswith(("em", "%")):
            size = length(written, size or _ROOT_SIZE)
    return size


# Beyond this many pixels from its corner something is outside any screen on purpose.
_FAR: Final = 999.0


def stands_off_screen(element: Element, styles: Styles) -> bool:
    """Whether the element or one it stands in is moved out of the screen, or clipped to nothing."""
    return any(_moved_away(styles.of(each)) for each in (element, *element.ancestors()))


def _moved_away(declared: dict[str, Declared]) -> bool:
    if not declared:
        return False

    def value(name: str) -> str:
        found = declared.get(name)
        return found.value if found is not None else ""

    for name in ("margin-left", "margin-top", "text-indent"):
        distance = length(value(name))
        if distance is not None and distance <= -_FAR:
            return True
    if value("position") in {"absolute", "fixed", "relative"}:
        for name in ("left", "top", "right", "bottom"):
            distance = length(value(name))
            if distance is not None and distance <= -_FAR:
                return True
    if value("position") in {"absolute", "fixed"}:
        clipped = value("clip").replace(" ", "").replace(",", "")
        if re.fullmatch(r"rect\((?:[01](?:px)?){4}\)", clipped):
            return True
        if re.fullmatch(r"inset\(\s*(?:50|100)%\s*\)", value("clip-path")):
            return True
        small = [length(value(name)) for name in ("width", "height")]
        if value("overflow") in {"hidden", "clip"} and all(side is not None and side <= 1 for side in small):
            return True
    return False
