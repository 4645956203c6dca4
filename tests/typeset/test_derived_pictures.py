"""Derived pictures: the right pixels, the right size, and nothing else of the source."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from random import Random

import pytest
from PIL import Image, ImageCms, ImageOps
from PIL.PngImagePlugin import PngInfo

from sitegen.typeset.pictures import Box, PictureError, Wanted
from sitegen.typeset.pictures import derive as derive_files

SIZE = (96, 64)
CORNERS = {"red": (8, 8), "green": (87, 8), "blue": (8, 55), "white": (87, 55)}
COLOURS = {"red": (200, 30, 30), "green": (30, 160, 60), "blue": (30, 60, 200), "white": (250, 250, 250)}


def four_colours() -> Image.Image:
    """A picture whose turning can be told: red, green above blue, white."""
    picture = Image.new("RGB", SIZE)
    for name, (x, y) in CORNERS.items():
        picture.paste(COLOURS[name], (x // 48 * 48, y // 32 * 32, x // 48 * 48 + 48, y // 32 * 32 + 32))
    return picture


def saved(folder: Path, picture: Image.Image, form: str, **options: object) -> Path:
    file = folder / f"source.{form.lower()}"
    picture.save(file, form, **options)
    return file


def noise() -> Image.Image:
    return Image.frombytes("RGB", (300, 200), Random(1).randbytes(180_000))


def derive(source: Path, width: int, height: int, box: Box | None = None) -> bytes:
    (data,) = derive_files(source, [Wanted(width, height)], box)
    return data


def back(data: bytes) -> Image.Image:
    picture = Image.open(BytesIO(data))
    assert (picture.format, picture.mode, picture.info.get("progressive")) == ("JPEG", "RGB", 1)
    picture.load()
    return picture


def near(found: object, expected: tuple[int, ...], within: int = 12) -> bool:
    assert isinstance(found, tuple)
    return all(abs(a - b) <= within for a, b in zip(found, expected, strict=True))


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("turned", range(1, 9))
def test_pictures_are_turned_upright(tmp_path: Path, form: str, turned: int) -> None:
    exif = Image.Exif()
    exif[0x0112] = turned
    # The reference: turning back what the tag asks for gives the picture as the camera stored it.
    stored = four_colours()
    tagged = BytesIO()
    stored.save(tagged, "PNG", exif=exif)
    upright = ImageOps.exif_transpose(Image.open(tagged))
    options: dict[str, object] = {"quality": 95} if form != "PNG" else {}
    made = back(derive(saved(tmp_path, stored, form, exif=exif, **options), *upright.size))
    assert made.size == upright.size == (SIZE if turned < 5 else SIZE[::-1])
    for x in (8, made.width - 9):
        for y in (8, made.height - 9):
            expected = upright.convert("RGB").getpixel((x, y))
            assert isinstance(expected, tuple)
            assert near(made.getpixel((x, y)), expected)


def test_a_picture_on_its_side_stands_with_its_top_up(tmp_path: Path) -> None:
    """Orientation 6: the stored left side is the top seen. Exif 2.32, tag 0x0112: row 0 is the visual right."""
    exif = Image.Exif()
    exif[0x0112] = 6
    made = back(derive(saved(tmp_path, four_colours(), "PNG", exif=exif), 64, 96))
    assert near(made.getpixel((8, 8)), COLOURS["blue"])
    assert near(made.getpixel((55, 8)), COLOURS["red"])
    assert near(made.getpixel((55, 87)), COLOURS["green"])


SECRETS = (b"Ada Quill", b"GPS", b"Exif", b"http://ns.adobe.com/xap", b"ICC_PROFILE", b"secret", b"8BIM")


def full_of_secrets() -> Image.Exif:
    exif = Image.Exif()
    exif[0x013B] = "Ada Quill"
    exif[0x010E] = "secret description"
    exif.get_ifd(0x8825).update({1: "N", 2: (34.0, 36.0, 36.0), 3: "W", 4: (60.0, 25.0, 12.0)})
    return exif


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "GIF"])
def test_no_metadata_survives(tmp_path: Path, form: str) -> None:
    text = PngInfo()
    text.add_text("Author", "Ada Quill secret")
    text.add_itxt("XML:com.adobe.xmp", "<x:xmpmeta>secret http://ns.adobe.com/xap</x:xmpmeta>")
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    options: dict[str, dict[str, object]] = {
        "JPEG": {"exif": full_of_secrets(), "comment": b"secret", "icc_profile": profile, "xmp": b"secret http://ns.adobe.com/xap"},
        "PNG": {"exif": full_of_secrets(), "pnginfo": text, "icc_profile": profile},
        "WEBP": {"exif": full_of_secrets(), "icc_profile": profile, "xmp": b"secret http://ns.adobe.com/xap"},
        "GIF": {"comment": b"secret"},
    }  # fmt: skip
    source = saved(tmp_path, four_colours(), form, **options[form])
    assert any(secret in source.read_bytes() for secret in SECRETS)
    data = derive(source, *SIZE)
    made = back(data)
    assert not [secret for secret in SECRETS if secret in data]
    assert not dict(made.getexif())
    assert not {"comment", "icc_profile", "xmp", "exif", "dpi", "photoshop"} & set(made.info)
    # Only the JFIF header, tables, the frame and its scans: no other segment (ITU-T T.81, table B.1).
    assert set(segments(data)) <= {0xE0, 0xDB, 0xC2, 0xC4, 0xDA}


def test_a_webp_holds_nothing_but_its_pixels(tmp_path: Path) -> None:
    """WebP container specification: a file of one lossy picture is RIFF, WEBP and one chunk, `VP8 `."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for form in ("JPEG", "PNG", "WEBP"):
        source = saved(tmp_path, four_colours(), form, exif=full_of_secrets(), icc_profile=profile)
        (data,) = derive_files(source, [Wanted(*SIZE, "image/webp")])
        assert data[:4] + data[8:16] == b"RIFFWEBPVP8 "
        assert int.from_bytes(data[16:20], "little") + 20 == len(data)
        made = Image.open(BytesIO(data))
        assert (made.format, made.size, made.info.get("exif"), made.info.get("icc_profile")) == (
            "WEBP",
            SIZE,
            None,
            None,
        )
        assert near(made.convert("RGB").getpixel(CORNERS["blue"]), COLOURS["blue"])


