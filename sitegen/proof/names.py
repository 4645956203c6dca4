"""The accessible name of an element: Accessible Name and Description Computation 1.2 (https://www.w3.org/TR/accname-1.2/), with
what HTML gives names from (https://www.w3.org/TR/html-aam-1.0/#accessible-name-and-description-computation).

The letters in comments are the steps of that computation. Text that styles add (`::before`) is not known here.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from sitegen.proof.aria import NAMED_BY_CONTENT
from sitegen.proof.document import WHITESPACE, Element, Text
from sitegen.proof.semantics import Semantics, input_type


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# https://html.spec.whatwg.org/multipage/rendering.html: what HTML's own styles display as blocks, or apart from its neighbours; pictures
# too, as browsers have it.
_APART: Final = _words(
    "address article aside blockquote body br button caption center dd details dialog dir div dl dt fieldset figcaption figure footer"
    " form h1 h2 h3 h4 h5 h6 header hgroup hr html img input legend li main menu meter nav ol optgroup option p pre progress search"
    " section select summary svg table tbody td textarea tfoot th thead tr ul"
)
LABELLED: Final = frozenset({"button", "input", "meter", "output", "progress", "select", "textarea"})
_NAMED_BY_CHILD: Final = {"fieldset": "legend", "figure": "figcaption", "table": "caption"}
_VALUES: Final = frozenset(
    {
        "textbox",
        "searchbox",
        "combobox",
        "listbox",
        "slider",
        "spinbutton",
        "scrollbar",
        "progressbar",
        "meter",
    }
)
# So deep a label is not written by anybody; beyond it content no longer adds to a name.
_DEEPEST: Final = 200


# Elements named by their text alone, where nothing but text and plain inline elements stands in them and none of these attributes on any.
_PLAIN: Final = frozenset({"a", "h1", "h2", "h3", "h4", "h5", "h6"})
_INLINE: Final = frozenset(
    {"abbr", "b", "bdi", "cite", "em", "i", "mark", "small", "span", "strong", "sub", "sup", "time"}
)
_NOT_PLAIN: Final = frozenset({"aria-label", "aria-labelledby", "aria-owns", "role", "style", "title"})


def collapse(text: str) -> str:
    """Runs of white space as one space, none at the ends."""
    return " ".join(text.split())


class Names:
    """The names of one document's elements; each is worked out once."""

    __slots__ = ("_labels", "_names", "_semantics")

    def __init__(self, semantics: Semantics) -> None:
        self._semantics = semantics
        self._names: dict[Element, str] = {}
        self._labels: dict[Element, list[Element]] | None = None
        for _, part in semantics.document.parts:
            if part.kept_names is None:
                part.kept_names = _names_by_one_text(part.elements)
            self._names.update(part.kept_names)
        # Most pages hide few elements. No link and no heading is among what HTML never shows.
        for element in semantics.hidden:
            self._names.pop(element, None)

    def name(self, element: Element) -> str:
        """The element's accessible name, "" where it has none.

        A browser's own words for an unnamed image button ("Submit Query") are no name here: nobody wrote them.
        """
        name = self._names.get(element)
        if name is None:
            name = self._names[element] = self._name(element)
        return name

    def of(self, elements: Iterable[Element]) -> list[str]:
        """The accessible names of several elements."""
        known = self._names
        return [known.get(element) or self.name(element) for element in elements]

    def _name(self, element: Element) -> str:
        attrs = element.attrs
        # The names that most elements have, found without the whole computation.
        if self._semantics.hides_nothing or not self._semantics.is_hidden(element):
            if "aria-labelledby" in attrs:
                pointed_at = attrs["aria-labelledby"].split()
                target = self._semantics.document.ids.get(pointed_at[0]) if len(pointed_at) == 1 else None
                name = self._plain_text(target) if target is not None and target.tag in _PLAIN else None
            elif "aria-label" in attrs:
                name = attrs["aria-label"]
            elif element.tag == "img":
                name = attrs.get("alt") if "role" not in attrs else None
            else:
                name = self._plain_text(element) if element.tag in _PLAIN else None
            if name:
                name = " ".join(name.split())
                if name:
                    return name
        return collapse(self._compute(element, _Way()))

    def _plain_text(self, element: Element, depth: int = 0) -> str | None:
        """The text of an element in which nothing but text, line breaks and inline elements without a say of their own stands;
        None for any other."""
        if depth > 20 or not element.attrs.keys().isdisjoint(_NOT_PLAIN):
            return None
        children = element.children
        if len(children) == 1:
            only = children[0]
            if type(only) is Text:
                return only.data
        parts: list[str] = []
        for child in children:
            if isinstance(child, Text):
                parts.append(child.data)
            elif (
                child.tag in _INLINE
                and self._semantics.styles.display(child) in ("", "inline")
                and not self._semantics.is_hidden(child)
            ):
                part = self._plain_text(child, depth + 1)
                if part is None:
                    return None
                parts.append(part)
            else:
                return None
        return "".join(parts)

    def labels(self, element: Element) -> list[Element]:
        """The `label` elements of a field, in document order."""
        if self._labels is None:
            self._labels = {}
            for label in self._semantics.document.tagged("label"):
                field = self._labelled_by(label)
                if field is not None:
                    self._labels.setdefault(field, []).append(label)
        return self._labels.get(element, [])

    def _labelled_by(self, label: Element) -> Element | None:
        # https://html.spec.whatwg.org/multipage/forms.html#labeled-control
        if "for" in label.attrs:
            field = self._semantics.document.ids.get(label.attrs["for"])
            return field if field is not None and _takes_label(field) else None
        return next(
            (node for node in label.descendants() if isinstance(node, Element) and _takes_label(node)), None
        )

    # The computation

    def _compute(self, element: Element, way: _Way) -> str:
        if element in way.seen or way.depth > _DEEPEST:
            return ""
        attrs, semantics = element.attrs, self._semantics
        # 2A: what is hidden gives nothing, unless it, or what it stands in, was pointed at while hidden.
        hidden = semantics.is_hidden(element)
        if hidden and not way.hidden_counts:
            return ""
        # 2B: aria-labelledby, but not on the way from another one.
        if not way.pointed_at and "aria-labelledby" in attrs:
            targets = [
                semantics.document.ids.get(identifier) for identifier in attrs["aria-labelledby"].split()
            ]
            found = [self._pointed_at(target) for target in targets if target is not None]
            name = collapse(" ".join(found))
            if name:
                return name
        # 2C: a control inside a label or other content gives its value.
        role = semantics.role(element)
        if way.inside and role in _VALUES:
            return self._value(element, role)
        # 2D
        label = attrs.get("aria-label", "")
        if label.strip(WHITESPACE + "\xa0"):
            return label
        # 2E: what HTML and SVG give, unless the role was taken away.
        if role != "none" or element.tag not in {"img", "table", "fieldset", "figure"}:
            native = self._native(element, way)
            if native is not None and native.strip():
                return native
        # 2F: the content, where the role takes its name from it, or as part of another element's name.
        if (way.from_content or role in NAMED_BY_CONTENT or self._has_content_name(element)) and (
            element.tag not in {"iframe", "object", "video", "audio", "canvas"} or way.from_content
        ):
            content = self._content(element, way)
            if content.strip():
                return content
        # 2I: the tooltip. Of an element without a role inside a name it adds what its content does not say.
        title = attrs.get("title", "")
        if title.strip(WHITESPACE):
            return title
        if element.tag in {"input", "textarea"} and not way.inside:
            return attrs.get("placeholder", "") or attrs.get("aria-placeholder", "")
        return (
            attrs.get("aria-placeholder", "") if role in {"textbox", "searchbox"} and not way.inside else ""
        )

    def _pointed_at(self, target: Element) -> str:
        if target.tag in _PLAIN:
            text = self._plain_text(target)
            if text is not None and text.strip():
                return text
        hidden = self._semantics.is_hidden(target)
        return self._compute(target, _Way(pointed_at=True, hidden_counts=hidden, from_content=True))

    def _has_content_name(self, element: Element) -> bool:
        return element.tag in {"summary", "legend", "figcaption", "label"} and "role" not in element.attrs

    def _native(self, element: Element, way: _Way) -> str | None:
        tag, attrs = element.tag, element.attrs
        if element.namespace == "svg":
            # https://www.w3.org/TR/svg-aam-1.0/#mapping_additional_nd: a direct child title
            title = next(
                (child for child in element.children if isinstance(child, Element) and child.tag == "title"),
                None,
            )
            if title is not None:
                return title.text()
            return attrs.get("xlink:title") if tag == "a" else None
        if tag in {"img", "area"}:
            return attrs.get("alt")
        if tag in LABELLED and not way.pointed_at and not way.inside:
            labels = self.labels(element)
            if labels:
                name = " ".join(self._compute(label, way.into(element)) for label in labels)
                if name.strip():
                    return name
        if tag == "input":
            kind = input_type(element)
            if kind in {"button", "submit", "reset"}:
                # A browser names these two in its user's language.
                return attrs.get("value", {"submit": "Submit", "reset": "Reset"}.get(kind))
            if kind == "image":
                return attrs.get("alt")
            return None
        if tag in _NAMED_BY_CHILD:
            wanted = _NAMED_BY_CHILD[tag]
            child = next(
                (node for node in element.children if isinstance(node, Element) and node.tag == wanted), None
            )
            if child is not None and "aria-hidden" not in child.attrs:
                return self._content(child, way.into(element))
            return None
        if tag == "optgroup":
            return attrs.get("label")
        if tag == "option":
            return attrs.get("label") or None
        return None

    def _content(self, element: Element, way: _Way) -> str:
        parts: list[str] = []
        inside = way.into(element)
        for child in element.children:
            if isinstance(child, Text):
                parts.append(child.data)
                continue
            part = self._compute(child, inside)
            if self._stands_apart(child):
                parts.append(f" {part} ")
            else:
                parts.append(part)
        for identifier in element.attrs.get("aria-owns", "").split():
            target = self._semantics.document.ids.get(identifier)
            if target is not None and target is not element:
                parts.append(f" {self._compute(target, inside)} ")
        return "".join(parts)

    def _stands_apart(self, element: Element) -> bool:
        if "aria-label" in element.attrs:  # as browsers have it
            return True
        display = self._semantics.styles.display(element)
        if display:
            return display not in ("inline", "contents")
        return element.tag in _APART

    def _value(self, element: Element, role: str) -> str:
        attrs = element.attrs
        if role in {"textbox", "searchbox"} or (role == "combobox" and element.tag == "input"):
            return attrs.get("value", "") if element.tag == "input" else element.text()
        if role in {"combobox", "listbox"}:
            options = [
                node
                for node in element.descendants()
                if isinstance(node, Element)
                and (node.tag == "option" or self._semantics.role(node) == "option")
            ]
            chosen = [
                o
                for o in options
                if "selected" in o.attrs or o.attrs.get("aria-selected", "").lower() == "true"
            ]
            if not chosen and element.tag == "select" and role == "combobox":
                chosen = options[:1]
            if chosen:
                return " ".join(collapse(option.attrs.get("label") or option.text()) for option in chosen)
            return element.text() if role == "combobox" and element.tag != "select" else ""
        return attrs.get("aria-valuetext") or attrs.get("aria-valuenow") or attrs.get("value", "")


