"""Picture files: measured upright, refused in words when they are anything else."""

from __future__ import annotations

import os
import struct
import zlib
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from sitegen.newsroom import pictures
from sitegen.newsroom.pictures import measure
from sitegen.newsroom.records import Picture
from tests.counts import tries


def drawn(form: str, size: tuple[int, int] = (40, 20), mode: str = "RGB", **options: object) -> bytes:
    written = BytesIO()
    Image.linear_gradient("L").resize(size).convert(mode).save(written, form, **options)
    return written.getvalue()


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(width: int, height: int, *more: bytes) -> bytes:
    """A one-bit PNG that claims a size and holds nothing, with more chunks."""
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0))
    pixels = chunk(b"IDAT", zlib.compress(b""))
    return b"\x89PNG\r\n\x1a\n" + header + b"".join(more) + pixels + chunk(b"IEND", b"")


def measured(tmp_path: Path, data: bytes) -> tuple[Picture | None, str, str]:
    file = tmp_path / "coats.jpg"
    file.write_bytes(data)
    return measure(file, "content/photos/coats.jpg")


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "GIF"])
def test_each_kind_is_measured_and_named_by_its_bytes(tmp_path: Path, form: str) -> None:
    data = drawn(form)
    expected = Picture("content/photos/coats.jpg", 40, 20, sha256(data).hexdigest())
    assert measured(tmp_path, data) == (expected, "", "")


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("turned", range(10))
def test_the_size_is_that_of_the_upright_picture(tmp_path: Path, form: str, turned: int) -> None:
    exif = Image.Exif()
    exif[0x0112] = turned
    picture, _, _ = measured(tmp_path, drawn(form, exif=exif))
    assert picture is not None
    assert (picture.width, picture.height) == ((20, 40) if 5 <= turned <= 8 else (40, 20))


def test_damaged_metadata_does_not_lose_the_picture(tmp_path: Path) -> None:
    picture, _, _ = measured(
        tmp_path, drawn("JPEG", exif=b"Exif\x00\x00II*\x00\xff\xff\xff\xff" + b"\xff" * 40)
    )
    assert picture is not None and (picture.width, picture.height) == (40, 20)


def whole(form: str) -> bytes:
    return drawn(form, (400, 300))


def noisy() -> bytes:
    written = BytesIO()
    Image.frombytes("RGB", (100, 80), Random(1).randbytes(24000)).save(written, "PNG")
    return written.getvalue()


REFUSED = {
    "empty": b"",
    "text": b"hello",
    "drawing": b'<svg xmlns="http://www.w3.org/2000/svg"/>',
    "drawing with a declaration": b'\xef\xbb\xbf<?xml version="1.0"?>\n<!-- x -->\n<svg/>',
    "web page": b"<!DOCTYPE html><title>x</title>",
    "phone picture": b"\x00\x00\x00\x18ftypheic" + bytes(40),
    "bitmap": drawn("BMP"),
    "tiff": drawn("TIFF"),
    "header only": b"\x89PNG\r\n\x1a\n",
    "half a header": whole("PNG")[:20],
    "JPEG start": b"\xff\xd8\xff",
    "JPEG cut short": whole("JPEG")[: len(whole("JPEG")) // 2],
    "JPEG cut in its header": whole("JPEG")[:100],
    "PNG cut short": whole("PNG")[: len(whole("PNG")) // 2],
    "WebP cut short": whole("WEBP")[: len(whole("WEBP")) // 2],
    "PNG damaged inside": whole("PNG").replace(b"IDAT", b"IDAT\x00", 1),
    "PNG with a hole": noisy()[:3000] + bytes(900) + noisy()[3900:],
    "no pixels": png(0, 10),
    "too many pixels": png(7100, 7100),
    "bomb": png(30000, 30000),
    "the largest bomb": png(2**31 - 1, 2**31 - 1),
    "text bomb": png(10, 10, chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(80_000_000)))),
    "profile bomb": png(10, 10, chunk(b"iCCP", b"a\0\0" + zlib.compress(bytes(80_000_000)))),
    "GIF of nothing": b"GIF89a",
    "WebP of nothing": b"RIFF\x04\x00\x00\x00WEBP",
}


@pytest.mark.parametrize("name", sorted(REFUSED))
def test_what_is_no_picture_is_refused_in_words(tmp_path: Path, name: str) -> None:
    picture, message, instead = measured(tmp_path, REFUSED[name])
    assert picture is None
    assert message.endswith(".") and instead.endswith(".")
    assert "Error" not in message and str(tmp_path) not in message


def test_the_limits_are_the_last_sizes_allowed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    data = drawn("PNG")
    monkeypatch.setattr(pictures, "MOST_PIXELS", 800)
    monkeypatch.setattr(pictures, "MOST_BYTES", len(data))
    assert measured(tmp_path, data)[0] is not None
    monkeypatch.setattr(pictures, "MOST_PIXELS", 799)
    assert measured(tmp_path, data)[0] is None
    monkeypatch.setattr(pictures, "MOST_PIXELS", 800)
    monkeypatch.setattr(pictures, "MOST_BYTES", len(data) - 1)
    assert measured(tmp_path, data)[0] is None


def test_an_enormous_file_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "a.png"
    with file.open("wb") as hole:
        hole.truncate(200 * 1024 * 1024 * 1024)
    assert measure(file, "a.png")[1].startswith("The picture has ")


def test_measuring_decodes_no_pixels(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def decode(image: object) -> None:
        raise AssertionError("decoded")

    for form in ("PNG", "JPEG"):
        data = drawn(form)
        monkeypatch.setattr("PIL.ImageFile.ImageFile.load", decode)
        assert measured(tmp_path, data)[0] is not None
        monkeypatch.undo()


def test_things_that_are_no_files_are_refused(tmp_path: Path) -> None:
    (tmp_path / "folder.jpg").mkdir()
    os.mkfifo(tmp_path / "pipe.jpg")
    (tmp_path / "round.jpg").symlink_to(tmp_path / "round.jpg")
    (tmp_path / "file.jpg").write_bytes(drawn("JPEG"))
    for name in (
        "folder.jpg",
        "pipe.jpg",
        "round.jpg",
        "none.jpg",
        "nul\0.jpg",
        "file.jpg/x.jpg",
        "long" * 200,
    ):
        picture, message, instead = measure(tmp_path / name, name)
        assert picture is None and message and instead


@settings(max_examples=tries(150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(["JPEG", "PNG", "WEBP", "GIF"]),
    st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), max_size=12),
    st.floats(0, 1),
)
def test_no_damage_raises(tmp_path: Path, form: str, damage: list[tuple[float, int]], cut: float) -> None:
    data = bytearray(drawn(form))
    for where, value in damage:
        data[int(where * (len(data) - 1))] = value
    picture, message, instead = measured(tmp_path, bytes(data[: round(len(data) * cut)]))
    assert (picture is None) == bool(message) == bool(instead)