def segments(data: bytes) -> list[int]:
    found, at = [], 2
    while at < len(data) - 2:
        assert data[at] == 0xFF
        marker, length = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        found.append(marker)
        at += 2 + length
        if marker == 0xDA:
            while data[at] != 0xFF or data[at + 1] == 0:
                at += 1
    return found


@pytest.mark.parametrize("size", [(96, 64), (48, 32), (31, 17), (1, 1), (96, 1)])
@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_the_size_is_exactly_the_one_asked_for(tmp_path: Path, size: tuple[int, int], form: str) -> None:
    assert back(derive(saved(tmp_path, four_colours(), form), *size)).size == size


def test_a_large_picture_comes_down_without_losing_its_colours(tmp_path: Path) -> None:
    large = four_colours().resize((2400, 1600), Image.Resampling.NEAREST)
    made = back(derive(saved(tmp_path, large, "JPEG", quality=90), *SIZE))
    for name, place in CORNERS.items():
        assert near(made.getpixel(place), COLOURS[name], 6)


def test_transparency_lies_on_white(tmp_path: Path) -> None:
    clear = four_colours().convert("RGBA")
    clear.putalpha(0)
    half = Image.new("RGBA", SIZE, (0, 0, 0, 128))
    grey = Image.new("LA", SIZE, (0, 0))
    palette = four_colours().quantize(8)
    red = palette.getpixel(CORNERS["red"])
    keyed = Image.new("RGB", SIZE, (1, 2, 3))
    for picture, form, options, expected in (
        (clear, "PNG", {}, (255, 255, 255)),
        (clear, "WEBP", {"lossless": True}, (255, 255, 255)),
        (half, "PNG", {}, (127, 127, 127)),
        (grey, "PNG", {}, (255, 255, 255)),
        (palette, "PNG", {"transparency": red}, (255, 255, 255)),
        (palette, "GIF", {"transparency": red}, (255, 255, 255)),
        (keyed, "PNG", {"transparency": (1, 2, 3)}, (255, 255, 255)),
    ):
        made = back(derive(saved(tmp_path, picture, form, **options), 48, 32))
        assert near(made.getpixel((4, 4)), expected, 4), (form, picture.mode)
        if picture is palette:
            assert near(made.getpixel((43, 4)), COLOURS["green"])


@pytest.mark.parametrize(
    ("mode", "form", "colour", "expected"),
    [
        ("1", "PNG", 1, (255, 255, 255)),
        ("L", "JPEG", 100, (100, 100, 100)),
        ("P", "GIF", 0, (0, 0, 0)),
        ("I;16", "PNG", 32768, (128, 128, 128)),
        ("I;16", "PNG", 65535, (255, 255, 255)),
        ("I;16", "PNG", 255, (1, 1, 1)),
        ("CMYK", "JPEG", (0, 255, 255, 0), (255, 0, 0)),
        ("CMYK", "JPEG", (0, 0, 0, 0), (255, 255, 255)),
    ],
)
def test_every_kind_of_sample_becomes_eight_bit_colour(
    tmp_path: Path, mode: str, form: str, colour: int | tuple[int, ...], expected: tuple[int, ...]
) -> None:
    made = back(derive(saved(tmp_path, Image.new(mode, SIZE, colour), form), 48, 32))
    assert near(made.getpixel((20, 20)), expected, 3)


