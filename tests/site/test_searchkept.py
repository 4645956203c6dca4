"""The state of the search: kept whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.site.searchkept import SEARCH_NAME, SearchShelf
from sitegen.typeset.searchdata import SearchState

STATE = SearchState(b"basis", {}, {"coats": 2}, {"coat": "AB"})


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    shelf = SearchShelf(tmp_path, "ground")
    shelf.put(STATE)
    return tmp_path


def test_what_was_put_is_taken(kept: Path) -> None:
    assert SearchShelf(kept, "ground").take() == STATE


def test_nothing_is_taken_of_another_program_or_for_a_fresh_build(kept: Path) -> None:
    assert SearchShelf(kept, "other").take() is None
    assert SearchShelf(kept, "ground", fresh=True).take() is None


@pytest.mark.parametrize("length", [0, 5, 16, 20])
def test_a_file_cut_short_is_not_believed(kept: Path, length: int) -> None:
    whole = (kept / SEARCH_NAME).read_bytes()
    (kept / SEARCH_NAME).write_bytes(whole[:length])
    assert SearchShelf(kept, "ground").take() is None


def test_a_folder_that_cannot_be_written_keeps_nothing(tmp_path: Path) -> None:
    shelf = SearchShelf(tmp_path / "missing", "ground")
    shelf.put(STATE)
    assert SearchShelf(tmp_path / "missing", "ground").take() is None
