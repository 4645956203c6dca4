"""The files that count only at a host's root: there when the site lives in a folder, whole, and only ours."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.site.errors import MachineError
from sitegen.site.forroot import lives_in_a_folder, write_for_root

FILES = {
    "404.html": b"lost",
    "robots.txt": b"User-agent: *\n",
    ".well-known/security.txt": b"Contact: mailto:a@example.org\n",
    "index.html": b"home",
}
IN_A_FOLDER = "https://www.example.org/small-wonders/"


def bring(folder: Path, files: dict[str, bytes], address: str) -> None:
    """Brings the folder to an edition of these files, published beside it."""
    site = folder.with_name("site")
    for name, data in files.items():
        (site / name).parent.mkdir(parents=True, exist_ok=True)
        (site / name).write_bytes(data)
    write_for_root(folder, site, files.keys(), address)


def held(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


@pytest.mark.parametrize(
    ("address", "is_so"),
    [
        (IN_A_FOLDER, True),
        ("https://www.example.org/", False),
        ("https://www.example.org", False),
        ("https://www.example.org:8443/a/b/", True),
    ],
)
def test_a_site_lives_in_a_folder_when_its_address_has_a_path(address: str, is_so: bool) -> None:
    assert lives_in_a_folder(address) is is_so


def test_a_site_in_a_folder_has_its_files_for_the_root_beside_it(tmp_path: Path) -> None:
    folder = tmp_path / "for-root"
    bring(folder, FILES, IN_A_FOLDER)
    assert held(folder) == {name: data for name, data in FILES.items() if name != "index.html"}


def test_what_an_edition_no_longer_has_goes_and_what_is_not_ours_stays(tmp_path: Path) -> None:
    folder = tmp_path / "for-root"
    bring(folder, FILES, IN_A_FOLDER)
    (folder / "notes.txt").write_text("copied on Monday")
    bring(folder, {"404.html": b"new", "robots.txt": b"x"}, IN_A_FOLDER)
    assert held(folder) == {"404.html": b"new", "robots.txt": b"x", "notes.txt": b"copied on Monday"}
    assert not (folder / ".well-known").exists()


def test_a_site_at_the_root_needs_no_such_folder(tmp_path: Path) -> None:
    folder = tmp_path / "for-root"
    bring(folder, FILES, "https://www.example.org/")
    assert not folder.exists()
    bring(folder, FILES, IN_A_FOLDER)
    bring(folder, FILES, "https://www.example.org/")
    assert not folder.exists()


def test_a_file_that_did_not_change_is_not_touched(tmp_path: Path) -> None:
    folder = tmp_path / "for-root"
    bring(folder, FILES, IN_A_FOLDER)
    before = {path: path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}
    bring(folder, FILES, IN_A_FOLDER)
    assert before == {path: path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}


def test_a_folder_that_cannot_be_made_is_told_in_words(tmp_path: Path) -> None:
    (tmp_path / "for-root").write_text("a file")
    with pytest.raises(MachineError, match="for-root"):
        bring(tmp_path / "for-root", FILES, IN_A_FOLDER)
