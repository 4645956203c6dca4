"""Reads the contrast of text: its colour in every way its letters and their background can be."""

from __future__ import annotations

from typing import Any, Final, NamedTuple

from sitegen.proof.contrast.backdrop import Backdrop, Narrowed, PictureFinder, World, backdrop_of
from sitegen.proof.contrast.bearers import bearer_of
from sitegen.proof.contrast.formulas import Colour, clipped, contrast_ratio, is_large
from sitegen.proof.contrast.shadows import beside_letters, read_shadows
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.values import Unknown
from sitegen.proof.contrast.visible import Sight, sight_of


class Pair(NamedTuple):
    """Letters and what is right beside them, both as seen, and their ratio."""

    ink: Colour
    paper: Colour
    ratio: float


class Reading(NamedTuple):
    """What can be said of one text's contrast."""

    best: Pair | None
    """The highest contrast there is; None where nothing is seen or nothing known."""
    worst: Pair | None
    is_large: bool
    is_seen: bool
    is_same: bool
    """Whether the text has the colour of its background everywhere."""
    unknown: str
    """The property that keeps the contrast from being known, or ""."""
    varies: str
    """The property that makes it more than one contrast, or ""."""
    hidden_by: str = ""
    """The property that may hide the text altogether, or ""."""
    over: str = ""
    """The property that may put the text over something else than what is around it, or ""."""


def reading_of(style: Style, find: PictureFinder, animated: dict[str, frozenset[str]]) -> Reading:
    """The contrast of text directly inside an element."""
    found: Reading | None = style.kept("reading")
    if found is None:
        bearer = bearer_of(style)
        found = style.keep(
            "reading",
            _reading(style, find, animated) if bearer is style else reading_of(bearer, find, animated),
        )
    return found


_CERTAINLY_DIFFERENT: Final = 1.1
_UNSEEN = Reading(None, None, False, False, False, "", "")


def narrowed_reading(
    style: Style, find: PictureFinder, animated: dict[str, frozenset[str]], narrowed: Narrowed
) -> Reading:
    """The contrast of one text of which it is known over which part of a layer it stands."""
    return _reading(style, find, animated, narrowed)


def _reading(
    style: Style, find: PictureFinder, animated: dict[str, frozenset[str]], narrowed: Narrowed | None = None
) -> Reading:
    sight, hiding = sight_of(style)
    if sight is Sight.HIDDEN:
        return _UNSEEN
    large = is_large(style.font_size, style.font_weight)
    if isinstance(style.value("font-size"), Unknown):
        large = False
    name = "-webkit-text-fill-color"
    ink = style.colour(name)
    if isinstance(ink, Unknown):
        return Reading(None, None, large, True, False, f"{_fill_name(style)} ({ink.reason})", "")
    backdrop = backdrop_of(style, find, narrowed)
    shadows = _shadows(style)
    unknown = backdrop.unknown or _unknown_of_text(style, animated)
    if isinstance(shadows, Unknown):
        unknown, shadows = unknown or f"text-shadow ({shadows.reason})", []
    if (
        ink[3] <= 0
        and not shadows
        and not _has_stroke(style)
        and not any(world.ink[3] > 0 for world in backdrop.worlds)
    ):
        return _UNSEEN
    pairs = _pairs(style, ink, backdrop, shadows)
    best = worst = pairs[0]
    if len(pairs) > 1:
        best = max(pairs, key=lambda pair: pair.ratio)
        worst = min(pairs, key=lambda pair: pair.ratio)
    same = best.ratio < _CERTAINLY_DIFFERENT and all(_are_alike(pair.ink, pair.paper) for pair in pairs)
    same = same and not _is_faded_away(ink, backdrop.worlds)
    varies = backdrop.varies or ("text-shadow" if shadows else "")
    hidden_by = hiding if sight is Sight.UNSURE else ""
    return Reading(best, worst, large, True, same, unknown, varies, hidden_by, _lifted_by(style))


_BACKGROUND: Final = frozenset({"background-color"})
_LIFTING: Final = frozenset({"position", "transform", "translate", "margin-top", "margin-left"})


def _lifted_by(style: Style) -> str:
    """The property that takes a text, without a background of its own, out of what is around it; or ""."""
    found: str | None = style.kept("lifted")
    if found is None:
        found = style.keep("lifted", _lifting(style) or ("" if _is_solid(style) else _lifted_around(style)))
    return found


def _lifted_around(style: Style) -> str:
    return "" if style.parent is None else _lifted_by(style.parent)


