"""The default theme's own promise, above what every site is held to: all its text at least 7:1 in every scenario that a
reader can be in, by the program's engine, over every kind of page filled to its last part."""

from __future__ import annotations

import dataclasses
from functools import cache
from pathlib import Path

import pytest

from sitegen.proof.checks.base import PageFinding
from sitegen.proof.pagecheck import check_page, contrast_judge
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import load_theme
from tests.samples.page_models import sample_pages

ROOT = Path(__file__).parents[2]
NAMES = sorted(sample_pages())


@cache
def typesetter(old: bytes = b"", new: bytes = b"") -> Typesetter:
    """The theme, or one whose stylesheet has something else in the place of `old`."""
    theme = load_theme(ROOT, "tidetable")
    assets = tuple(
        (name, data.replace(old, new) if old and name.endswith(".css") else data)
        for name, data in theme.assets
    )
    return Typesetter(dataclasses.replace(theme, assets=assets), "en-US")


def contrast_findings(name: str, setter: Typesetter) -> list[PageFinding]:
    page = sample_pages()[name]
    judge = contrast_judge(dict(setter.theme_files).get, page.frame.address)
    found = check_page(page.address, setter.page(page), judge).findings
    return [finding for finding in found if "contrast" in finding.check]


@pytest.mark.parametrize("name", NAMES)
def test_all_text_has_seven_to_one_everywhere(name: str) -> None:
    assert contrast_findings(name, typesetter()) == []


@pytest.mark.parametrize(
    ("old", "new", "level"),
    [
        # 6.15:1 on paper: enough for AA, not for AAA.
        (b"--soft: #4d412f", b"--soft: #655a48", "AAA"),
        (b"--soft: #d3c5a8", b"--soft: #9c9077", "AAA"),
        (b"--soft: #4d412f", b"--soft: #9a8f7d", "AA"),
    ],
)
def test_softer_ink_is_noticed(old: bytes, new: bytes, level: str) -> None:
    assert level in {finding.level for finding in contrast_findings("story-full", typesetter(old, new))}
