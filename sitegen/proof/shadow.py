"""Checks what stands in shadow trees: each is read as a page of its own, inside the elements around its host.

Ids do not cross the edge of a shadow tree, so a reference from one side to the other leads nowhere
(https://dom.spec.whatwg.org/#shadow-trees). A tree that takes in content of its host through a slot is left alone: what an
element there holds is not written in one place.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from html import escape
from typing import Final

from sitegen.proof.checks import aria_use, forms, markup, naming, tables
from sitegen.proof.checks.base import Page, PageFinding
from sitegen.proof.document import Document, Element, parse

_FAMILIES: Final = (markup.FAMILY, naming.FAMILY, forms.FAMILY, tables.FAMILY, aria_use.FAMILY)
_STAYS_OUTSIDE: Final = frozenset({"id", "aria-owns", "aria-labelledby", "aria-describedby", "aria-controls"})


def shadow_findings(address: str, document: Document) -> Iterator[PageFinding]:
    """What fails inside a page's shadow trees, at the lines of their hosts."""
    from sitegen.proof.contrast.shadow_roots import shadow_roots

    roots, _ = shadow_roots(document)
    for root in roots:
        if "<slot" in root.markup.lower():
            continue
        around = [above for above in root.host.ancestors() if above.tag not in {"html", "body"}]
        opening = "".join(_start_tag(each) for each in (*reversed(around), root.host))
        # Everything around stands on the first line, the shadow tree below it.
        inner = parse(
            f"<!doctype html><html lang=en><head><title>-</title></head><body>{opening}\n{root.markup}"
        )
        page = Page(address, inner)
        for family in _FAMILIES:
            for finding in family.check(page):
                if finding.line > 1:
                    yield replace(finding, line=root.host.line)


def _start_tag(element: Element) -> str:
    attributes = "".join(
        f' {name}="{escape(value)}"' for name, value in element.attrs.items() if name not in _STAYS_OUTSIDE
    )
    return f"<{element.tag}{attributes}>"
