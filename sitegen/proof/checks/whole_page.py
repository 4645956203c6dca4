"""What a page does to its reader as a whole: zooming, refreshing by itself."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, whole_number

ZOOM = Rule("viewport-zoom", "1.4.4", "AA", ("b4f0c3",))
REFRESH = Rule("refresh-delay", "2.2.1", "A", ("bc659a",))
ANY_REFRESH = Rule("refresh-any", "2.2.4", "AAA", ("bisz58",))

_TWENTY_HOURS = 72_000
"""WCAG 2.2, criterion 2.2.1: longer than 20 hours is no limit."""


def _check(page: Page) -> Iterator[PageFinding]:
    refreshed = False
    for meta in page.document.tagged("meta"):
        content = meta.attrs.get("content")
        if content is None:
            continue
        if meta.attrs.get("name", "").strip(WHITESPACE).lower() == "viewport":
            yield from _viewport(page, meta, content)
        if not refreshed and meta.attrs.get("http-equiv", "").strip(WHITESPACE).lower() == "refresh":
            seconds = refresh_delay(content)
            if seconds is None:
                continue
            refreshed = True  # a page does what the first valid one says
            if 0 < seconds <= _TWENTY_HOURS:
                yield page.fails(
                    REFRESH,
                    meta,
                    f"The page leaves or reloads by itself after {seconds} seconds.",
                    "Let the reader decide, or lead on at once with 0 seconds.",
                )
            if seconds > 0:
                yield page.fails(
                    ANY_REFRESH, meta, "The page leaves or reloads by itself.", "Let the reader decide."
                )


_DELAY = re.compile(r"[ \t\n\f\r]*(?:(\d+)|(?=\.))[\d.]*(?:[;,]|[ \t\n\f\r]|\Z)", re.ASCII)


def refresh_delay(content: str) -> int | None:
    """The seconds a refresh waits; None where a browser ignores it
    (https://html.spec.whatwg.org/multipage/semantics.html#shared-declarative-refresh-steps)."""
    found = _DELAY.match(content)
    return None if found is None else whole_number(found[1] or "0")


_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?", re.ASCII)


def _viewport(page: Page, meta: Element, content: str) -> Iterator[PageFinding]:
    settings = viewport_settings(content)
    scalable = settings.get("user-scalable")
    if scalable is not None and not _allows_scaling(scalable):
        yield page.fails(
            ZOOM, meta, f"user-scalable={scalable} keeps the reader from zooming.", "Remove user-scalable."
        )
        return
    largest = settings.get("maximum-scale")
    if largest is not None and _scale(largest) < 2 and not _is_negative(largest):
        yield page.fails(
            ZOOM,
            meta,
            f"maximum-scale={largest} keeps the reader from zooming to 200 %.",
            "Remove maximum-scale.",
        )


@lru_cache(maxsize=64)
def viewport_settings(content: str) -> Mapping[str, str]:
    """The settings of a viewport meta element, the last one where a name stands twice; names and values in lower case
    (https://www.w3.org/TR/css-viewport-1/#parsing-algorithm)."""
    settings: dict[str, str] = {}
    for part in re.split(r"[,; \t\n\f\r]+", re.sub(r"[ \t\n\f\r]*=[ \t\n\f\r]*", "=", content.lower())):
        name, _, value = part.partition("=")
        if name and value:
            settings[name] = value
    return settings


def _is_negative(value: str) -> bool:
    found = _NUMBER.match(value)
    return found is not None and float(found[0]) < 0


def _scale(value: str) -> float:
    # https://www.w3.org/TR/css-viewport-1/#min-scale-max-scale
    if value in {"device-width", "device-height"}:
        return 10.0
    if value == "yes":
        return 1.0
    found = _NUMBER.match(value)
    return float(found[0]) if found is not None else 0.1


def _allows_scaling(value: str) -> bool:
    # https://www.w3.org/TR/css-viewport-1/#user-scalable
    if value in {"yes", "device-width", "device-height"}:
        return True
    found = _NUMBER.match(value)
    return found is not None and abs(float(found[0])) >= 1


FAMILY = Family((ZOOM, REFRESH, ANY_REFRESH), _check)
