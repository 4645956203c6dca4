"""The site can be read by whoever serves it, and what is kept beside it only by whoever builds."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.samples.small_archive import run, site_of, write_archive

pytestmark = pytest.mark.skipif(os.name != "posix", reason="rights of files are those of POSIX")


def rights(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture
def umask() -> Iterator[None]:
    """The common one, whatever that of the tests is."""
    before = os.umask(0o022)
    yield
    os.umask(before)


@pytest.fixture
def root(tmp_path: Path, umask: None) -> Path:
    return write_archive(tmp_path / "station")


def test_only_the_owner_looks_into_what_is_kept_beside_a_folder_of_ones_own(
    root: Path, tmp_path: Path
) -> None:
    out = tmp_path / "www" / "site"
    assert run(root, "--out", str(out)) == 0
    beside = tmp_path / "www" / "site.sitegen"
    assert (beside / "accepted/content/stories/2025/later.md").is_file()
    assert rights(beside) == 0o700
    assert rights(out) == rights(tmp_path / "www") == 0o755
    # One that stood open, as they once did, is shut; one that a group was let into stays so.
    beside.chmod(0o755)
    assert run(root, "--out", str(out)) == 0
    assert rights(beside) == 0o700
    beside.chmod(0o770)
    assert run(root, "--out", str(out)) == 0
    assert rights(beside) == 0o770


def shut(folder: Path) -> list[str]:
    """What is in a site, the folder itself too, and not for everybody to read."""
    return [
        path.relative_to(folder).as_posix()
        for path in (folder, *folder.rglob("*"))
        if rights(path) & 0o555 != (0o555 if path.is_dir() else 0o444)
    ]


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_site_can_be_read_whatever_umask_it_is_built_under(root: Path, tmp_path: Path, jobs: str) -> None:
    os.umask(0o077)
    assert run(root, "--jobs", jobs) == 0
    assert shut(root / "build" / "site") == []
    assert rights(root / "build") == 0o755
    os.umask(0o022)


def test_what_was_its_owners_alone_is_opened_by_the_next_build(root: Path) -> None:
    site = root / "build" / "site"
    assert run(root) == 0
    before = site_of(root)
    for path in site.rglob("*"):
        path.chmod(0o700 if path.is_dir() else 0o600)
    (site / "index.html").chmod(0o640)
    assert run(root) == 0
    assert shut(site) == ["index.html"], "what a group may read is meant so"
    assert site_of(root) == before
