"""Files in one step: all or none, whole or not there, and nobody's file is written over or taken away."""

from __future__ import annotations

import os
from contextlib import ExitStack
from pathlib import Path

import pytest

from sitegen.site.onestep import put, put_new
from tests.samples.full_disk import no_file_above


@pytest.fixture(params=["hard links", "no hard links"])
def folder(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, on a disk of either kind."""
    if request.param == "no hard links":

        def refuse(part: Path, target: Path) -> None:
            if target.exists():
                raise FileExistsError(17, "File exists")
            raise PermissionError(1, "Operation not permitted")

        monkeypatch.setattr(os, "link", refuse)
    return tmp_path


def held(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_new_files_are_made_with_their_folders(folder: Path) -> None:
    put_new({folder / "a/b/one": b"1", folder / "two": b"2"})
    assert held(folder) == {"a/b/one": b"1", "two": b"2"}


def test_all_or_none_when_the_disk_refuses(folder: Path) -> None:
    with no_file_above(10), pytest.raises(OSError) as refused:
        put_new({folder / "one": b"1", folder / "two": b"2" * 20, folder / "three": b"3"})
    assert refused.value.filename == str(folder / "two")
    assert held(folder) == {}


@pytest.mark.parametrize("kind", ["file", "folder", "dangling link"])
def test_all_or_none_when_a_name_is_taken(folder: Path, kind: str) -> None:
    if kind == "file":
        (folder / "two").write_bytes(b"mine")
    elif kind == "folder":
        (folder / "two").mkdir()
    else:
        (folder / "two").symlink_to("nowhere")
    before = held(folder)
    with pytest.raises(FileExistsError) as refused:
        put_new({folder / "one": b"1", folder / "two": b"2"})
    assert refused.value.filename == str(folder / "two")
    assert held(folder) == before
    assert [path.name for path in folder.iterdir()] == ["two"]


def test_all_or_none_when_interrupted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    link = os.link

    def stop_at_the_second(part: Path, target: Path) -> None:
        link(part, target)
        if target.name == "two":
            raise KeyboardInterrupt

    monkeypatch.setattr(os, "link", stop_at_the_second)
    with pytest.raises(KeyboardInterrupt):
        put_new({tmp_path / name: b"x" for name in ("one", "two", "three")})
    assert list(tmp_path.iterdir()) == []


def test_a_copy_that_is_refused_in_the_middle_is_taken_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with ExitStack() as full:

        def refuse(part: Path, target: Path) -> None:
            # The parts fitted; the copies, which stand in for hard links, do not.
            if target.name == "two":
                full.enter_context(no_file_above(10))
            raise PermissionError(1, "Operation not permitted")

        monkeypatch.setattr(os, "link", refuse)
        with pytest.raises(OSError) as refused:
            put_new({tmp_path / "one": b"1" * 20, tmp_path / "two": b"2" * 20})
    assert refused.value.filename == str(tmp_path / "two")
    assert list(tmp_path.iterdir()) == []


def test_a_file_where_a_folder_should_be_is_no_file_that_is_there_already(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"")
    with pytest.raises(NotADirectoryError):
        put_new({tmp_path / "a/one": b"1"})
    with pytest.raises(NotADirectoryError):
        put(tmp_path / "a/one", b"1")


def test_what_is_put_over_a_file_is_whole_or_the_file_is_as_it_was(tmp_path: Path) -> None:
    put(tmp_path / "a/sheet", b"o" * 100)
    with no_file_above(10), pytest.raises(OSError) as refused:
        put(tmp_path / "a/sheet", b"n" * 100)
    assert refused.value.filename == str(tmp_path / "a/sheet")
    assert held(tmp_path) == {"a/sheet": b"o" * 100}
    put(tmp_path / "a/sheet", b"new")
    assert held(tmp_path) == {"a/sheet": b"new"}