def test_an_embedded_profile_is_turned_into_srgb(tmp_path: Path) -> None:
    """A profile with red and green primaries swapped, so that unconverted colours would be plainly wrong."""
    swapped = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    # ICC.1:2022, 7.3: the tag table begins at byte 128 with its count; 12 bytes a tag.
    for at in range(132, 132 + 12 * int.from_bytes(swapped[128:132], "big"), 12):
        name = bytes(swapped[at : at + 4])
        if name in (b"rXYZ", b"gXYZ"):
            swapped[at : at + 4] = b"gXYZ" if name == b"rXYZ" else b"rXYZ"
    for mode in ("RGB", "RGBA"):
        source = saved(tmp_path, Image.new(mode, SIZE, (255, 0, 0)), "PNG", icc_profile=bytes(swapped))
        assert near(back(derive(source, *SIZE)).getpixel((5, 5)), (0, 255, 0), 8)
    clear = saved(tmp_path, Image.new("RGBA", SIZE, (255, 0, 0, 0)), "PNG", icc_profile=bytes(swapped))
    assert near(back(derive(clear, *SIZE)).getpixel((5, 5)), (255, 255, 255), 2)


@pytest.mark.parametrize("mode", ["RGB", "L", "CMYK"])
def test_an_unusable_profile_is_passed_over(tmp_path: Path, mode: str) -> None:
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for profile in (b"nonsense", srgb[:200], srgb if mode != "RGB" else b"\x00" * 128):
        grey = Image.new("RGB", SIZE, (90, 90, 90)).convert(mode)
        source = saved(tmp_path, grey, "JPEG", icc_profile=profile)
        assert near(back(derive(source, *SIZE)).getpixel((5, 5)), (90, 90, 90), 3)


@pytest.mark.parametrize("form", ["GIF", "PNG", "WEBP"])
def test_an_animation_gives_its_first_frame(tmp_path: Path, form: str) -> None:
    first, second = Image.new("RGB", SIZE, (0, 0, 0)), Image.new("RGB", SIZE, (255, 255, 255))
    source = saved(tmp_path, first, form, save_all=True, append_images=[second])
    assert near(back(derive(source, *SIZE)).getpixel((5, 5)), (0, 0, 0), 4)


def test_the_same_picture_gives_the_same_bytes(tmp_path: Path) -> None:
    source = saved(tmp_path, noise(), "PNG")
    assert derive(source, 150, 100) == derive(source, 150, 100)


def test_pixels_that_cannot_be_decoded_are_named_plainly(tmp_path: Path) -> None:
    for form, begin, end in (("PNG", 800, 200), ("GIF", 800, 200), ("WEBP", 800, 0), ("JPEG", 2000, 0)):
        source = saved(tmp_path, noise(), form)
        data = source.read_bytes()
        source.write_bytes(data[:begin] + data[len(data) - end :])
        with pytest.raises(PictureError) as raised:
            derive(source, 30, 20)
        assert raised.value.message.endswith(".") and raised.value.instead.endswith(".")
    with pytest.raises(PictureError):
        derive(tmp_path / "none.png", 30, 20)


def test_a_picture_without_size_is_the_callers_mistake(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no size"):
        derive(saved(tmp_path, noise(), "PNG"), 0, 20)


# --- several sizes, and parts ----------------------------------------------------------------------


def test_several_files_come_in_the_order_wanted(tmp_path: Path) -> None:
    source = saved(tmp_path, four_colours().resize((1200, 800)), "JPEG", quality=95)
    wanted = [Wanted(48, 32), Wanted(600, 400, "image/webp"), Wanted(240, 160), Wanted(48, 32, "image/webp")]
    made = [Image.open(BytesIO(data)) for data in derive_files(source, wanted)]
    assert [(each.format, *each.size) for each in made] == [
        ("JPEG", 48, 32), ("WEBP", 600, 400), ("JPEG", 240, 160), ("WEBP", 48, 32)
    ]  # fmt: skip
    for each in made:
        pixels = each.convert("RGB")
        for name, (x, y) in CORNERS.items():
            assert near(pixels.getpixel((x * each.width // 96, y * each.height // 64)), COLOURS[name])


def test_no_file_is_the_callers_mistake(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no size"):
        derive_files(saved(tmp_path, noise(), "PNG"), [])


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
@pytest.mark.parametrize("turned", range(1, 9))
def test_a_part_is_cut_from_the_picture_as_it_is_seen(tmp_path: Path, form: str, turned: int) -> None:
    exif = Image.Exif()
    exif[0x0112] = turned
    stored = four_colours().resize((960, 640), Image.Resampling.NEAREST)
    tagged = BytesIO()
    stored.save(tagged, "PNG", exif=exif)
    upright = ImageOps.exif_transpose(Image.open(tagged)).convert("RGB")
    options: dict[str, object] = {"quality": 95} if form == "JPEG" else {}
    source = saved(tmp_path, stored, form, exif=exif, **options)
    width, height = upright.size
    for left, top in ((0, 0), (width // 2, 0), (0, height // 2), (width // 2, height // 2)):
        box = (left, top, left + width // 2, top + height // 2)
        made = back(derive(source, 40, 30, box))
        expected = upright.getpixel((left + width // 4, top + height // 4))
        assert isinstance(expected, tuple)
        for spot in ((2, 2), (37, 2), (2, 27), (37, 27)):
            assert near(made.getpixel(spot), expected), (box, spot)
