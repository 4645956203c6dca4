"""Watching folders: what is saved is told, whatever the system has against being asked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, Queue
from typing import Any

import pytest
import watchfiles

from sitegen.desk import watching
from sitegen.desk.watching import Watch

SECONDS = 60
"""How long a test waits for what comes within milliseconds, on a machine with more to do."""
Told = Queue["frozenset[str] | None"]


@pytest.fixture(autouse=True)
def short_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(watching, "LOOK_UNTOLD_SECONDS", 0.01)
    monkeypatch.setattr(watching, "LOOKS_BEFORE_ASKING", 2)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "content").mkdir()
    (tmp_path / "content/coats.md").write_text("")
    return tmp_path


@contextmanager
def watched(root: Path, told: Told) -> Iterator[Watch]:
    watch = Watch(root, (root / "content", root / "themes"), told.put)
    try:
        yield watch
    finally:
        watch.stop()


def told_of_a_save(root: Path, told: Told) -> bool:
    """Saves until it is told by name: the system's word begins some time after it is asked."""
    for number in range(20 * SECONDS):
        (root / "content/coats.md").write_text(str(number))
        try:
            if told.get(timeout=0.05) == frozenset({"content/coats.md"}):
                return True
        except Empty:
            continue
    return False


def test_a_save_is_told_by_name(root: Path) -> None:
    told: Told = Queue()
    with watched(root, told):
        assert told_of_a_save(root, told)


def test_what_is_no_save_is_told_of_as_nothing(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    names = (
        "themes/a/templates/__pycache__/home.cpython-311.pyc",
        "content/.coats.md.swp",
        "content/coats.md~",
    )

    def once(*folders: Path, **options: Any) -> Iterator[set[tuple[Any, str]]]:
        yield {(None, str(root / name)) for name in names}
        yield {(None, str(root / name)) for name in (*names, "themes/a/templates/home.html")}
        options["stop_event"].wait(SECONDS)

    monkeypatch.setattr(watchfiles, "watch", once)
    told: Told = Queue()
    with watched(root, told):
        assert told.get(timeout=SECONDS) == frozenset()
        assert told.get(timeout=SECONDS) == frozenset({"themes/a/templates/home.html"})


def test_where_the_system_refuses_everything_is_looked_at_and_it_is_asked_again(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = 0
    allowed = watchfiles.watch

    def refusing(*folders: Path, **options: Any) -> Iterator[set[tuple[Any, str]]]:
        nonlocal asked
        asked += 1
        if asked <= 3:
            raise OSError(28, "OS file watch limit reached")
        yield from allowed(*folders, **options)

    monkeypatch.setattr(watchfiles, "watch", refusing)
    told: Told = Queue()
    with watched(root, told):
        for _ in range(6):
            assert told.get(timeout=SECONDS) is None
        assert told_of_a_save(root, told)
    said = capsys.readouterr().err
    assert said.count("OS file watch limit reached") == 1 and "Traceback" not in said


def test_a_watch_that_ends_in_the_middle_is_begun_again(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = 0
    allowed = watchfiles.watch

    def ending(*folders: Path, **options: Any) -> Iterator[set[tuple[Any, str]]]:
        nonlocal asked
        asked += 1
        if asked == 1:
            return
        if asked == 2:
            yield {(watchfiles.Change.modified, str(folders[0] / "coats.md"))}
            raise RuntimeError("the queue is gone")
        yield from allowed(*folders, **options)

    monkeypatch.setattr(watchfiles, "watch", ending)
    told: Told = Queue()
    with watched(root, told):
        assert told.get(timeout=SECONDS) is None
        assert told_of_a_save(root, told)
        assert told.get(timeout=SECONDS) is None
        while asked < 3:
            assert told.get(timeout=SECONDS) is None
        assert told_of_a_save(root, told)
    assert "the queue is gone" in capsys.readouterr().err


def test_a_folder_that_was_away_at_first_is_watched_when_the_system_is_asked_again(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folders_of: list[int] = []
    allowed = watchfiles.watch

    def once(*folders: Path, **options: Any) -> Iterator[set[tuple[Any, str]]]:
        folders_of.append(len(folders))
        if len(folders_of) == 1:
            raise OSError(28, "OS file watch limit reached")
        yield from allowed(*folders, **options)

    monkeypatch.setattr(watchfiles, "watch", once)
    monkeypatch.setattr(watching, "LOOKS_BEFORE_ASKING", 1)
    told: Told = Queue()

    def tell(paths: frozenset[str] | None) -> None:
        (root / "themes").mkdir(exist_ok=True)
        told.put(paths)

    watch = Watch(root, (root / "content", root / "themes"), tell)
    try:
        assert told_of_a_save(root, told)
    finally:
        watch.stop()
    assert folders_of == [1, 2]


def test_a_look_that_fails_ends_nothing(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told: Told = Queue()

    def failing(paths: frozenset[str] | None) -> None:
        told.put(paths)
        raise ValueError("a mistake")

    watch = Watch(root, (root / "content",), failing)
    try:
        assert told_of_a_save(root, told) and told_of_a_save(root, told)
    finally:
        watch.stop()
    assert "ValueError: a mistake" in capsys.readouterr().err
