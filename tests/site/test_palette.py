"""The sheet of colours on the disk."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.site.errors import MachineError
from sitegen.site.palette import write_sheet
from tests.samples.full_disk import no_file_above


def test_a_disk_that_refuses_leaves_the_old_sheet(tmp_path: Path) -> None:
    folder = tmp_path / "build/reports"
    sheet = write_sheet(folder, "o" * 1000)
    with no_file_above(100), pytest.raises(MachineError, match=r"palette\.html"):
        write_sheet(folder, "n" * 1000)
    assert sheet.read_text("utf-8") == "o" * 1000
    assert [path.name for path in folder.iterdir()] == ["palette.html"]