def _is_solid(style: Style) -> bool:
    if style.declares_none_of(_BACKGROUND) or style.value("display") == "contents":
        return False
    colour = style.colour("background-color")
    return isinstance(colour, tuple) and colour[3] >= 1


def _lifting(style: Style) -> str:
    if style.declares_none_of(_LIFTING) or _is_solid(style):
        return ""
    if style.value("position") in ("absolute", "fixed", "sticky"):
        return "position"
    if style.value("transform") != "none" or style.value("translate") != "none":
        return "transform"
    for name in ("margin-top", "margin-left"):
        margin = style.length(name)
        if margin is not None and margin <= -style.font_size / 2:
            return name
    return ""


def _fill_name(style: Style) -> str:
    return "color" if style.value("-webkit-text-fill-color") == "currentcolor" else "-webkit-text-fill-color"


def ink_property(style: Style) -> str:
    """The property that gives the letters their colour."""
    return _fill_name(style)


def _shadows(style: Style) -> list[Any] | Unknown:
    value = style.value("text-shadow")
    if value == "none" or style.are_colours_forced:
        return []
    if isinstance(value, Unknown):
        return value
    if not isinstance(value, tuple):
        return Unknown("its value")
    holder: Style = style
    # An inherited shadow is computed where it is declared, lengths and currentcolor apart, which belong to the text.
    found = read_shadows(value, holder)
    return found if isinstance(found, Unknown) else [each for each in found if each.colour[3] > 0]


def _has_stroke(style: Style) -> bool:
    width = style.length("-webkit-text-stroke-width")
    return width is None or width > 0


def _unknown_of_text(style: Style, animated: dict[str, frozenset[str]]) -> str:
    if _has_stroke(style):
        stroke = style.colour("-webkit-text-stroke-color")
        if stroke != style.colour("-webkit-text-fill-color"):
            return "-webkit-text-stroke"
    size = style.value("font-size")
    if isinstance(size, Unknown):
        return f"font-size ({size.reason})"
    if animated:
        above: Style | None = style
        while above is not None:
            touched = _animated_properties(above, animated)
            if touched:
                return f"animation of {min(touched)}"
            above = above.parent
    return ""


def _animated_properties(style: Style, animated: dict[str, frozenset[str]]) -> frozenset[str]:
    value = style.value("animation-name")
    if value == "none":
        return frozenset()
    words = [value] if isinstance(value, str) else [getattr(token, "value", "") for token in value]
    return frozenset().union(*(animated.get(word, frozenset()) for word in words if isinstance(word, str)))


def _pairs(style: Style, ink: Colour, backdrop: Backdrop, shadows: list[Any]) -> list[Pair]:
    found: dict[tuple[Colour, Colour], Pair] = {}
    bold = style.font_weight >= 600
    for world in backdrop.worlds:
        paper = clipped(world.seen())
        letters = clipped(_lettering(world, ink))
        papers = [paper]
        if shadows:
            # Shadows belong to the text's own group; with an opacity they are thinned as the text is.
            share = 1.0
            for buffer in world.buffers[1:]:
                share *= buffer.opacity
            thinned = [shadow if share >= 1 else _thinned(shadow, share) for shadow in shadows]
            papers = [clipped(each) for each in beside_letters(paper, thinned, style.font_size, bold)]
        for each in papers:
            key = letters, each
            if key not in found:
                found[key] = Pair(letters, each, contrast_ratio(letters, each))
    return list(found.values())


def _thinned(shadow: Any, share: float) -> Any:
    from dataclasses import replace

    red, green, blue, alpha = shadow.colour
    return replace(shadow, colour=(red, green, blue, alpha * share))


def _lettering(world: World, ink: Colour) -> Colour:
    from sitegen.proof.contrast.formulas import blend

    return world.seen(blend(ink, world.ink) if world.ink[3] > 0 else ink)


def _is_faded_away(ink: Colour, worlds: tuple[World, ...]) -> bool:
    """Whether opacity alone keeps letters from being seen, which their own colour would not. Nobody hides text so on purpose."""
    if all(len(world.buffers) == 1 for world in worlds):
        return False
    for world in worlds:
        whole = world._replace(buffers=tuple(buffer._replace(opacity=1.0) for buffer in world.buffers))
        if not _are_alike(clipped(whole.seen(ink)), clipped(whole.seen())):
            return True
    return False


def _are_alike(one: Colour, other: Colour) -> bool:
    """Whether two colours are the same on a screen of eight bits a channel."""
    return all(abs(first - second) < 0.5 / 255 for first, second in zip(one[:3], other[:3], strict=True))
