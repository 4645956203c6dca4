"""The contrast formulas against published worked values, two other libraries, and the published ACT cases."""

from __future__ import annotations

import hashlib
import json
import math
import re
from pathlib import Path
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as some

from sitegen.proof.contrast.engine import ContrastEngine
from sitegen.proof.contrast.formulas import (
    BLACK,
    WHITE,
    Colour,
    contrast_ratio,
    is_large,
    relative_luminance,
    relative_luminance_of_bytes,
    shown,
)
from sitegen.proof.document import parse

# Pairs and the ratio printed for them, cut or rounded by their authors as they liked: ACT rules afw4f7 and 09o5cg,
# Understanding 1.4.11, techniques G195, G207 and G223 (https://www.w3.org/WAI/WCAG22/).
PUBLISHED: Final = (
    ("000000", "ffffff", 21.0),
    ("333333", "ffffff", 12.6),
    ("000000", "666666", 3.6),
    ("0000ee", "ffffff", 9.39),
    ("aaaaaa", "ffffff", 2.3),
    ("777777", "eeeeee", 3.85),
    ("666666", "ffffff", 5.7),
    ("000000", "777777", 4.6),
    ("949494", "ffffff", 3.0),
    ("cccccc", "ffffff", 1.6),
    ("ffffff", "6e747b", 4.7),
    ("9d9d9d", "ffffff", 2.7),
    ("fff000", "ffffff", 1.2),
    ("e5e5e5", "6221ea", 5.6),
    ("ff3838", "ffffff", 3.6),
    ("e3660e", "ffffff", 3.4),
    ("ca0000", "ffffff", 6.0),
)
bytes_of_colour = some.tuples(*(some.integers(0, 255),) * 3)


def colour(text: str) -> Colour:
    red, green, blue = (int(text[start : start + 2], 16) / 255 for start in (0, 2, 4))
    return red, green, blue, 1.0


@pytest.mark.parametrize(("one", "other", "printed"), PUBLISHED)
def test_published_ratios(one: str, other: str, printed: float) -> None:
    ratio = contrast_ratio(colour(one), colour(other))
    digits = len(str(printed).split(".")[1].rstrip("0"))
    cut = math.floor(ratio * 10**digits) / 10**digits
    assert printed in (cut, round(ratio, digits))


@given(bytes_of_colour, bytes_of_colour)
def test_agrees_with_a_library_of_the_same_formula(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    wcag = pytest.importorskip("wcag_contrast_ratio")
    first, second = ((*(channel / 255 for channel in each), 1.0) for each in (one, other))
    theirs = wcag.rgb(first[:3], second[:3])
    assert contrast_ratio(first, second) == pytest.approx(theirs, rel=1e-9)


@given(bytes_of_colour, bytes_of_colour)
def test_agrees_with_a_colour_library(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    # Its luminance has more digits than WCAG's, which moves ratios in the third decimal.
    from coloraide import Color

    def library(channels: tuple[int, ...]) -> Color:
        return Color("srgb", [channel / 255 for channel in channels])

    ours = contrast_ratio(
        (one[0] / 255, one[1] / 255, one[2] / 255, 1.0), (other[0] / 255, other[1] / 255, other[2] / 255, 1.0)
    )
    assert ours == pytest.approx(library(one).contrast(library(other), method="wcag21"), abs=0.01)


@given(bytes_of_colour, bytes_of_colour)
def test_contrast_has_no_direction_and_bounds(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    first = (one[0] / 255, one[1] / 255, one[2] / 255, 1.0)
    second = (other[0] / 255, other[1] / 255, other[2] / 255, 1.0)
    assert contrast_ratio(first, second) == contrast_ratio(second, first)
    assert 1 <= contrast_ratio(first, second) <= 21
    assert relative_luminance(first) == pytest.approx(relative_luminance_of_bytes(*one), abs=1e-12)


def test_the_ends_of_the_scale() -> None:
    assert relative_luminance(BLACK) == 0
    assert relative_luminance(WHITE) == pytest.approx(1, abs=1e-12)
    assert contrast_ratio(BLACK, WHITE) == pytest.approx(21, abs=1e-12)


def test_the_old_and_the_new_constant_agree_on_every_byte() -> None:
    # WCAG said 0.03928 before 2021 and says 0.04045 since; no channel of eight bits lies between.
    assert not any(0.03928 < value / 255 <= 0.04045 for value in range(256))


@pytest.mark.parametrize(
    ("size", "weight", "large"),
    [
        (24, 400, True),
        (23.9, 400, False),
        (14 * 4 / 3, 700, True),
        (18.66, 700, True),
        (18.5, 700, False),
        (18.67, 600, False),
        (18 * 96 / 72, 300, True),
    ],
)
def test_large_text(size: float, weight: float, large: bool) -> None:
    assert is_large(size, weight) is large


def test_shown_ratios_are_cut_downward() -> None:
    assert shown(4.4999) == "4.49:1"
    assert shown(contrast_ratio(BLACK, WHITE)) == "21.00:1"
    assert shown(4.5) == "4.50:1"


# ---------------------------------------------------------------------------------------------------------------------

ACT: Final = Path(__file__).parents[2].parent / "shared" / "act"
RULES: Final = ("afw4f7", "09o5cg")


def act_cases() -> list[Any]:
    file = ACT / "cases.json"
    if not file.is_file():
        return [pytest.param(None, marks=pytest.mark.skip(reason=f"the published cases are not at {ACT}"))]
    return [
        pytest.param(case, id=case["id"])
        for case in json.loads(file.read_text("utf-8"))
        if case["rule"] in RULES
    ]


@pytest.mark.parametrize("case", act_cases())
def test_published_act_cases(case: dict[str, Any]) -> None:
    def load(path: str) -> bytes | None:
        file = ACT / "assets" / path
        return file.read_bytes() if file.is_file() else None

    # What names the answer is taken out before a page is judged.
    page = re.sub(r"(Passed|Failed|Inapplicable) Example \d+", "Example", case["html"])
    name = hashlib.sha256(case["id"].encode()).hexdigest()[:12] + ".html"
    findings = ContrastEngine(load).judge(name, parse(page))
    verdicts = {finding.verdict for finding in findings if case["rule"] in finding.act}
    assert verdicts == ({"fails"} if case["outcome"] == "failed" else set())
