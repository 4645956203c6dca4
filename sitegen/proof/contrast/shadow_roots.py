"""Finds shadow trees: those written in the page, and those a script of plain statements attaches.

A script is read only where every statement in it is one of a few: fetching an element, attaching a shadow root to it,
and setting its content to a literal. Of any other script that attaches one, nothing is claimed.
https://html.spec.whatwg.org/multipage/scripting.html#attr-template-shadowrootmode, https://dom.spec.whatwg.org/#shadow-trees
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from sitegen.proof.contrast.selectors import InvalidSelectorError, Situation, compile_selectors
from sitegen.proof.contrast.stylesheets import tokenizable
from sitegen.proof.document import Document, Element


class ShadowRoot(NamedTuple):
    """A shadow tree as markup."""

    host: Element
    markup: str


_STRING: Final = r"(?:'(?:[^'\\\n]|\\.)*'|\"(?:[^\"\\\n]|\\.)*\"|`(?:[^`\\$]|\\.)*`)"
_FETCH: Final = rf"document\s*\.\s*(getElementById|querySelector)\(\s*({_STRING})\s*\)"
_HOLDER: Final = rf"(?:{_FETCH}|([A-Za-z_$][\w$]*))"
_DECLARE: Final = r"(?:(?:const|let|var)\s+)?([A-Za-z_$][\w$]*)\s*=\s*"
_ATTACH: Final = r"\s*\.\s*attachShadow\(\s*\{[^{}]*\}\s*\)"
_STATEMENTS: Final = (
    ("attach", re.compile(rf"(?:{_DECLARE})?{_HOLDER}{_ATTACH}")),
    ("fetch", re.compile(rf"{_DECLARE}{_FETCH}")),
    ("fill", re.compile(rf"{_HOLDER}(?:\s*\.\s*shadowRoot)?\s*\.\s*innerHTML\s*=\s*({_STRING})")),
)
_GAP: Final = re.compile(r"(?:\s|;|//[^\n]*|/\*.*?\*/)+", re.DOTALL)
_ESCAPE: Final = re.compile(r"\\(.)", re.DOTALL)
_ESCAPED: Final = {"n": "\n", "t": "\t", "r": "\r", "\n": ""}


def shadow_roots(document: Document) -> tuple[list[ShadowRoot], list[Element]]:
    """The shadow trees of a page, and the scripts that may make more which cannot be read."""
    found = [
        ShadowRoot(template.parent, template.text())
        for template in document.having("shadowrootmode")
        if template.tag == "template" and template.parent is not None
    ]
    unread = []
    for script in document.tagged("script"):
        text = script.text()
        if "attachShadow" in text:
            read = _read(text, document)
            if read is None:
                unread.append(script)
            else:
                found += read
    return found, unread


def _read(text: str, document: Document) -> list[ShadowRoot] | None:
    hosts: dict[str, Element | None] = {}
    filled: dict[Element, str] = {}
    attached: set[Element] = set()
    place = 0
    while True:
        gap = _GAP.match(text, place)
        place = gap.end() if gap else place
        if place == len(text):
            return [ShadowRoot(host, markup) for host, markup in filled.items() if host in attached]
        for kind, pattern in _STATEMENTS:
            match = pattern.match(text, place)
            if match is None:
                continue
            groups = list(match.groups())
            declared = groups.pop(0) if kind != "fill" else None
            how, named = groups[0], groups[1]
            variable = groups[2] if kind != "fetch" else None
            if how is not None:
                element = _fetched(how, _literal(named), document)
            elif variable in hosts:
                element = hosts[variable]
            else:
                return None
            if declared is not None:
                hosts[declared] = element
            if element is not None and kind == "attach":
                attached.add(element)
            if element is not None and kind == "fill":
                filled[element] = _literal(groups[3])
            place = match.end()
            break
        else:
            return None


def _literal(written: str) -> str:
    return _ESCAPE.sub(lambda found: _ESCAPED.get(found[1], found[1]), written[1:-1])


def _fetched(how: str, named: str, document: Document) -> Element | None:
    if how == "getElementById":
        return document.ids.get(named)
    return next(_matching(named, document), None)


def _matching(selector: str, document: Document) -> Iterator[Element]:
    import tinycss2

    try:
        compiled = compile_selectors(tinycss2.parse_component_value_list(tokenizable(selector)))
    except InvalidSelectorError:
        return
    rest = Situation()
    for element in document.elements:
        if any(each.match(element, rest) for each in compiled):
            yield element
