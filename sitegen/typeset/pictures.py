"""Pictures for pages: upright, in sRGB, at the size asked for, and without a word of metadata."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.newsroom.pictures import PictureError, opened, orientation, read_picture

if TYPE_CHECKING:
    from PIL.Image import Image as Pixels
    from PIL.ImageFile import ImageFile

__all__ = ["QUALITY", "PictureError", "derive"]

QUALITY = 82
"""JPEG quality, 1 to 95. Common practice, no source."""


def derive(source: Path, width: int, height: int) -> bytes:
    """A progressive JPEG of `source`, exactly `width` × `height` pixels, both 1 or more.

    Turned upright, converted to sRGB by its embedded profile, transparency flattened on white, the first frame
    of an animation, all metadata removed. The same file gives the same bytes with the same version of Pillow.
    Raises PictureError when the pixels cannot be decoded.
    """
    if width < 1 or height < 1:
        raise ValueError(f"{width} × {height} is no size for a picture")
    with opened(read_picture(source)) as image:
        return _jpeg(_pixels(image, width, height))


def _pixels(image: ImageFile, width: int, height: int) -> Pixels:
    from PIL import Image

    turns = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_270,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_90,
    }
    turned = orientation(image)
    lying = (height, width) if turned >= 5 else (width, height)
    profile = image.info.get("icc_profile")
    # A JPEG decoder can halve while it decodes, which is far quicker; it stays at or above the size.
    image.draft(None, lying)
    pixels = _with_plain_samples(image)
    if pixels.size != lying:
        pixels = pixels.resize(lying, Image.Resampling.LANCZOS)
    pixels = _flattened(_in_srgb(pixels, profile))
    return pixels.transpose(turns[turned]) if turned in turns else pixels


def _with_plain_samples(image: ImageFile) -> Pixels:
    """The first frame with 8 bits a sample, as L, LA, RGB, RGBA or CMYK: modes that resize smoothly."""
    if image.mode.startswith("I"):
        # 16 bits a sample; Pillow's own conversion to L would clip at 255 instead of scaling.
        return image.convert("I").point(lambda sample: sample * (1 / 257) + 0.5).convert("L")
    if "transparency" in image.info or image.mode in ("PA", "RGBa", "La"):
        return image.convert("RGBA")
    if image.mode == "P":
        return image.convert("RGB")
    if image.mode in ("L", "LA", "RGB", "RGBA", "CMYK"):
        return image.copy()
    return image.convert("L" if image.mode == "1" else "RGB")


def _in_srgb(pixels: Pixels, profile: object) -> Pixels:
    """The pixels converted from their embedded colour profile; as they are when it is missing or unusable."""
    if not isinstance(profile, bytes) or not profile:
        return pixels

    from PIL import ImageCms

    alpha = pixels.getchannel("A") if pixels.mode in ("LA", "RGBA") else None
    colours = pixels.convert(pixels.mode.removesuffix("A")) if alpha else pixels
    try:
        embedded = ImageCms.ImageCmsProfile(BytesIO(profile))
        converted = ImageCms.profileToProfile(
            colours, embedded, ImageCms.createProfile("sRGB"), outputMode="RGB"
        )
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        # A damaged profile, or one for other channels: browsers ignore it too.
        return pixels
    if converted is None:
        return pixels
    if alpha:
        converted.putalpha(alpha)
    return converted


def _flattened(pixels: Pixels) -> Pixels:
    """RGB, transparent parts on white."""
    from PIL import Image

    if pixels.mode not in ("LA", "RGBA"):
        return pixels.convert("RGB")
    paper = Image.new("RGB", pixels.size, "white")
    paper.paste(pixels.convert("RGB"), mask=pixels.getchannel("A"))
    return paper


def _jpeg(pixels: Pixels) -> bytes:
    # Pillow writes a comment it finds in `info`; nothing of the source's may remain.
    pixels.info = {}
    written = BytesIO()
    pixels.save(written, "JPEG", quality=QUALITY, progressive=True, optimize=True)
    return written.getvalue()
