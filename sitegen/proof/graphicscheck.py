"""The on-air graphics' contrast: every colour of letters, and of a QR code, against the ground that it is drawn on."""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.proof.cardcheck import Inks, contrast
from sitegen.proof.checks.base import PageFinding, Rule
from sitegen.proof.contrast.formulas import ENHANCED_TEXT, shown

GRAPHIC_CONTRAST = Rule("graphic-contrast", "1.4.6", "AAA")


def check_graphics(graphics: Iterable[tuple[str, Inks]]) -> list[PageFinding]:
    """A finding for each pair of colours below 7:1, told of the first picture that has it: a screen across a room, seen for
    seconds, has no second chance. `graphics` are (file name, texts) of pictures."""
    findings: list[PageFinding] = []
    judged: set[tuple[str, str]] = set()
    for name, words, ink, ground in ((name, *text) for name, inks in graphics for text in inks):
        if (ink, ground) in judged:
            continue
        judged.add((ink, ground))
        ratio = contrast(ink, ground)
        if ratio < ENHANCED_TEXT:
            message = f"On the graphics “{words}” stands in {ink} on {ground}, {shown(ratio)}; {ENHANCED_TEXT:g}:1 is needed."
            findings.append(
                PageFinding(
                    name, 1, GRAPHIC_CONTRAST.check, (), GRAPHIC_CONTRAST.criterion, GRAPHIC_CONTRAST.level, "fails", message,
                    "Change these colours in the theme's stylesheet, under :root.",
                )
            )  # fmt: skip
    return findings
