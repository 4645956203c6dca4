"""Which files are derived of a picture, and which part of it a poster shows."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import PictureAsset, PictureView, StoryPage
from sitegen.edition.pictures import height_for, screen_box, widths
from sitegen.site.content import read_content
from tests.samples.station_folder import STATION, write_folder

NOW = datetime(2026, 11, 25, 15, tzinfo=UTC)
SIDES = st.integers(1, 9000)


@pytest.mark.parametrize(
    ("source", "derived"),
    [
        (4000, (480, 960, 1600)),
        (1601, (480, 960, 1600)),
        (1600, (480, 960, 1600)),
        (1599, (480, 960, 1599)),
        (960, (480, 960)),
        (700, (480, 700)),
        (480, (480,)),
        (3, (3,)),
    ],
)
def test_three_widths_at_most_and_none_enlarged(source: int, derived: tuple[int, ...]) -> None:
    assert widths(source) == derived


@given(SIDES, SIDES, st.tuples(st.floats(0, 1), st.floats(0, 1)))
def test_a_poster_is_the_largest_part_in_the_shape_of_a_screen(
    width: int, height: int, focus: tuple[float, float]
) -> None:
    left, top, right, bottom = screen_box(width, height, focus)
    assert 0 <= left < right <= width and 0 <= top < bottom <= height
    assert right - left == width or bottom - top == height
    # Within a pixel of 16:9, as far as whole pixels allow.
    assert abs((right - left) * 9 - (bottom - top) * 16) < 25
    for size, low, high, share in ((width, left, right, focus[0]), (height, top, bottom, focus[1])):
        point = min(share * size, size)
        assert low - 1 <= point <= high + 1
        assert abs((low + high) / 2 - point) <= 1 or low == 0 or high == size


@given(st.integers(1, 1600), SIDES, SIDES)
def test_heights_keep_the_shape(width: int, source_width: int, source_height: int) -> None:
    height = height_for(width, source_width, source_height)
    assert height >= 1
    assert height == 1 or abs(height - width * source_height / source_width) <= 0.5


STORY = """---
headline: A picture
aired: 2026-11-21
county: Heron Flats
photo: {file: seen.png, alt: A picture to look at, focus: [0.5, 0.1]}
video: {file: https://video.example.org/a.mp4, captions: a.vtt, poster: seen.png}
---
Words.
"""


def composed(folder: Path, held: str) -> tuple[StoryPage, dict[str, PictureAsset]]:
    station = STATION + "media_host: https://video.example.org\n"
    captions = "WEBVTT\n\n00:01.000 --> 00:02.000\nWords.\n"
    files = {"stories/2026/b.md": STORY, "captions/a.vtt": captions, "stories/2026/a.md": held}
    write_folder(folder, files, station)
    (folder / "content/photos").mkdir(exist_ok=True)
    Image.new("RGB", (1000, 1200)).save(folder / "content/photos/seen.png")
    reading = read_content(folder)
    assert reading.newsroom is not None and not reading.faults
    edition = compose_edition(reading.newsroom, NOW).edition
    (page,) = (page for page in edition.pages if isinstance(page, StoryPage))
    return page, {asset.address: asset for asset in edition.assets if isinstance(asset, PictureAsset)}


HELD = STORY.replace("headline:", "hold: true\nheadline:").replace("[0.5, 0.1]", "[0.5, 0.9]")


def test_a_photo_has_every_width_in_both_formats_and_a_poster_is_cut_around_the_focus(tmp_path: Path) -> None:
    page, assets = composed(tmp_path, HELD)
    photo, video = page.photo, page.video
    assert photo is not None and video is not None and isinstance(video.poster, PictureView)
    assert [(each.media_type, [width for _, width in each.files]) for each in photo.sources] == [
        ("image/webp", [480, 960, 1000]),
        ("image/jpeg", [480, 960, 1000]),
    ]
    assert (photo.width, photo.height, photo.original) == (1000, 1200, video.poster.original)
    for source in photo.sources:
        for address, width in source.files:
            asset = assets[address]
            assert (asset.width, asset.media_type, asset.box) == (width, source.media_type, None)
            assert abs(asset.height * 10 - width * 12) <= 10
    assert (assets[photo.address].width, assets[photo.address].media_type) == (960, "image/jpeg")
    poster = assets[video.poster.address]
    # Its middle would be at 120 pixels from the top, so the cut begins at the edge. A held story has no say.
    assert poster.box == (0, 0, 1000, 562) and (poster.width, poster.height) == (960, 540)
    assert (video.poster.width, video.poster.height) == (960, 540)
    assert len(assets) == 7


def test_names_change_exactly_with_the_source_and_the_part_shown(tmp_path: Path) -> None:
    page, assets = composed(tmp_path, HELD)
    again, _ = composed(tmp_path, HELD)
    assert page == again
    moved = STORY.replace("[0.5, 0.1]", "[0.5, 0.6]")
    write_folder(tmp_path, {"stories/2026/b.md": moved}, STATION + "media_host: https://video.example.org\n")
    reading = read_content(tmp_path)
    assert reading.newsroom is not None
    others = {asset.address for asset in compose_edition(reading.newsroom, NOW).edition.assets}
    assert len(set(assets) - others) == 1
