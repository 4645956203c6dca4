"""The share pictures' text contrast: every colour of letters against the ground that they are drawn on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from sitegen.proof.checks.base import PageFinding, Rule
from sitegen.proof.contrast.formulas import (
    ENHANCED_TEXT,
    MINIMUM_TEXT,
    ratio_of_luminances,
    relative_luminance_of_bytes,
    shown,
)

MINIMUM = Rule("share-picture-contrast", "1.4.3", "AA")
ENHANCED = Rule("share-picture-contrast", "1.4.6", "AAA")
# The letters are large, but the picture is shown at half its size or less, so the ratios of small text count.
MINIMUM_RATIO = MINIMUM_TEXT
ENHANCED_RATIO = ENHANCED_TEXT

Inks: TypeAlias = tuple[tuple[str, str, str], ...]
"""(words, their colour, the ground they stand on), colours as `#rrggbb`."""


def check_cards(cards: Iterable[tuple[str, Inks]]) -> list[PageFinding]:
    """A finding for each pair of colours that is too much alike, told of the first picture that has it.

    `cards` are (address, texts) of pictures.
    """
    findings: list[PageFinding] = []
    judged: set[tuple[str, str]] = set()
    for address, words, ink, ground in ((address, *text) for address, inks in cards for text in inks):
        if (ink, ground) in judged:
            continue
        judged.add((ink, ground))
        ratio = contrast(ink, ground)
        if ratio >= ENHANCED_RATIO:
            continue
        rule, needed = (ENHANCED, ENHANCED_RATIO) if ratio >= MINIMUM_RATIO else (MINIMUM, MINIMUM_RATIO)
        message = f"On the share pictures “{words}” stands in {ink} on {ground}, {shown(ratio)}; {needed:g}:1 is needed."
        findings.append(
            PageFinding(
                address, 1, rule.check, rule.act, rule.criterion, rule.level, "fails", message,
                "Change these colours in the theme's stylesheet, under :root.",
            )
        )  # fmt: skip
    return findings


def contrast(one: str, other: str) -> float:
    """The contrast ratio, 1 to 21, of two colours written `#rrggbb`."""
    first, second = (relative_luminance_of_bytes(*bytes.fromhex(colour[1:])) for colour in (one, other))
    return ratio_of_luminances(first, second)
