"""Names of what has a role of its own besides links, buttons, fields and pictures, and fields nobody sees a label of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE
from sitegen.proof.semantics import input_type

# WAI-ARIA 1.2 requires a name of these (https://www.w3.org/TR/wai-aria-1.2/#namecalculation).
WIDGET = Rule("widget-name", "4.1.2", "A")
GAUGE = Rule("gauge-name", "1.1.1", "A")
SEEN_LABEL = Rule("field-label-seen", "3.3.2", "A")

_WIDGETS: Final = (
    ("tab", ()),
    ("treeitem", ()),
    ("tooltip", ()),
    ("dialog", ("dialog",)),
    ("alertdialog", ()),
)
_GAUGES: Final = (("progressbar", ("progress",)), ("meter", ("meter",)))
_BY_THEMSELVES: Final = tuple(tag for _, tags in (*_WIDGETS, *_GAUGES) for tag in tags)
"""Elements that have one of these roles without a word."""
_UNLABELLED: Final = frozenset({"button", "hidden", "image", "reset", "submit"})


def _check(page: Page) -> Iterator[PageFinding]:
    # Most pages have none of these, and need no look at each kind.
    if page.document.having("role") or page.document.tagged(*_BY_THEMSELVES):
        yield from _unnamed(page)
    for field in page.document.having("title"):
        if (
            field.tag not in ("input", "select", "textarea")
            or (field.tag == "input" and input_type(field) in _UNLABELLED)
            or not field.attrs["title"].strip(WHITESPACE)
            or "aria-label" in field.attrs
            or "aria-labelledby" in field.attrs
            or page.semantics.is_hidden(field)
            or page.names.labels(field)
        ):
            continue
        yield page.unsure(
            SEEN_LABEL,
            field,
            "Only its title names this field, which fingers and keyboards never bring up.",
            "Write a label beside it.",
        )


def _unnamed(page: Page) -> Iterator[PageFinding]:
    for rule, roles in ((WIDGET, _WIDGETS), (GAUGE, _GAUGES)):
        for role, tags in roles:
            for element in page.with_role(role, *tags):
                if not page.names.name(element):
                    yield page.fails(
                        rule,
                        element,
                        f"This {role} has no name.",
                        "Say in aria-label or aria-labelledby what it is about.",
                    )


FAMILY = Family((WIDGET, GAUGE, SEEN_LABEL), _check)
