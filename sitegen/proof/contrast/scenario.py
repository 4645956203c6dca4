"""The circumstances a page is judged in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

ALL_STATES: Final = ("visited", "hover", "focus", "active")
"""States every page is judged in unless a scenario says otherwise; other states a stylesheet names are added to them."""

NARROW_PX: Final = 320
"""WCAG 2.2, 1.4.10: content works at a width of 320 CSS px. https://www.w3.org/TR/WCAG22/#reflow"""
WIDE_PX: Final = 1280


@dataclass(frozen=True, slots=True)
class Scenario:
    """One way a viewer may meet a page."""

    scheme: Literal["light", "dark"] = "light"
    width: int = WIDE_PX
    """Of the viewport, in CSS px."""
    media: Literal["screen", "print"] = "screen"
    contrast: Literal["no-preference", "more", "less"] = "no-preference"
    forced_colors: bool = False
    states: tuple[str, ...] = ()
    """What an element can be besides at rest: any of `ALL_STATES`."""

    @property
    def height(self) -> int:
        """A height that goes with the width: a phone held upright, or a screen of 16 by 9."""
        return self.width * 16 // 9 if self.width < 600 else self.width * 9 // 16

    @property
    def name(self) -> str:
        """What a report calls it, such as "dark, 320 px"."""
        words = ["print" if self.media == "print" else self.scheme, f"{self.width} px"]
        if self.contrast != "no-preference":
            words.append(f"{self.contrast} contrast")
        if self.forced_colors:
            words.append("forced colours")
        return ", ".join(words)


DEFAULT: Final = (Scenario(),)
"""Light, wide, on a screen, everything at rest."""


def all_scenarios(states: Iterable[str] = ALL_STATES) -> tuple[Scenario, ...]:
    """Every scenario a page of ours has to pass."""
    kept = tuple(states)
    return (
        *(
            Scenario(scheme, width, states=kept)
            for scheme in ("light", "dark")
            for width in (WIDE_PX, NARROW_PX)
        ),
        Scenario(contrast="more", states=kept),
        Scenario(scheme="dark", contrast="more", states=kept),
        Scenario(forced_colors=True, states=kept),
        Scenario(media="print"),
    )  # fmt: skip


HELD_UPRIGHT: Final = Scenario(width=599)
HELD_ACROSS: Final = Scenario(width=600)
"""Two windows that hardly differ in width, so that what differs on a page is due to their orientation."""
