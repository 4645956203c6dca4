"""The demonstration's pictures: as many as the drawing program names, of one size, light, and drawn alike each time."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.demo.draw_photos import PHOTOS, PICTURES, drawn
from tests.demo.linocut import HEIGHT, WIDTH


def test_every_picture_is_drawn_and_nothing_else_lies_there() -> None:
    assert {path.name for path in PHOTOS.iterdir()} == {f"{name}.jpg" for name in PICTURES}


@pytest.mark.parametrize("name", sorted(PICTURES))
def test_a_picture_has_its_size_and_is_light_enough_to_keep(name: str) -> None:
    path = PHOTOS / f"{name}.jpg"
    assert path.stat().st_size < 150_000
    with Image.open(path) as picture:
        assert (picture.format, picture.mode, picture.size) == ("JPEG", "RGB", (WIDTH, HEIGHT))
        assert not picture.getexif()


def test_drawing_twice_gives_the_same_bytes() -> None:
    assert drawn("dog-adoption") == drawn("dog-adoption")
