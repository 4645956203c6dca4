"""What lies behind a text: the backgrounds of everything around it, painted one over the other.

A `World` is one way the pixels behind a text can be: where a gradient or picture takes part, there is one for each of
the colours that occur in it. https://www.w3.org/TR/compositing-1/
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple, TypeAlias

from sitegen.proof.contrast.bearers import bearer_of
from sitegen.proof.contrast.colours import system_colour
from sitegen.proof.contrast.formulas import TRANSPARENT, WHITE, Colour, blend, clipped, relative_luminance
from sitegen.proof.contrast.gradients import read_gradient
from sitegen.proof.contrast.pictures import Picture
from sitegen.proof.contrast.style import BODY, Style
from sitegen.proof.contrast.values import Token, Unknown, significant

MOST_WORLDS: Final = 400

PictureFinder: TypeAlias = Callable[[str, Style], "Picture | Unknown"]
"""Finds the picture of an address written in the declaration that a style's `background-image` comes from."""


class Buffer(NamedTuple):
    """What has been painted into one group; groups with an opacity are blended as a whole."""

    colour: Colour
    opacity: float


class World(NamedTuple):
    """One way the pixels behind a text can be."""

    buffers: tuple[Buffer, ...]
    """The page first, then each open group."""
    ink: Colour = TRANSPARENT
    """What backgrounds clipped to the text put into its letters."""

    def seen(self, above: Colour = TRANSPARENT) -> Colour:
        """The colour that is seen, with `above` painted last."""
        colour = blend(above, self.buffers[-1].colour)
        for place in range(len(self.buffers) - 1, 0, -1):
            red, green, blue, alpha = colour
            colour = blend(
                (red, green, blue, alpha * self.buffers[place].opacity), self.buffers[place - 1].colour
            )
        return colour


class Backdrop(NamedTuple):
    """Everything that may lie behind the text of one style."""

    worlds: tuple[World, ...]
    behind: str = ""
    """The property of a background that keeps it from being known, or ""."""
    varies: str = ""
    """The property that makes it more than one colour, or ""."""
    effect: str = ""
    """A property around the text whose effect on all colours there is not worked out, or ""."""

    @property
    def unknown(self) -> str:
        """What keeps the colours from being known, or ""."""
        return self.effect or self.behind


def is_painted(style: Style) -> bool:
    """Whether an element has a box for backgrounds."""
    display = style.value("display")
    # The root always has a box: https://www.w3.org/TR/css-display-3/#root
    return display != "none" and (display != "contents" or style.parent is None)


def canvas(style: Style) -> Colour:
    """The colour of the page before anything is painted: white on paper."""
    if style.surrounding.is_print:
        return WHITE
    return system_colour("canvas", style.root)


def shows_background(style: Style) -> bool:
    """Whether backgrounds appear: browsers leave them out on paper unless told otherwise."""
    return not style.surrounding.is_print or style.value("print-color-adjust") == "exact"


def opacity_of(style: Style) -> float:
    """The opacity of an element's group."""
    value = style.value("opacity")
    return float(value) if isinstance(value, float | int) else 1.0


Narrowed: TypeAlias = dict[tuple[Style, int], Sequence[Colour]]
"""By style and layer, the colours of the part of it that lies behind a certain text."""


def backdrop_of(style: Style, find: PictureFinder, narrowed: Narrowed | None = None) -> Backdrop:
    """The backdrop of text directly inside an element; `narrowed` layers are taken as given instead of whole."""
    if narrowed:
        return _backdrop(style, find, narrowed)
    cached: Backdrop | None = style.kept("backdrop")
    if cached is None:
        bearer = bearer_of(style)
        cached = style.keep(
            "backdrop",
            _backdrop(style, find, None) if bearer is style else backdrop_of(bearer, find),
        )
    return cached


_BACKGROUNDS: Final = frozenset({"background-color", "background-image"})


