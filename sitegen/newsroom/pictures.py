"""Picture files: what may be used, how large it is once upright, and the digest of its bytes.

Only headers are read here; the pixels are the typesetter's business.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import TYPE_CHECKING

from sitegen.newsroom.records import Picture

if TYPE_CHECKING:
    from PIL.ImageFile import ImageFile

MOST_PIXELS = 50_000_000
"""Width times height; more than any camera a newsroom is likely to use takes."""
MOST_BYTES = 40 * 1024 * 1024

_SAVE_AGAIN = "Save it again as a JPEG or PNG picture."

# First bytes of what people send instead, (offset, bytes, name). The signatures are from memory.
_OTHERS = (
    (4, b"ftyphei", "a HEIC picture"),
    (4, b"ftyphev", "a HEIC picture"),
    (4, b"ftypmif1", "a HEIC picture"),
    (4, b"ftypavi", "an AVIF picture"),
    (4, b"ftyp", "a video"),
    (0, b"II*\x00", "a TIFF picture"),
    (0, b"MM\x00*", "a TIFF picture"),
    (0, b"BM", "a BMP picture"),
    (0, b"%PDF", "a PDF document"),
    (0, b"8BPS", "a Photoshop document"),
)


class PictureError(ValueError):
    """A picture that cannot be used: `message` says why in plain words, `instead` what to do."""

    def __init__(self, message: str, instead: str = _SAVE_AGAIN) -> None:
        super().__init__(f"{message} {instead}")
        self.message = message
        self.instead = instead


def measure(path: Path, shown: str) -> tuple[Picture | None, str, str]:
    """(picture, message, instead): the measured picture, or None with why not and what to do.

    `shown` is the file relative to the root folder, as the record names it.
    """
    try:
        data = read_picture(path)
        with opened(data) as image:
            width, height = upright_size(image)
            # Checksums without decoding; only PNG has them, and its decoder would paint over the damage.
            image.verify()
    except PictureError as error:
        return None, error.message, error.instead
    return Picture(shown, width, height, sha256(data).hexdigest()), "", ""


def read_picture(path: Path) -> bytes:
    """The bytes of a picture file; raises PictureError when it is missing, empty or too large to be one."""
    try:
        status = path.stat()
        if S_ISDIR(status.st_mode):
            raise PictureError("This is a folder, not a picture.", "Name a picture in it.")
        if not S_ISREG(status.st_mode):
            raise PictureError("This is a device, not a picture.", "Name a picture file.")
        if status.st_size > MOST_BYTES:
            raise PictureError(
                f"The picture has {status.st_size / 1048576:.1f} MB; the most is {MOST_BYTES // 1048576} MB.",
                "Export it smaller: 3000 pixels on its longer side are plenty.",
            )
        data = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        raise PictureError("There is no such picture.", "Check the name, or put the picture there.") from None
    except PictureError:
        raise
    except (OSError, ValueError):
        raise PictureError(
            "The picture cannot be read from the disk.", "Check its name and who may read it."
        ) from None
    if not data:
        raise PictureError("The picture is empty: it has no bytes.", "Copy it again.")
    return data


@contextmanager
def opened(data: bytes) -> Iterator[ImageFile]:
    """The picture, its header read, its size allowed; raises PictureError for whatever is not one.

    Pixels may be decoded inside the block: what goes wrong there becomes a PictureError too, and no warning
    escapes.
    """
    _refuse_others(data)

    from PIL import Image, UnidentifiedImageError

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(BytesIO(data), formats=("JPEG", "PNG", "WEBP", "GIF")) as image:
                width, height = image.size
                if width < 1 or height < 1:
                    raise PictureError("The picture has no pixels.")
                if width * height > MOST_PIXELS:
                    raise _too_many(f"{width} × {height} pixels")
                yield image
        except (PictureError, MemoryError):
            raise
        except Image.DecompressionBombError:
            raise _too_many("far too many pixels") from None
        except UnidentifiedImageError:
            raise PictureError("This is not a JPEG, PNG, WebP or GIF picture, or it is damaged.") from None
        except Exception:
            # A hostile file can make the decoders raise anything: SyntaxError, struct.error, IndexError, …
            raise PictureError("The picture is damaged: it cannot be decoded.") from None


def upright_size(image: ImageFile) -> tuple[int, int]:
    """(width, height) in pixels once the picture is turned as its orientation tag asks."""
    width, height = image.size
    return (height, width) if orientation(image) >= 5 else (width, height)


def orientation(image: ImageFile) -> int:
    """The orientation tag, 1 to 8 (Exif 2.32, tag 0x0112); 1 when it is missing or makes no sense.

    5 to 8 lie on their side. Read from what stands before the pixels, so that asking never decodes them.
    """
    from PIL import Image

    try:
        tag = Image.Image.getexif(image).get(0x0112, 1)
    except Exception:
        # Damaged metadata must not lose the picture, and Exif parsers raise anything.
        return 1
    return tag if isinstance(tag, int) and 1 <= tag <= 8 else 1


def _too_many(how_many: str) -> PictureError:
    return PictureError(
        f"The picture has {how_many}; the most is {MOST_PIXELS // 1_000_000} million.",
        "Export it smaller: 3000 pixels on its longer side are plenty.",
    )


def _refuse_others(data: bytes) -> None:
    """Names the mistakes worth naming before the decoders see the file."""
    start = data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n")
    if start.startswith(b"<"):
        what = "an SVG drawing" if b"<svg" in data[:65536] else "a web page or text"
        raise PictureError(f"This is {what}, not a picture made of pixels.", "Export it as a PNG picture.")
    for offset, signature, name in _OTHERS:
        if data.startswith(signature, offset):
            raise PictureError(f"This is {name}, not a JPEG, PNG, WebP or GIF.")
    if _ends_early(data):
        raise PictureError("The picture is cut short: its end is missing.", "Copy it again from the camera.")


def _ends_early(data: bytes) -> bool:
    """True for a file that lacks the mark with which its format ends.

    JPEG: EOI after the first scan (ITU-T T.81, annex B). PNG: the IEND chunk (W3C PNG, 11.2.5). WebP: as many bytes
    as its RIFF header says. GIF has decoders that forgive a missing end.
    """
    if data.startswith(b"\xff\xd8\xff"):
        at = 2
        while at + 4 <= len(data) and data[at] == 0xFF:
            marker = data[at + 1]
            if marker == 0xDA:
                return data.find(b"\xff\xd9", at) < 0
            at += 1 if marker == 0xFF else 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        return at >= len(data)
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return b"IEND" not in data
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return int.from_bytes(data[4:8], "little") + 8 > len(data)
    return False
