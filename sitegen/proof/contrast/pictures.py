"""Measures the colours of pictures that lie behind text."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from typing import TYPE_CHECKING, Final

from sitegen.proof.contrast.formulas import Colour, relative_luminance_of_bytes
from sitegen.proof.contrast.values import Unknown

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS: Final = 40_000_000
_GREATEST_EDGE: Final = 512
_KEPT_COLOURS: Final = 48

Box = tuple[float, float, float, float]


@dataclass(eq=False)
class Picture:
    """A decoded picture."""

    image: Image
    """In RGBA, made smaller where it was large."""
    width: float
    """Of the original, in px."""
    height: float

    @cached_property
    def _by_box(self) -> dict[Box | None, tuple[Colour, ...]]:
        return {}

    def colours(self, box: Box | None = None) -> tuple[Colour, ...]:
        """Colours that occur in the picture, or in a box of its original px: the darkest, the lightest, some between."""
        if box not in self._by_box:
            if len(self._by_box) > 64:
                self._by_box.clear()
            self._by_box[box] = self._measured(box)
        return self._by_box[box]

    def _measured(self, box: Box | None) -> tuple[Colour, ...]:
        image = self.image
        if box is not None:
            across, down = image.width / self.width, image.height / self.height
            left, upper = max(0, int(box[0] * across)), max(0, int(box[1] * down))
            right = min(image.width, max(left + 1, round(box[2] * across)))
            lower = min(image.height, max(upper + 1, round(box[3] * down)))
            if left >= image.width or upper >= image.height:
                return ()
            image = image.crop((left, upper, right, lower))
        pixels: list[tuple[int, int, int, int]] = [
            pixel
            for _, pixel in image.getcolors(image.width * image.height) or ()
            if isinstance(pixel, tuple) and len(pixel) == 4
        ]
        pixels.sort(key=lambda pixel: (relative_luminance_of_bytes(*pixel[:3]), pixel))
        if len(pixels) > _KEPT_COLOURS:
            last = len(pixels) - 1
            clearest = min(pixels, key=lambda pixel: pixel[3])
            pixels = [pixels[round(place * last / (_KEPT_COLOURS - 1))] for place in range(_KEPT_COLOURS)]
            pixels.append(clearest)
        return tuple(
            dict.fromkeys(
                (red / 255, green / 255, blue / 255, alpha / 255) for red, green, blue, alpha in pixels
            )
        )


class Pictures:
    """Pictures of a site, each decoded once."""

    def __init__(self, load: Callable[[str], bytes | None]) -> None:
        self._load = load
        self._known: dict[str, Picture | Unknown] = {}

    def at(self, path: str) -> Picture | Unknown:
        """The picture at a path of the site."""
        if path not in self._known:
            if len(self._known) >= 32:
                self._known.pop(next(iter(self._known)))
            self._known[path] = self._read(path)
        return self._known[path]

    def _read(self, path: str) -> Picture | Unknown:
        data = self._load(path)
        if data is None:
            return Unknown(f"the picture {path}, which cannot be read here")
        return decode(data, path)


def decode(data: bytes, name: str) -> Picture | Unknown:
    """A picture from the bytes of its file."""
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(BytesIO(data)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                return Unknown(f"the picture {name}, which is too large to measure")
            width, height = opened.size
            opened.draft("RGB", (_GREATEST_EDGE, _GREATEST_EDGE))
            image = opened.convert("RGBA")
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError):
        return Unknown(f"the picture {name}, which is of a kind that cannot be measured")
    image.thumbnail((_GREATEST_EDGE, _GREATEST_EDGE), Image.Resampling.BOX)
    return Picture(image, float(width), float(height))
