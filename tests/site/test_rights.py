"""The site can be read by whoever serves it, and what is kept beside it only by whoever builds."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.samples.small_archive import run, write_archive

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


def test_only_the_owner_looks_into_what_is_kept_beside_a_folder_of_ones_own(root: Path, tmp_path: Path) -> None:
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