def _backdrop(style: Style, find: PictureFinder, narrowed: Narrowed | None) -> Backdrop:
    if style.parent is None:
        under = Backdrop((World((Buffer(canvas(style), 1.0),)),))
    else:
        under = backdrop_of(style.parent, find, narrowed)
    if not is_painted(style):
        return under
    worlds, behind, varies, effect = under
    effect = effect or unknown_effect(style)
    gives_to_canvas = _gives_background_to_canvas(style)
    opacity = opacity_of(style)
    if opacity < 1 and not gives_to_canvas:
        worlds = _opened(worlds, opacity)
    if shows_background(style) and not style.declares_none_of(_BACKGROUNDS):
        colour = style.colour("background-color")
        layers = background_layers(style, find)
        clips = _clips(style, max(1, len(layers)))
        if isinstance(colour, Unknown):
            behind = behind or f"background-color ({colour.reason})"
        elif colour[3] > 0:
            worlds = _painted(worlds, [colour], clips[-1] == "text")
            if colour[3] >= 1 and clips[-1] != "text" and len(worlds[0].buffers) == 1:
                # Nothing below shows through any more, so it no longer matters what was not known of it.
                worlds, behind, varies = worlds[:1], "", ""
        for place in range(len(layers) - 1, -1, -1):
            samples = layers[place]
            if narrowed and (style, place) in narrowed:
                samples = narrowed[style, place]
            if isinstance(samples, Unknown):
                behind = behind or f"background-image ({samples.reason})"
                continue
            if len(samples) > 1:
                varies = "background-image"
            worlds = _painted(worlds, samples, clips[place] == "text")
            if len(worlds) > MOST_WORLDS:
                worlds = _fewer(worlds)
    if opacity < 1 and gives_to_canvas:
        worlds = _opened(worlds, opacity)
    return Backdrop(worlds, behind, varies, effect)


def _opened(worlds: tuple[World, ...], opacity: float) -> tuple[World, ...]:
    return tuple(world._replace(buffers=(*world.buffers, Buffer(TRANSPARENT, opacity))) for world in worlds)


def _gives_background_to_canvas(style: Style) -> bool:
    """Whether it is the body and the root has no background, so that the body's is painted for the whole page.

    https://www.w3.org/TR/css-backgrounds-3/#body-background
    """
    root = style.parent
    if root is None or not style.kept(BODY):
        return False
    colour = root.colour("background-color")
    return root.value("background-image") == "none" and isinstance(colour, tuple) and colour[3] <= 0


def _painted(worlds: tuple[World, ...], samples: Sequence[Colour], into_text: bool) -> tuple[World, ...]:
    if into_text:
        return tuple(world._replace(ink=blend(sample, world.ink)) for world in worlds for sample in samples)
    result = [
        world._replace(
            buffers=(
                *world.buffers[:-1],
                Buffer(blend(sample, world.buffers[-1].colour), world.buffers[-1].opacity),
            )
        )
        for world in worlds
        for sample in samples
    ]
    return tuple(dict.fromkeys(result))


def _fewer(worlds: tuple[World, ...]) -> tuple[World, ...]:
    """Fewer of many worlds: the lightest, the darkest and an even choice between."""
    ordered = sorted(worlds, key=lambda world: relative_luminance(clipped(world.seen())))
    last = len(ordered) - 1
    return tuple(
        dict.fromkeys(ordered[round(place * last / (MOST_WORLDS - 1))] for place in range(MOST_WORLDS))
    )


_EFFECTS: Final = frozenset(
    {"mix-blend-mode", "filter", "backdrop-filter", "mask-image", "background-blend-mode"}
)


