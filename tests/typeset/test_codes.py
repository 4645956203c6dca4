"""QR codes as a decoder of another make reads them, and as drawings that can stand in any page."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.typeset.codes import MASK, QUIET_MODULES, code_drawing


def dark_modules(drawing: str) -> tuple[int, set[tuple[int, int]]]:
    """(modules to a side, the (x, y) of the dark ones), from the horizontal strokes of a drawing."""
    root = ElementTree.fromstring(drawing)
    side = int(root.attrib["viewBox"].split()[2])
    (strokes,) = (path.attrib["d"] for path in root if "stroke" in path.attrib)
    dark: set[tuple[int, int]] = set()
    x, y = 0.0, 0.0
    for step, values in re.findall(r"([Mmh])([-\d. ]+)", strokes):
        numbers = [float(value) for value in values.split()]
        if step == "h":
            dark |= {(int(x) + ahead, int(y)) for ahead in range(int(numbers[0]))}
            x += numbers[0]
        else:
            x, y = (numbers[0], numbers[1]) if step == "M" else (x + numbers[0], y + numbers[1])
    return side, dark


@pytest.mark.parametrize(
    "address",
    [
        "https://www.example.org/small-wonders/stories/2026/coat-closet/",
        "https://www.example.org/",
        "https://www.example.org/" + "a-long-way-to-go/" * 12,
        "https://www.example.org/stories/2026/pe%C3%B1a?a=1&b=2",
    ],
)
def test_another_decoder_reads_the_address(address: str) -> None:
    import zxingcpp
    from PIL import Image

    side, dark = dark_modules(code_drawing(address, "Code"))
    picture = Image.new("L", (side, side), 255)
    for spot in dark:
        picture.putpixel(spot, 0)
    large = picture.resize((side * 4, side * 4), Image.Resampling.NEAREST)
    (found,) = zxingcpp.read_barcodes(large)
    assert found.text == address and found.format == zxingcpp.BarcodeFormat.QRCode
    # A code with a piece torn off is still read.
    large.paste(255, (side * 2, side * 3, side * 2 + 16, side * 3 + 16))
    assert [each.text for each in zxingcpp.read_barcodes(large)] == [address]


@given(st.text(st.characters(codec="ascii", categories=["L", "N", "P"]), max_size=300))
def test_it_is_what_the_librarys_own_writer_draws(rest: str) -> None:
    import segno

    address = f"https://www.example.org/{rest}"
    code = segno.make_qr(address, error="m", boost_error=False, mask=MASK)
    theirs = code.svg_inline(
        border=QUIET_MODULES, light="#fff", dark="#000", omitsize=True, svgclass=None, lineclass=None
    )
    assert str(code_drawing(address, "Code")).replace(' role="img" aria-label="Code"', "") == theirs


def test_it_is_named_for_those_who_do_not_see_it_and_holds_no_style() -> None:
    drawing = code_drawing("https://www.example.org/", 'A "code" <here> & there')
    root = ElementTree.fromstring(drawing)
    assert root.attrib["role"] == "img" and root.attrib["aria-label"] == 'A "code" <here> & there'
    assert "style" not in drawing and "id=" not in drawing
    # Four modules of quiet around what is dark.
    side, dark = dark_modules(drawing)
    assert min(x for x, _ in dark) == 4 == min(y for _, y in dark)
    assert max(x for x, _ in dark) == side - 5 == max(y for _, y in dark)
