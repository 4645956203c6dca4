"""The store of derived pictures: made once, kept, the same bytes whatever it held, and never in the way."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from PIL import Image

from sitegen.edition.models import PictureAsset
from sitegen.site import derived
from sitegen.site.derived import DerivedStore
from sitegen.typeset.pictures import PictureError

ASSETS = [
    PictureAsset(f"pictures/abc-{width}.{ending}", "photos/a.png", width, width * 2 // 3, media_type)
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
    held = sorted((tmp_path / "kept").iterdir())
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
    assert len(list((tmp_path / "kept").iterdir())) == 2 * len(ASSETS)


def test_a_store_that_cannot_be_written_to_is_no_error(tmp_path: Path, source: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    store = DerivedStore(tmp_path / "file")
    assert in_bytes(store.pictures(source, ASSETS)) == in_bytes(DerivedStore(None).pictures(source, ASSETS))


def test_a_broken_picture_keeps_nothing(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    with pytest.raises(PictureError):
        DerivedStore(tmp_path / "kept").pictures(tmp_path / "a.png", ASSETS)
    assert not (tmp_path / "kept").exists()
