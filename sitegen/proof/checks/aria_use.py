"""ARIA: roles that exist, attributes that may stand there with values they may have, parts and owners that belong together."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

from sitegen.proof.aria import (
    CHILDREN_PRESENTATIONAL,
    DEFINED,
    GLOBAL,
    INTEGERS,
    LIST_VALUES,
    NAME_PROHIBITED,
    NUMBERS,
    ONE_ID,
    ROLES,
    SAME_ROLE,
    SEVERAL_IDS,
    VALUES,
    Role,
)
from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text
from sitegen.proof.semantics import input_type

ROLE_KNOWN = Rule("role-known", "4.1.2", "A", ("674b10",))
ATTRIBUTE_KNOWN = Rule("aria-known", "4.1.2", "A", ("5f99a7",))
ATTRIBUTE_ALLOWED = Rule("aria-allowed", "4.1.2", "A", ("5c01ea",))
ATTRIBUTE_PROHIBITED = Rule("aria-prohibited", "4.1.2", "A", ("kb1m8s",))
VALUE = Rule("aria-value", "4.1.2", "A", ("6a7281",))
REQUIRED_ATTRIBUTE = Rule("aria-required", "4.1.2", "A", ("4e8ab6",))
REQUIRED_ID = Rule("aria-required-id", "4.1.2", "A", ("in6db8",))
REFERENCE = Rule("aria-reference", "4.1.2", "A")
OWNED = Rule("aria-owned", "1.3.1", "A", ("bc4a75",))
CONTEXT = Rule("aria-context", "1.3.1", "A", ("ff89c9",))
DECORATIVE = Rule("decorative-exposed", "", "", ("46ca7f",))
FOCUS_INSIDE = Rule("focus-inside-control", "4.1.2", "A", ("307n5z",))
HIDDEN_FOCUS = Rule("focus-hidden", "4.1.2", "A", ("6cfa84",))
NESTED = Rule("nested-interactive", "4.1.2", "A")


def _check(page: Page) -> Iterator[PageFinding]:
    document = page.document
    for name in document.aria_attributes:
        for element in document.having(name):
            yield from _attribute(page, element, name)
    for element in document.having("role"):
        yield from _role(page, element)
    yield from _lists_and_tables(page)
    yield from _decorative(page)
    yield from _hidden_focus(page)
    yield from _focus_inside(page)


# Attributes


def _attribute(page: Page, element: Element, name: str) -> Iterator[PageFinding]:
    if element.namespace == "math":
        return
    if name not in DEFINED:
        yield page.fails(ATTRIBUTE_KNOWN, element, f"ARIA has no attribute {name}.", "Correct or remove it.")
        return
    value = element.attrs[name].strip(WHITESPACE)
    if value:
        problem = _value_problem(name, value)
        if problem:
            yield page.fails(VALUE, element, f'{name} cannot be "{value}".', problem)
        elif name in SEVERAL_IDS or name in ONE_ID:
            yield from _references(page, element, name, value)
    if page.semantics.is_hidden(element):
        return
    role = page.semantics.role(element)
    if name not in GLOBAL and role != "none" and not _is_allowed(element, role, name):
        yield page.fails(
            ATTRIBUTE_ALLOWED,
            element,
            f"{name} has no meaning on {_called(element, role)}.",
            "Remove it, or write the role it belongs to.",
        )
    if _is_prohibited(role, name):
        yield page.fails(
            ATTRIBUTE_PROHIBITED,
            element,
            f"{name} must not stand on {_called(element, role)}: assistive technology may drop it.",
            "Put the words in the page, or use an element that may have a name.",
        )


def _called(element: Element, role: str) -> str:
    return f"{element.tag} with role {role}" if role else element.tag


def _is_allowed(element: Element, role: str, name: str) -> bool:
    known = ROLES.get(role)
    if known is not None:
        # WAI-ARIA 1.3 lets aria-colindextext and aria-rowindextext stand wherever the index may.
        return name.removesuffix("text") in known.supported or name in known.supported
    if element.tag == "input":
        # ARIA in HTML (https://www.w3.org/TR/html-aria/): fields without a role of their own take what a textbox takes.
        kind = input_type(element)
        if kind in {"password", "date", "datetime-local", "month", "time", "week"}:
            return name in ROLES["textbox"].supported
        return kind in {"color", "file"} and name == "aria-required"
    if element.tag == "summary":
        return name in ROLES["button"].supported
    if element.tag in {"audio", "video"}:
        return name in ROLES["application"].supported
    return False


def _is_prohibited(role: str, name: str) -> bool:
    if name in {"aria-label", "aria-labelledby", "aria-braillelabel"}:
        return role in NAME_PROHIBITED
    if name in {"aria-roledescription", "aria-brailleroledescription"}:
        return role in {"generic", "none"}
    return False


_INTEGER: Final = re.compile(r"[-+]?\d+", re.ASCII)
_NUMBER: Final = re.compile(r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?", re.ASCII)


@lru_cache(maxsize=1024)
def _value_problem(name: str, value: str) -> str:
    """What to write instead of a value that the attribute cannot have; "" where it can."""
    words = VALUES.get(name)
    if words is not None:
        return "" if value.lower() in words.split() else f"Write one of: {words.replace(' ', ', ')}."
    words = LIST_VALUES.get(name)
    if words is not None:
        allowed = words.split()
        return (
            ""
            if all(word in allowed for word in value.lower().split())
            else f"Use only: {', '.join(allowed)}."
        )
    if name in INTEGERS:
        return "" if _INTEGER.fullmatch(value) else "Write a whole number."
    if name in NUMBERS:
        return "" if _NUMBER.fullmatch(value) else "Write a number."
    if name in ONE_ID:
        return "" if len(value.split()) == 1 else "Write one id."
    return ""


def _references(page: Page, element: Element, name: str, value: str) -> Iterator[PageFinding]:
    ids = page.document.ids
    missing = [identifier for identifier in value.split() if identifier not in ids]
    if not missing:
        return
    role = page.semantics.role(element)
    required = name == "aria-controls" and role in {"combobox", "scrollbar"}
    if required:
        expanded = element.attrs.get("aria-expanded", "").strip(WHITESPACE).lower() == "true"
        if len(missing) < len(value.split()) or (role == "combobox" and not expanded):
            return
        if not page.semantics.is_hidden(element):
            yield page.fails(
                REQUIRED_ID,
                element,
                f'aria-controls names "{value}", which is not on this page.',
                "Use the id it controls.",
            )
    elif name in {"aria-labelledby", "aria-describedby"}:
        yield page.fails(
            REFERENCE,
            element,
            f'{name} names "{missing[0]}", which is not on this page.',
            "Use an id this page has.",
        )


# Roles


def _role(page: Page, element: Element) -> Iterator[PageFinding]:
    written = element.attrs["role"].strip(WHITESPACE)
    semantics = page.semantics
    if not written or semantics.is_hidden(element):
        return
    explicit = semantics.written_role(element)
    if not explicit:
        yield page.fails(ROLE_KNOWN, element, f'There is no role "{written}".', "Correct or remove it.")
        return
    role = semantics.role(element)
    if role != explicit:  # none, which had no effect
        return
    known = ROLES[role]
    yield from _required(page, element, role, known)
    if known.owned:
        yield from _owned(page, element, role, known)
    if known.context:
        yield from _context(page, element, role, known)


# What HTML itself says of a field: the role's attribute need not be written.
_SAID_BY_HTML: Final = {
    ("checkbox", "aria-checked"),
    ("radio", "aria-checked"),
    ("range", "aria-valuenow"),
    ("number", "aria-valuenow"),
}


def _required(page: Page, element: Element, role: str, known: Role) -> Iterator[PageFinding]:
    if role == page.semantics.implicit_role(element):
        return
    required = set(known.required)
    if role == "separator" and page.semantics.is_focusable(element):
        required.add("aria-valuenow")
    if role == "combobox" and element.attrs.get("aria-expanded", "").strip(WHITESPACE).lower() == "false":
        # "aria-controls only needs to be set when the popup is visible" (WAI-ARIA 1.2, combobox).
        required.discard("aria-controls")
    for name in sorted(required):
        if element.attrs.get(name, "").strip(WHITESPACE):
            continue
        if element.tag == "input" and (input_type(element), name) in _SAID_BY_HTML:
            continue
        if element.tag in {"meter", "progress"} and name == "aria-valuenow":
            continue
        yield page.fails(
            REQUIRED_ATTRIBUTE, element, f"The role {role} needs {name}.", f"Write {name} with its state."
        )


# Elements without any part in the accessibility tree, though they are displayed.
_NOT_EXPOSED: Final = frozenset({"br", "col", "colgroup", "wbr"})


def _is_busy(element: Element) -> bool:
    return element.attrs.get("aria-busy", "").strip(WHITESPACE).lower() == "true"


def _lists_and_tables(page: Page) -> Iterator[PageFinding]:
    """Lists without a written role; the HTML parser itself keeps a table's parts in order."""
    semantics = page.semantics
    known = ROLES["list"]
    for element in page.document.tagged("ul", "ol", "menu"):
        if "role" in element.attrs:
            continue
        for child in element.children:
            if isinstance(child, Element) and (child.tag != "li" or "role" in child.attrs):
                if not semantics.is_hidden(element):
                    yield from _owned(page, element, "list", known)
                break