def _names_by_one_text(elements: list[Element]) -> dict[Element, str]:
    """The names of those links and headings that hold one text and nothing else, as long as they are not hidden."""
    found: dict[Element, str] = {}
    for element in elements:
        children = element.children
        if (
            element.tag in _PLAIN
            and len(children) == 1
            and isinstance(children[0], Text)
            and element.attrs.keys().isdisjoint(_NOT_PLAIN)
        ):
            name = collapse(children[0].data)
            if name:
                found[element] = name
    return found


class _Way:
    """How the computation came to an element."""

    __slots__ = ("depth", "from_content", "hidden_counts", "inside", "pointed_at", "seen")

    def __init__(
        self,
        pointed_at: bool = False,
        hidden_counts: bool = False,
        from_content: bool = False,
        inside: bool = False,
        seen: frozenset[Element] = frozenset(),
        depth: int = 0,
    ) -> None:
        self.pointed_at = pointed_at
        """Whether an aria-labelledby led here."""
        self.hidden_counts = hidden_counts
        """Whether hidden content counts, because what was pointed at is hidden itself."""
        self.from_content = from_content
        """Whether the element's content counts whatever its role."""
        self.inside = inside
        """Whether the element is part of another one's name."""
        self.seen = seen
        """Elements whose names are being computed."""
        self.depth = depth

    def into(self, element: Element) -> _Way:
        """The way on to what stands in an element."""
        return _Way(self.pointed_at, self.hidden_counts, True, True, self.seen | {element}, self.depth + 1)


def _takes_label(element: Element) -> bool:
    return element.tag in LABELLED and not (element.tag == "input" and input_type(element) == "hidden")