def unknown_effect(style: Style) -> str:
    """The property of an element whose effect on colours the proof does not work out, or ""."""
    if style.declares_none_of(_EFFECTS):
        return ""
    blend_mode = style.value("mix-blend-mode")
    if blend_mode != "normal":
        return "mix-blend-mode"
    for name, harmless in (("filter", ("drop-shadow", "blur")), ("backdrop-filter", ("blur",))):
        value = style.value(name)
        if value == "none":
            continue
        tokens = value if isinstance(value, tuple) else ()
        if not tokens or any(
            token.type != "function" or token.lower_name not in harmless for token in tokens
        ):
            return name
    if style.value("mask-image") != "none":
        return "mask-image"
    modes = style.value("background-blend-mode")
    if modes not in ("normal", ()) and not all(part[0].lower_value == "normal" for part in modes):
        return "background-blend-mode"
    return ""


def _clips(style: Style, count: int) -> list[str]:
    """For each layer, "text" or another box, repeated as often as needed; the colour has the last one's."""
    value = style.value("background-clip")
    parts = (
        [value]
        if isinstance(value, str)
        else [part[0].lower_value if part else "border-box" for part in value]
    )
    parts = parts or ["border-box"]
    return [parts[place % len(parts)] for place in range(count)]


def background_layers(style: Style, find: PictureFinder) -> list[Sequence[Colour] | Unknown]:
    """For each image layer, topmost first, the colours that occur in it; none for `background-image: none`."""
    value = style.value("background-image")
    if isinstance(value, Unknown):
        return [value]
    if isinstance(value, str):
        return []
    is_forced = style.are_colours_forced
    result: list[Sequence[Colour] | Unknown] = []
    for place, layer in enumerate(value):
        is_gradient = (
            bool(layer) and layer[0].type == "function" and layer[0].lower_name.endswith("-gradient")
        )
        if not layer or layer[0].type == "ident" or (is_forced and is_gradient):
            result.append((TRANSPARENT,))
        else:
            result.append(layer_samples(layer[0], style, place, find))
    return result


def layer_samples(token: Token, style: Style, place: int, find: PictureFinder) -> Sequence[Colour] | Unknown:
    """The colours that occur in one layer, transparent among them where it leaves some of the box free."""
    address = address_of(token)
    if address is None:
        if (
            token.type == "function"
            and token.lower_name.endswith("-gradient")
            and token.lower_name != "-webkit-gradient"
        ):
            gradient = read_gradient(token, style)
            if gradient is None:
                return (TRANSPARENT,)
            if isinstance(gradient, Unknown):
                return gradient
            samples = gradient.samples()
            return [*samples, TRANSPARENT] if _leaves_room(style, place, False) else samples
        return Unknown(f"{token.lower_name}()" if token.type == "function" else "its value")
    picture = find(address, style)
    if isinstance(picture, Unknown):
        return picture
    colours = picture.colours()
    return [*colours, TRANSPARENT] if _leaves_room(style, place, True) else colours


def _leaves_room(style: Style, place: int, is_picture: bool) -> bool:
    """Whether a layer may leave part of the box uncovered."""
    repeats = list_part(style, "background-repeat", place)
    words = [token.lower_value for token in repeats if token.type == "ident"]
    if not words or words in (["repeat"], ["round"], ["repeat", "repeat"], ["round", "round"]):
        return False
    sizes = list_part(style, "background-size", place)
    size_words = [token.lower_value for token in sizes if token.type == "ident"]
    if size_words == ["cover"]:
        return False
    return is_picture or bool(sizes)


def list_part(style: Style, name: str, place: int) -> Sequence[Token]:
    """The value a list property such as `background-size` has for one layer."""
    value = style.value(name)
    if not isinstance(value, tuple) or not value:
        return ()
    part = value[place % len(value)]
    return part if isinstance(part, tuple) else ()


def address_of(token: Token) -> str | None:
    """The address in `url()`, or the first of `image-set()`; None for anything else."""
    if token.type == "url":
        return str(token.value)
    if token.type == "function" and token.lower_name in ("url", "src"):
        inner = significant(token.arguments)
        return str(inner[0].value) if inner and inner[0].type == "string" else None
    if token.type == "function" and token.lower_name.endswith("image-set"):
        for inner in significant(token.arguments):
            found = str(inner.value) if inner.type == "string" else address_of(inner)
            if found is not None:
                return found
    return None
