"""ARIA that says otherwise than HTML does, that is no longer to be used, or that speaks to Braille displays alone.

ARIA in HTML (https://www.w3.org/TR/html-aria/) and WAI-ARIA 1.2 (https://www.w3.org/TR/wai-aria-1.2/).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE
from sitegen.proof.semantics import input_type

DEPRECATED = Rule("role-deprecated", "4.1.2", "A")
CONTRADICTS = Rule("aria-contradicts", "4.1.2", "A")
BRAILLE = Rule("aria-braille", "4.1.2", "A")

_DEPRECATED: Final = {"directory": "list"}
"""WAI-ARIA 1.2: role to what to write instead."""
_OF_TREE_ROWS: Final = ("aria-expanded", "aria-level", "aria-posinset", "aria-setsize")
"""Supported on a row only inside a treegrid (WAI-ARIA 1.2, row)."""


def _check(page: Page) -> Iterator[PageFinding]:
    document, semantics = page.document, page.semantics
    for element in document.having("role"):
        written = element.attrs["role"].strip(WHITESPACE).lower().split()
        if written and written[0] in _DEPRECATED and not semantics.is_hidden(element):
            yield page.fails(
                DEPRECATED,
                element,
                f"ARIA no longer has the role {written[0]}.",
                f"Write {_DEPRECATED[written[0]]}, or the element that has that role by itself.",
            )
    for field in document.having("aria-checked"):
        # ARIA in HTML, input type=checkbox and type=radio: what HTML knows must not be said again by ARIA.
        if (
            field.tag == "input"
            and input_type(field) in ("checkbox", "radio")
            and not semantics.is_hidden(field)
        ):
            yield page.fails(
                CONTRADICTS,
                field,
                "The field itself says whether it is checked; aria-checked stays as it is when the reader changes it.",
                "Remove aria-checked and use the checked attribute.",
            )
    for name in _OF_TREE_ROWS:
        for row in document.having(name):
            if semantics.role(row) != "row" or semantics.is_hidden(row):
                continue
            if not any(semantics.role(above) == "treegrid" for above in row.ancestors()):
                yield page.fails(
                    CONTRADICTS,
                    row,
                    f"{name} has a meaning on the rows of a treegrid alone.",
                    "Remove it, or make the table a treegrid.",
                )
    # WAI-ARIA 1.3, aria-braillelabel and aria-brailleroledescription: only beside what they stand for.
    for element in document.having("aria-braillelabel"):
        if not semantics.is_hidden(element) and not page.names.name(element):
            yield page.fails(
                BRAILLE, element, "This has a name for Braille displays alone.", "Give it a name for all."
            )
    for element in document.having("aria-brailleroledescription"):
        described = element.attrs.get("aria-roledescription", "").strip(WHITESPACE)
        if not semantics.is_hidden(element) and not described:
            yield page.fails(
                BRAILLE,
                element,
                "Its role is described for Braille displays alone.",
                "Write aria-roledescription as well, or neither.",
            )


FAMILY = Family((DEPRECATED, CONTRADICTS, BRAILLE), _check)
