"""The share pictures' text contrast: every colour of letters against the ground that they are drawn on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from sitegen.proof.checks.base import PageFinding, Rule

MINIMUM = Rule("share-picture-contrast", "1.4.3", "AA")
ENHANCED = Rule("share-picture-contrast", "1.4.6", "AAA")
# WCAG 2.2, success criteria 1.4.3 and 1.4.6: https://www.w3.org/TR/WCAG22/#contrast-minimum, #contrast-enhanced.
# The letters are large, but the picture is shown at half its size or less, so the ratios of small text count.
MINIMUM_RATIO = 4.5
ENHANCED_RATIO = 7.0


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
        # Cut downwards, so that 4.499 is not told as 4.50.
        shown = f"{int(ratio * 100) / 100:.2f}"
        message = (
            f"On the share pictures “{words}” stands in {ink} on {ground}, {shown}:1; {needed:g}:1 is needed."
        )
        findings.append(
            PageFinding(
                address, 1, rule.check, rule.act, rule.criterion, rule.level, "fails", message,
                "Change these colours in the theme's stylesheet, under :root.",
            )
        )  # fmt: skip
    return findings


def contrast(one: str, other: str) -> float:
    """The contrast ratio, 1 to 21: https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio"""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    """https://www.w3.org/TR/WCAG22/#dfn-relative-luminance"""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
