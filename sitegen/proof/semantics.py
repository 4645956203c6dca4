"""What an element is to assistive technology: its role, whether it is hidden, whether the keyboard reaches it, who owns it.

Follows WAI-ARIA 1.2 and HTML Accessibility API Mappings 1.0 (https://www.w3.org/TR/html-aam-1.0/).
"""

from __future__ import annotations

from typing import Final

from sitegen.proof.aria import EXPOSING, INPUT_ROLES, INPUT_TYPES, ROLES, SAME_ROLE, SIMPLE_ROLES
from sitegen.proof.document import WHITESPACE, Document, Element, whole_number
from sitegen.proof.styles import Styles, styles_alone

# https://html.spec.whatwg.org/multipage/rendering.html#hidden-elements; `area` is left out, browsers expose it.
_NEVER_SHOWN: Final = frozenset(
    [
        "base",
        "basefont",
        "datalist",
        "head",
        "link",
        "meta",
        "noembed",
        "noframes",
        "param",
        "rp",
        "script",
        "style",
        "template",
        "title",
    ]
)
_SECTIONING: Final = frozenset({"article", "aside", "main", "nav", "section"})
_SECTIONING_ROLES: Final = frozenset({"article", "complementary", "main", "navigation", "region"})
_TABLE_PARTS: Final = frozenset({"caption", "tbody", "thead", "tfoot", "tr", "td", "th"})
_DISABLED: Final = frozenset({"button", "fieldset", "input", "optgroup", "option", "select", "textarea"})


def input_type(element: Element) -> str:
    """The type an `input` has, "text" where none or an unknown one is written."""
    written = element.attrs.get("type", "text").strip(WHITESPACE).lower()
    return written if written in INPUT_TYPES else "text"