def _owned(page: Page, element: Element, role: str, known: Role) -> Iterator[PageFinding]:
    if _is_busy(element):
        return
    for child in _owned_past_generics(page, element):
        stranger = _stranger(page, child, known.owned)
        if (
            stranger is not None
            and role in {"menu", "menubar"}
            and page.semantics.role(stranger) == "separator"
        ):
            yield page.unsure(
                OWNED,
                element,
                f"WAI-ARIA 1.2 has no separator in a {role}; later versions do.",
                "Try it with a listener.",
            )
        elif stranger is not None:
            expected = ", ".join(sorted(known.owned - {"group"}))
            yield page.fails(
                OWNED,
                element,
                f"A {role} may only hold {expected}, but the {stranger.tag} at line {stranger.line} is something else.",
                "Give it the right role, or take it out.",
            )
            return


def _owned_past_generics(page: Page, element: Element) -> list[Element]:
    """What an element owns, generic elements with something inside replaced by what they own: ARIA lets those intervene,
    unless they take focus or have an attribute that brings them into the accessibility tree."""
    found: list[Element] = []
    waiting = page.semantics.owned_elements(element)[::-1]
    while waiting:
        child = waiting.pop()
        if child.tag in _NOT_EXPOSED:
            continue
        if page.semantics.role(child) in {"generic", ""} and not page.semantics.keeps_its_role(child):
            inner = page.semantics.owned_elements(child)
            if inner:
                waiting.extend(reversed(inner))
                continue
        found.append(child)
    return found


