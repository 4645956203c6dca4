"""Which texts need no contrast: parts and labels of disabled controls, and what is no language.

These are the exceptions of success criterion 1.4.3 (https://www.w3.org/TR/WCAG22/#contrast-minimum) as the ACT rules
"Text has minimum contrast" and "Text has enhanced contrast" read them. They depend on the whole page and are asked only of
texts that would fail.
"""

from __future__ import annotations

import unicodedata
from typing import Final

from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.selectors import is_disabled
from sitegen.proof.document import Document, Element, Text
from sitegen.proof.names import LABELLED

# https://www.w3.org/TR/wai-aria-1.2/#widget_roles, with the roles of composite widgets and their parts.
_WIDGETS: Final = names_in(
    "button checkbox combobox grid gridcell link listbox menu menubar menuitem menuitemcheckbox"
    " menuitemradio option progressbar radio radiogroup scrollbar searchbox separator slider spinbutton"
    " switch tab tablist tabpanel textbox tree treegrid treeitem columnheader rowheader row application"
)
_GROUPS: Final = frozenset(
    {"group", "radiogroup", "toolbar", "menubar", "menu", "listbox", "tablist", "tree", "grid"}
)
_NATIVE_WIDGETS: Final = frozenset({"button", "input", "select", "textarea", "option", "optgroup", "summary"})
_NATIVE_GROUPS: Final = frozenset({"fieldset", "details", "optgroup", "address"}) - {"address"}


class Exemptions:
    """The exempt texts of one document."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._named_by: dict[str, list[Element]] | None = None

    def is_disabled(self, element: Element) -> bool:
        """Whether text directly inside an element belongs to, or names, a disabled control or group."""
        if self.is_part_of_disabled(element):
            return True
        for each in (element, *element.ancestors()):
            if each.tag == "label":
                control = self._control_of(each)
                if control is not None and self.is_part_of_disabled(control):
                    return True
            identifier = each.attrs.get("id")
            if identifier and any(
                self.is_part_of_disabled(control) for control in self._controls_named_by(identifier)
            ):
                return True
        return False

    def is_part_of_disabled(self, element: Element) -> bool:
        """Whether an element is, or lies inside, a disabled control or group."""
        if is_disabled(element):
            return True
        inside: Element | None = None
        for each in (element, *element.ancestors()):
            if each.tag in ("button", "select", "textarea", "option", "optgroup") and is_disabled(each):
                return True
            if each.tag == "fieldset" and is_disabled(each) and not _is_first_legend(inside, each):
                return True
            if each.attrs.get("aria-disabled", "").strip().lower() == "true" and _can_be_disabled(each):
                return True
            inside = each
        return False

    def _control_of(self, label: Element) -> Element | None:
        """https://html.spec.whatwg.org/multipage/forms.html#labeled-control"""
        named = label.attrs.get("for")
        if named is not None:
            control = self._document.ids.get(named)
            return control if control is not None and control.tag in LABELLED else None
        for node in label.descendants():
            if (
                isinstance(node, Element)
                and node.tag in LABELLED
                and node.attrs.get("type", "").lower() != "hidden"
            ):
                return node
        return None

    def _controls_named_by(self, identifier: str) -> list[Element]:
        if self._named_by is None:
            self._named_by = {}
            for element in self._document.having("aria-labelledby"):
                for name in element.attrs["aria-labelledby"].split():
                    self._named_by.setdefault(name, []).append(element)
        return self._named_by.get(identifier, [])


def _can_be_disabled(element: Element) -> bool:
    roles = [role.lower() for role in element.attrs.get("role", "").split()]
    if any(role in _WIDGETS or role in _GROUPS for role in roles):
        return True
    return not roles and (
        element.tag in _NATIVE_WIDGETS
        or element.tag in _NATIVE_GROUPS
        or (element.tag == "a" and "href" in element.attrs)
    )


def _is_first_legend(element: Element | None, fieldset: Element) -> bool:
    first = next(
        (child for child in fieldset.children if isinstance(child, Element) and child.tag == "legend"), None
    )
    return element is not None and element is first


_PHRASING: Final = names_in(
    "a abbr b bdi bdo big cite code data del dfn em font i ins kbd label mark nobr q s samp small span"
    " strike strong sub sup time tt u var"
)


_PUNCTUATION: Final = frozenset(",.;:!?()“”‘’\"'")


def own_text(element: Element) -> str:
    """The text directly inside an element, without white space around it."""
    return " ".join("".join(child.data for child in element.children if isinstance(child, Text)).split())


def is_language(text: str) -> bool:
    """Whether some text expresses anything: more than signs, and more than a single letter of an alphabet."""
    words = [character for character in text if unicodedata.category(character)[0] in "LN"]
    if not words:
        return False
    # One letter alone, such as an X on a button that closes something, is a sign. A lone ideograph is a word.
    return len(words) > 1 or unicodedata.category(words[0]) not in ("Lu", "Ll", "Lt", "Lm")


def belongs_to_language(element: Element) -> bool:
    """Whether the text directly inside an element, taken with what it is part of, expresses anything in a language."""
    if is_language(own_text(element)):
        return True
    # A letter set apart for its looks, as at the start of a chapter, belongs to the word around it.
    around = element
    while around.tag in _PHRASING and around.parent is not None:
        around = around.parent
    # So do the commas between links; what merely divides them, as a bar does, is no part of a sentence.
    belongs = any(character.isalnum() or character in _PUNCTUATION for character in own_text(element))
    return belongs and is_language(around.text())