class Semantics:
    """Answers about the elements of one document; each is worked out once."""

    __slots__ = (
        "_hidden",
        "_is_plain",
        "_owned",
        "_roles",
        "_silenced",
        "_unrendered",
        "document",
        "hides_nothing",
        "styles",
    )

    def __init__(self, document: Document, styles: Styles | None = None) -> None:
        """`styles` come from whoever can load the page's linked stylesheets; without them the page's own count."""
        self.document = document
        self.styles = styles_alone(document) if styles is None else styles
        self._roles: dict[Element, str] = {}
        self._owned: dict[Element, Element] | None = None
        having = document.having
        silencing, inert = having("aria-hidden"), having("inert")
        self._silenced = (
            _with_everything_inside([*(e for e in silencing if _says_hidden(e)), *inert])
            if silencing or inert
            else _NOTHING
        )
        self._is_plain = self.styles.is_plain
        self._unrendered = self.styles.unrendered() if not self._is_plain else _hidden_by_html(document)
        self._hidden = self._silenced | self._unrendered if self._silenced else self._unrendered
        self.hides_nothing = not self._silenced and all(e.tag in _NEVER_SHOWN for e in self._unrendered)
        """Whether nothing on the page is hidden from anybody but what HTML never shows."""

    # Hidden or not

    def is_rendered(self, element: Element) -> bool:
        """Whether it takes part in the page for everybody: neither `display: none` nor invisible, by itself or from above.

        What stands in a closed `details` counts as rendered, since anybody can open it.
        """
        return element not in self._unrendered and (not self._is_plain or element.tag not in _NEVER_SHOWN)

    def is_aria_hidden(self, element: Element) -> bool:
        """Whether it or an element around it carries `aria-hidden="true"` or `inert`."""
        return element in self._silenced

    def is_hidden(self, element: Element) -> bool:
        """Whether assistive technology gets nothing of it ("programmatically hidden")."""
        return element in self._hidden or (self._is_plain and element.tag in _NEVER_SHOWN)

    def unhidden(self, elements: list[Element]) -> list[Element]:
        """Those of the elements that are not hidden."""
        if self._is_plain:
            return [element for element in elements if not self.is_hidden(element)]
        hidden = self._hidden
        return [element for element in elements if element not in hidden]

    @property
    def hidden(self) -> frozenset[Element]:
        """What is hidden; on a page without styles, what HTML never shows is not among it."""
        return self._hidden

    def is_visible(self, element: Element) -> bool:
        """Whether it can be seen: rendered, and not moved out of the screen."""
        return self.is_rendered(element) and (self._is_plain or not self.styles.is_out_of_sight(element))

    # Roles

    def role(self, element: Element) -> str:
        """Its role: the first one written that exists, else the one HTML gives it; "none" where it is presentational, "" where
        no role corresponds."""
        role = self._roles.get(element)
        if role is None:
            role = self._work_out_role(element) if "role" in element.attrs else self.implicit_role(element)
            self._roles[element] = role
        return role

    def written_role(self, element: Element) -> str:
        """The first role written on it that WAI-ARIA knows; "" without one."""
        written = element.attrs.get("role")
        if not written:
            return ""
        for token in written.lower().split():
            if token in ROLES:
                return SAME_ROLE.get(token, token)
        return ""

    def _work_out_role(self, element: Element) -> str:
        written = self.written_role(element)
        if written == "none":
            return self.implicit_role(element) if self.keeps_its_role(element) else "none"
        return written or self.implicit_role(element)

    def keeps_its_role(self, element: Element) -> bool:
        """Whether `role="none"` has no effect: the element takes focus, or has an attribute that every role may have
        (WAI-ARIA 1.2, section 7.1)."""
        return self.is_focusable(element) or any(
            name in EXPOSING for name in element.attrs if name.startswith("aria-")
        )

    def implicit_role(self, element: Element) -> str:
        """The role HTML gives it, whatever is written on it."""
        tag, attrs = element.tag, element.attrs
        if element.namespace != "html":
            if element.namespace == "svg":
                if tag == "svg":
                    return "graphics-document"
                if tag == "a":
                    return "link" if "href" in attrs or "xlink:href" in attrs else "group"
                return "img" if tag == "image" else ""
            return "math" if tag == "math" else ""
        if tag in {"a", "area"}:
            return "link" if "href" in attrs else "generic"
        if tag in _TABLE_PARTS or tag == "li":
            return self._inside_list_or_table(element)
        simple = SIMPLE_ROLES.get(tag)
        if simple is not None:
            return simple
        if tag == "img":
            if attrs.get("alt") == "" and not self.keeps_its_role(element):
                return "none"
            return "img"
        if tag == "input":
            kind = input_type(element)
            if "list" in attrs and kind in {"email", "search", "tel", "text", "url"}:
                return "combobox"
            return INPUT_ROLES.get(kind, "")
        if tag == "select":
            size = whole_number(attrs.get("size", "").strip(WHITESPACE)) or 1
            return "listbox" if "multiple" in attrs or size > 1 else "combobox"
        if tag in {"header", "footer"}:
            for above in element.ancestors():
                if above.tag in _SECTIONING or self.written_role(above) in _SECTIONING_ROLES:
                    return "generic"
            return "banner" if tag == "header" else "contentinfo"
        if tag in {"section", "form"}:
            named = any(
                attrs.get(name, "").strip(WHITESPACE) for name in ("aria-label", "aria-labelledby", "title")
            )
            return ("region" if tag == "section" else "form") if named else "generic"
        return ""

    def _inside_list_or_table(self, element: Element) -> str:
        tag, parent = element.tag, element.parent
        if tag == "li":
            if parent is None or parent.tag not in {"ul", "ol", "menu"}:
                return "generic"
            # A presentational list takes its items along (WAI-ARIA 1.2, section 5.2.8.4).
            return "none" if self.role(parent) == "none" else "listitem"
        table = next((above for above in element.ancestors() if above.tag == "table"), None)
        if table is None:
            return "generic"
        written = self.role(table)
        if written == "none":
            return "none"
        if tag == "th":
            scope = element.attrs.get("scope", "").strip(WHITESPACE).lower()
            return "rowheader" if scope in {"row", "rowgroup"} else "columnheader"
        if tag == "td":
            return "gridcell" if written in {"grid", "treegrid"} else "cell"
        return SIMPLE_ROLES[tag]

    # Focus

    def is_disabled(self, element: Element) -> bool:
        """Whether HTML disables it: by its own attribute or by a `fieldset` around it."""
        if element.tag not in _DISABLED:
            return False
        if "disabled" in element.attrs:
            return True
        below = element
        for above in element.ancestors():
            if above.tag == "fieldset" and "disabled" in above.attrs:
                first = next(
                    (
                        child
                        for child in above.children
                        if isinstance(child, Element) and child.tag == "legend"
                    ),
                    None,
                )
                if below is not first:
                    return True
            below = above
        return False

    def is_focusable(self, element: Element) -> bool:
        """Whether it can take focus while it is rendered; a negative tabindex still lets it."""
        attrs = element.attrs
        if "tabindex" in attrs and _integer(attrs["tabindex"]) is not None:
            return not self.is_disabled(element)
        tag = element.tag
        if tag in {"a", "area"}:
            return "href" in attrs or (element.namespace == "svg" and "xlink:href" in attrs)
        if tag in {"button", "select", "textarea"}:
            return not self.is_disabled(element)
        if tag == "input":
            return input_type(element) != "hidden" and not self.is_disabled(element)
        if tag == "summary":
            return is_summary_of_its_details(element)
        if tag in {"audio", "video"}:
            return "controls" in attrs
        if tag == "iframe":
            return True
        return "contenteditable" in attrs and attrs["contenteditable"].strip(WHITESPACE).lower() != "false"

    def takes_tab_focus(self, element: Element) -> bool:
        """Whether the keyboard's tab order stops at it."""
        if not self.is_focusable(element) or not self.is_rendered(element):
            return False
        if element in self._silenced and any(
            "inert" in each.attrs for each in (element, *element.ancestors())
        ):
            return False
        position = _integer(element.attrs.get("tabindex", ""))
        return position is None or position >= 0

    # Who owns whom

    def owner(self, element: Element) -> Element | None:
        """Its parent in the accessibility tree, presentational elements passed over: `aria-owns` first, then HTML's tree."""
        if self._owned is None:
            self._owned = {}
            for owning in self.document.having("aria-owns"):
                for identifier in owning.attrs["aria-owns"].split():
                    target = self.document.ids.get(identifier)
                    if target is not None and target is not owning:
                        self._owned.setdefault(target, owning)
        parent = self._owned.get(element, element.parent)
        passed = 0
        while parent is not None and self.role(parent) == "none" and passed < 10_000:
            parent = self._owned.get(parent, parent.parent)
            passed += 1
        return parent

    def owned_elements(self, element: Element) -> list[Element]:
        """Its children in the accessibility tree: hidden ones left out, presentational ones replaced by what they own."""
        self.owner(element)  # makes the table
        assert self._owned is not None
        found: list[Element] = []
        seen = {element}
        waiting = self._children(element)[::-1]
        while waiting:
            child = waiting.pop()
            if child in seen:
                continue
            seen.add(child)
            if self.is_hidden(child):
                continue
            if self.role(child) == "none":
                waiting.extend(reversed(self._children(child)))
            else:
                found.append(child)
        return found

    def _children(self, element: Element) -> list[Element]:
        assert self._owned is not None
        children = [
            child for child in element.children if isinstance(child, Element) and child not in self._owned
        ]
        for identifier in element.attrs.get("aria-owns", "").split():
            target = self.document.ids.get(identifier)
            if target is not None and self._owned.get(target) is element:
                children.append(target)
        return children


