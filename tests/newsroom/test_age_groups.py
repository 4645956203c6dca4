"""The demonstration's toy drives sort what they accept by age as such drives do."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sitegen.newsroom.matter import split_matter
from sitegen.newsroom.nodes import Mapping, Node, Scalar, Sequence

STORIES = Path(__file__).parents[2] / "content" / "stories"
DRIVES = sorted(STORIES.glob("*/toy-shelf.md"))
AGES = re.compile(r"(\d+)-(\d+) (months|years)\Z")


def accepted(node: Node, key: str = "") -> list[str]:
    """The entries under `accepts`, wherever it stands."""
    if isinstance(node, Mapping):
        return [text for name, value in node.entries for text in accepted(value, name.text)]
    if isinstance(node, Sequence):
        return [text for item in node.items for text in accepted(item, key)]
    return [node.text] if isinstance(node, Scalar) and key == "accepts" else []


def test_there_are_such_drives() -> None:
    assert len(DRIVES) >= 3


@pytest.mark.parametrize("path", DRIVES, ids=lambda path: path.parent.name)
def test_ages_leave_no_month_out_and_count_none_twice(path: Path) -> None:
    """Common practice, no source: 0-11 months, then 1-2, 3-5, 6-8 and 9-12 years."""
    node = split_matter(path.read_text("utf-8")).node
    assert node is not None
    months: list[int] = []
    for text in accepted(node):
        match = AGES.match(text)
        if match is not None:
            first, last, unit = int(match[1]), int(match[2]), match[3]
            months += range(first, last + 1) if unit == "months" else range(first * 12, (last + 1) * 12)
    assert months == list(range(13 * 12))
