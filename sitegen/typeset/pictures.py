"""Pictures for pages: upright, in sRGB, at the sizes asked for, and without a word of metadata."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from sitegen.newsroom.pictures import PictureError, opened, orientation, read_picture, upright_size

if TYPE_CHECKING:
    from PIL.Image import Image as Pixels
    from PIL.ImageFile import ImageFile

__all__ = ["PictureError", "Wanted", "derive", "fresh_copy"]

JPEG_QUALITY = 82
"""1 to 95. Common practice, no source."""
COPY_QUALITY = 92
"""Of a picture that others will be made of. Common practice, no source."""
WEBP_QUALITY = 75
"""0 to 100; looks like the JPEG beside it. Common practice, no source."""
WEBP_EFFORT = 4
"""0 to 6. The highest takes twice as long for files a few hundredths smaller."""

Box: TypeAlias = tuple[int, int, int, int]
"""(left, top, right, bottom) in pixels of the upright picture."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One file to make of a picture."""

    width: int
    """Pixels, 1 or more."""
    height: int
    media_type: str = "image/jpeg"
    """`image/jpeg` or `image/webp`."""


def derive(
    source: Path, wanted: Sequence[Wanted], box: Box | None = None, digest: str = ""
) -> tuple[bytes, ...]:
    """Files of `source`, or of the part of it in `box`, each exactly as large as wanted, in the order wanted. `digest`: the SHA-256
    (hexadecimal) that its bytes must still have; empty for whatever they are.

    Turned upright, converted to sRGB by its embedded profile, transparency flattened on white, the first frame
    of an animation, all metadata removed. The picture is decoded once and each size is made of the next larger
    one. The same file gives the same bytes with the same version of Pillow. Raises PictureError when the pixels
    cannot be decoded, and for other bytes than the digest's.
    """
    from PIL import Image

    sizes = sorted({(each.width, each.height) for each in wanted}, reverse=True)
    if not sizes or min(min(size) for size in sizes) < 1:
        raise ValueError(f"{sizes} is no size for a picture")
    made: dict[tuple[int, int], Pixels] = {}
    data = read_picture(source)
    if digest and sha256(data).hexdigest() != digest:
        raise PictureError("The file changed while the site was being built.", "Build again.")
    with opened(data) as image:
        pixels = _pixels(image, *sizes[0], box)
    for size in sizes:
        pixels = pixels if pixels.size == size else pixels.resize(size, Image.Resampling.LANCZOS)
        made[size] = pixels
    return tuple(_written(made[each.width, each.height], each.media_type) for each in wanted)


def fresh_copy(data: bytes, most: int) -> bytes:
    """A picture made anew as a JPEG of at most `most` pixels a side, prepared as in `derive`: nothing of the file but its look is left.

    Raises PictureError when it is no picture, is too large, or cannot be decoded.
    """
    with opened(data) as image:
        width, height = upright_size(image)
        shrink = min(1.0, most / max(width, height))
        size = (max(1, round(width * shrink)), max(1, round(height * shrink)))
        pixels = _pixels(image, *size, None)
        if pixels.size != size:
            from PIL import Image

            pixels = pixels.resize(size, Image.Resampling.LANCZOS)
    pixels.info = {}
    written = BytesIO()
    pixels.save(written, "JPEG", quality=COPY_QUALITY, progressive=True, optimize=True)
    return written.getvalue()


def _pixels(image: ImageFile, width: int, height: int, box: Box | None) -> Pixels:
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
    stored = image.size
    part = _as_stored(box, turned, stored) if box else (0, 0, *stored)
    # A JPEG decoder can halve while it decodes, which is far quicker; it stays at or above the size.
    whole = (
        -(-lying[0] * stored[0] // (part[2] - part[0])),
        -(-lying[1] * stored[1] // (part[3] - part[1])),
    )
    image.draft(None, whole)
    pixels = _with_plain_samples(image)
    if pixels.size != lying or box:
        across, down = pixels.width / stored[0], pixels.height / stored[1]
        seen = (part[0] * across, part[1] * down, part[2] * across, part[3] * down)
        pixels = pixels.resize(lying, Image.Resampling.LANCZOS, box=seen)
    pixels = _flattened(_in_srgb(pixels, profile))
    return pixels.transpose(turns[turned]) if turned in turns else pixels


def _as_stored(box: Box, turned: int, stored: tuple[int, int]) -> Box:
    """A box of the upright picture as a box of the picture as it is stored, before it is turned."""
    left, top, right, bottom = box
    width, height = stored
    match turned:
        case 2:
            return width - right, top, width - left, bottom
        case 3:
            return width - right, height - bottom, width - left, height - top
        case 4:
            return left, height - bottom, right, height - top
        case 5:
            return top, left, bottom, right
        case 6:
            return top, height - right, bottom, height - left
        case 7:
            return width - bottom, height - right, width - top, height - left
        case 8:
            return width - bottom, left, width - top, right
        case _:
            return box


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


def _written(pixels: Pixels, media_type: str) -> bytes:
    # Pillow writes a comment it finds in `info`; nothing of the source's may remain.
    pixels.info = {}
    written = BytesIO()
    if media_type == "image/webp":
        pixels.save(written, "WEBP", quality=WEBP_QUALITY, method=WEBP_EFFORT)
    else:
        pixels.save(written, "JPEG", quality=JPEG_QUALITY, progressive=True, optimize=True)
    return written.getvalue()