_NOTHING: Final[frozenset[Element]] = frozenset()


def _hidden_by_html(document: Document) -> frozenset[Element]:
    hiding = [
        *document.having("hidden"),
        *document.tagged("datalist", "dialog", "input", "noembed", "noframes", "rp"),
    ]
    return _with_everything_inside([e for e in hiding if _hides(e)]) if hiding else _NOTHING


def _hides(element: Element) -> bool:
    """Whether one of the elements that HTML may hide is hidden."""
    if "hidden" in element.attrs:
        return True
    if element.tag == "dialog":
        return "open" not in element.attrs
    return element.tag != "input" or input_type(element) == "hidden"


def _with_everything_inside(tops: list[Element]) -> frozenset[Element]:
    found: set[Element] = set()
    for top in tops:
        if top not in found:
            found.add(top)
            found.update(node for node in top.descendants() if isinstance(node, Element))
    return frozenset(found)


def _says_hidden(element: Element) -> bool:
    return element.attrs["aria-hidden"].strip(WHITESPACE).lower() == "true"


def _integer(written: str) -> int | None:
    written = written.strip(WHITESPACE)
    number = whole_number(written[1:] if written[:1] in ("-", "+") else written)
    return -number if number is not None and written[:1] == "-" else number


def is_summary_of_its_details(element: Element) -> bool:
    """Whether a `summary` is the one its `details` shows: the first among its children."""
    parent = element.parent
    if element.tag != "summary" or parent is None or parent.tag != "details":
        return False
    return (
        next((c for c in parent.children if isinstance(c, Element) and c.tag == "summary"), None) is element
    )