def _stranger(page: Page, child: Element, allowed: frozenset[str]) -> Element | None:
    role = page.semantics.role(child)
    if role == "group" and "group" in allowed:
        for inner in _owned_past_generics(page, child):
            found = _stranger(page, inner, allowed)
            if found is not None:
                return found
        return None
    if SAME_ROLE.get(role, role) in allowed:
        return None
    return child


def _context(page: Page, element: Element, role: str, known: Role) -> Iterator[PageFinding]:
    if role == page.semantics.implicit_role(element):
        return
    parent = page.semantics.owner(element)
    seen = 0
    while parent is not None and seen < 1000:
        above = page.semantics.role(parent)
        if above in known.context:
            if above != "group":
                return
            # A group counts where it stands in what may hold the element itself.
            context = ROLES[role].context - {"group"}
            outer = page.semantics.owner(parent)
            while outer is not None and page.semantics.role(outer) in {"generic", "group", role}:
                outer = page.semantics.owner(outer)
            if outer is not None and page.semantics.role(outer) in context:
                return
            break
        # One with a global attribute is itself in the accessibility tree, and so stands between.
        if above != "generic" or parent.tag in {"body", "html"} or page.semantics.keeps_its_role(parent):
            break
        parent = page.semantics.owner(parent)
        seen += 1
    expected = ", ".join(sorted(known.context - {"directory"}))
    yield page.fails(
        CONTEXT,
        element,
        f"A {role} must stand in one of: {expected}.",
        "Put it in one, or use an element without this role.",
    )


# Decoration and focus


