"""What is kept beside the program's sources: taken as it was kept, or not at all."""

from __future__ import annotations

import os
import sys
from importlib.util import cache_from_source
from pathlib import Path

import pytest

from sitegen.typeset.pycache import FOLDER, keep, kept, state_of_module


@pytest.fixture(autouse=True)
def beside(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "pycache_prefix", None)
    monkeypatch.setattr(sys, "dont_write_bytecode", False)


@pytest.fixture
def source(tmp_path: Path) -> Path:
    path = tmp_path / "home.html"
    path.write_text("x")
    return path


def test_what_was_kept_is_taken_for_the_same_alone(source: Path) -> None:
    assert kept(source, "a") is None
    keep(source, "a", b"made of a")
    assert kept(source, "a") == b"made of a"
    assert kept(source, "b") is None
    assert kept(source.with_name("other.html"), "a") is None
    keep(source, "b", b"made of b")
    assert (kept(source, "a"), kept(source, "b")) == (None, b"made of b")
    assert [path.parent.name for path in source.parent.rglob("*.pyc")] == [FOLDER]


def test_another_python_or_program_takes_nothing(source: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, other in (("MAGIC_NUMBER", b"else"), ("__version__", "else")):
        keep(source, "a", b"made")
        with monkeypatch.context() as patch:
            patch.setattr(f"sitegen.typeset.pycache.{name}", other)
            assert kept(source, "a") is None
        assert kept(source, "a") == b"made"


def test_nothing_that_is_damaged_is_taken(source: Path) -> None:
    keep(source, "a", b"made of it")
    place = Path(cache_from_source(source))
    whole = place.read_bytes()
    for at in range(len(whole)):
        place.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        assert kept(source, "a") is None
        place.write_bytes(whole[:at])
        assert kept(source, "a") is None
    place.write_bytes(whole)
    assert kept(source, "a") == b"made of it"


def test_where_nothing_can_be_written_nothing_is_said(source: Path) -> None:
    (source.parent / FOLDER).write_text("in the way")
    keep(source, "a", b"made")
    assert kept(source, "a") is None
    keep(source.with_name("gone.html"), "a", b"made")
    assert sorted(path.name for path in source.parent.iterdir()) == [FOLDER, "home.html"]


def test_a_write_that_fails_leaves_nothing(source: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keep(source, "a", b"made before")

    def refuse(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", refuse)
        keep(source, "b", b"made")
    assert kept(source, "a") == b"made before"
    assert len(list((source.parent / FOLDER).iterdir())) == 1


def test_python_is_asked_where_and_whether(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    keep(source, "a", b"made")
    assert not (source.parent / FOLDER).exists()
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "elsewhere"))
    keep(source, "a", b"made")
    assert kept(source, "a") == b"made"
    assert not (source.parent / FOLDER).exists()
    monkeypatch.setattr(sys.implementation, "cache_tag", None)
    keep(source, "a", b"made")
    assert kept(source, "a") is None


def test_nobody_may_write_there_who_may_not_write_the_source(source: Path) -> None:
    source.chmod(0o644)
    before = os.umask(0)
    try:
        keep(source, "a", b"made")
    finally:
        os.umask(before)
    assert Path(cache_from_source(source)).stat().st_mode & 0o777 == 0o644


def test_a_module_is_known_by_its_file(source: Path) -> None:
    first = state_of_module(str(source))
    os.utime(source, ns=(1, 1))
    assert first != state_of_module(str(source)) != ""
    assert state_of_module(str(source.with_name("gone.py"))) == ""
