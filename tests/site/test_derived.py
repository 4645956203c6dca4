"""The store of derived pictures: made once, kept, the same bytes whatever it held, and never in the way."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime
from pathlib import Path
from random import Random

import msgspec
import pytest
from PIL import Image

from sitegen.edition.models import PictureAsset
from sitegen.site import derived
from sitegen.site.build import make
from sitegen.site.content import read_content
from sitegen.site.derived import DerivedStore
from sitegen.typeset.pictures import PictureError
from tests.samples.station_folder import story, write_folder

ASSETS = [
    PictureAsset(f"pictures/abc-{width}.{ending}", "photos/a.png", "", width, width * 2 // 3, media_type)
    for width in (60, 120, 300)
    for media_type, ending in (("image/webp", "webp"), ("image/jpeg", "jpg"))
]


@pytest.fixture
def source(tmp_path: Path) -> Path:
    file = tmp_path / "a.png"
    Image.frombytes("RGB", (300, 200), Random(2).randbytes(180_000)).save(file)
    return file


def in_bytes(contents: list[bytes | Path]) -> list[bytes]:
    return [content if isinstance(content, bytes) else content.read_bytes() for content in contents]


def pictures_in(folder: Path) -> list[Path]:
    return sorted(file for file in folder.iterdir() if file.suffix in (".jpg", ".webp"))


def test_pictures_are_made_once(tmp_path: Path, source: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = DerivedStore(tmp_path / "kept")
    first = in_bytes(store.pictures(source, ASSETS))
    monkeypatch.setattr(derived, "derive", lambda *_: pytest.fail("made again"))
    assert in_bytes(store.pictures(source, ASSETS)) == first


@pytest.mark.parametrize("lost", range(len(ASSETS)))
def test_bytes_do_not_hang_on_what_was_kept(tmp_path: Path, source: Path, lost: int) -> None:
    fresh = in_bytes(DerivedStore(None).pictures(source, ASSETS))
    store = DerivedStore(tmp_path / "kept")
    store.pictures(source, ASSETS)
    held = pictures_in(tmp_path / "kept")
    assert len(held) == len(ASSETS)
    for at, file in enumerate(held):
        if at == lost:
            file.write_bytes(b"")
        elif at % 2:
            file.unlink()
    assert in_bytes(store.pictures(source, ASSETS)) == fresh


def test_another_version_of_the_library_makes_them_anew(
    tmp_path: Path, source: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = DerivedStore(tmp_path / "kept")
    store.pictures(source, ASSETS)
    monkeypatch.setattr("PIL.__version__", "0.0.0")
    store.pictures(source, ASSETS)
    assert len(pictures_in(tmp_path / "kept")) == 2 * len(ASSETS)


def test_a_store_that_cannot_be_written_to_is_no_error(tmp_path: Path, source: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    store = DerivedStore(tmp_path / "file")
    assert in_bytes(store.pictures(source, ASSETS)) == in_bytes(DerivedStore(None).pictures(source, ASSETS))


def test_a_broken_picture_keeps_nothing(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    with pytest.raises(PictureError):
        DerivedStore(tmp_path / "kept").pictures(tmp_path / "a.png", ASSETS)
    assert not (tmp_path / "kept").exists()


@pytest.mark.parametrize("damage", [b"garbage", b"", b"longer than it was " * 9_000])
def test_a_damaged_picture_is_made_anew(tmp_path: Path, source: Path, damage: bytes) -> None:
    store = DerivedStore(tmp_path / "kept")
    first = in_bytes(store.pictures(source, ASSETS))
    for file in pictures_in(tmp_path / "kept"):
        file.write_bytes(damage)
        assert in_bytes(store.pictures(source, ASSETS)) == first
        assert in_bytes(DerivedStore(tmp_path / "kept").pictures(source, ASSETS)) == first


def test_a_picture_of_a_lost_or_damaged_digest_is_made_anew(tmp_path: Path, source: Path) -> None:
    store = DerivedStore(tmp_path / "kept")
    first = in_bytes(store.pictures(source, ASSETS))
    lost, damaged, *_ = sorted((tmp_path / "kept").glob("*.sha256"))
    lost.unlink()
    damaged.write_bytes(b"\xff")
    assert in_bytes(store.pictures(source, ASSETS)) == first


def test_a_picture_that_is_another_by_now_is_not_kept_under_the_old_name(
    tmp_path: Path, source: Path
) -> None:
    digest = hashlib.sha256(source.read_bytes()).hexdigest()
    named = [msgspec.structs.replace(asset, digest=digest) for asset in ASSETS]
    store = DerivedStore(tmp_path / "kept")
    first = source.read_bytes()
    Image.new("RGB", (300, 200), (200, 0, 0)).save(source)
    with pytest.raises(PictureError):
        store.pictures(source, named)
    assert not (tmp_path / "kept").exists()
    source.write_bytes(first)
    assert in_bytes(store.pictures(source, named)) == in_bytes(DerivedStore(None).pictures(source, ASSETS))


def test_a_picture_that_is_replaced_during_a_build_is_a_fault(tmp_path: Path) -> None:
    photo = tmp_path / "content/photos/a.png"
    photo.parent.mkdir(parents=True)
    Image.new("RGB", (600, 400), (0, 0, 200)).save(photo)
    (tmp_path / "themes").symlink_to(Path(__file__).parents[2] / "themes")
    shown = 'photo: {file: a.png, alt: "A wall", credit: Ada Quill}'
    reading = read_content(write_folder(tmp_path, {"stories/2026/wall.md": story(shown)}))
    Image.new("RGB", (600, 400), (200, 0, 0)).save(photo)
    made = make(reading, tmp_path, datetime(2026, 12, 1, tzinfo=UTC), DerivedStore(tmp_path / "kept"))
    assert made.report.stops("AA")
    (fault,) = (each for each in made.report.copy if each.weight == "fault")
    assert fault.file == "content/photos/a.png"
    assert not (tmp_path / "kept").exists() or not pictures_in(tmp_path / "kept")