def _decorative(page: Page) -> Iterator[PageFinding]:
    semantics = page.semantics
    pictures = (e for e in page.document.tagged("img") if e.attrs.get("alt") == "" and "role" not in e.attrs)
    for element in [
        *pictures,
        *(e for e in page.document.having("role") if semantics.written_role(e) == "none"),
    ]:
        if semantics.role(element) != "none" and not semantics.is_hidden(element):
            yield page.fails(
                DECORATIVE,
                element,
                f"This {element.tag} is marked as decoration, but takes focus or has an ARIA attribute that brings it back.",
                "Take away the mark, or what brings it back.",
            )


def _hidden_focus(page: Page) -> Iterator[PageFinding]:
    semantics = page.semantics
    for element in page.document.having("aria-hidden"):
        if element.attrs["aria-hidden"].strip(WHITESPACE).lower() != "true":
            continue
        for node in (element, *element.descendants()):
            if isinstance(node, Element) and semantics.takes_tab_focus(node):
                passes_on = _passes_focus_on(page, node)
                if passes_on is None:
                    yield page.unsure(
                        HIDDEN_FOCUS,
                        node,
                        f"This {node.tag} is hidden from listeners; a script may pass focus on from it.",
                        "Try it.",
                    )
                if passes_on is not False:
                    continue
                yield page.fails(
                    HIDDEN_FOCUS,
                    node,
                    f"The keyboard reaches this {node.tag}, but aria-hidden keeps listeners from it.",
                    "Take away aria-hidden, or hide it from everybody.",
                )
                break


_LISTENS: Final = re.compile(
    r"(?:getElementById\(\s*(['\"])(?P<id>[^'\"]+)\1\s*\)|querySelector\(\s*(['\"])#(?P<selected>[\w-]+)\3\s*\))"
    r"\s*\.\s*addEventListener\(\s*['\"]focus(?:in)?['\"]\s*,(?P<handler>[^}]*)"
)
_MOVES_FOCUS: Final = re.compile(r"\)\s*\.\s*focus\(\s*\)")


def _passes_focus_on(page: Page, element: Element) -> bool | None:
    """Whether an element only hands focus on to another one as soon as it gets it; None where a script may do so."""
    if _MOVES_FOCUS.search(element.attrs.get("onfocus", "")):
        return True
    may = "focus" in element.attrs.get("onfocus", "")
    for script in page.document.tagged("script"):
        text = script.text()
        for found in _LISTENS.finditer(text):
            named = found["id"] or found["selected"]
            if named == element.attrs.get("id") and _MOVES_FOCUS.search(found["handler"]):
                return True
        may = may or bool(re.search(r"['\"]focus(?:in)?['\"]|\bonfocus\b", text) and ".focus(" in text)
    return None if may else False


def _focus_inside(page: Page) -> Iterator[PageFinding]:
    document, semantics = page.document, page.semantics
    for element in [*document.tagged("button", "option"), *document.having("role")]:
        if semantics.role(element) not in CHILDREN_PRESENTATIONAL or semantics.is_hidden(element):
            continue
        for node in element.descendants():
            if isinstance(node, Element) and semantics.takes_tab_focus(node):
                yield page.fails(
                    FOCUS_INSIDE,
                    element,
                    f"Inside this {semantics.role(element)} stands a {node.tag} that takes focus; listeners don't find it.",
                    "Put them side by side.",
                )
                break
    for link in document.chosen(_links_with_elements):
        for node in link.descendants():
            if isinstance(node, Element) and semantics.takes_tab_focus(node):
                yield page.fails(
                    NESTED, node, f"This {node.tag} stands inside a link.", "Put them side by side."
                )
                break


def _links_with_elements(elements: Sequence[Element]) -> list[Element]:
    return [
        link
        for link in elements
        if link.tag == "a"
        and "href" in link.attrs
        and not (len(link.children) == 1 and isinstance(link.children[0], Text))
    ]


FAMILY = Family(
    (
        ROLE_KNOWN,
        ATTRIBUTE_KNOWN,
        ATTRIBUTE_ALLOWED,
        ATTRIBUTE_PROHIBITED,
        VALUE,
        REQUIRED_ATTRIBUTE,
        REQUIRED_ID,
        REFERENCE,
        OWNED,
        CONTEXT,
        DECORATIVE,
        FOCUS_INSIDE,
        HIDDEN_FOCUS,
        NESTED,
    ),
    _check,
)
