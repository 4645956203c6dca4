"""The budgets of a page's first view, its script and its requests, over every page of the demonstration."""

from __future__ import annotations

from pathlib import Path

from tests.bench.first_view import FIRST_VIEW_BYTES, SCRIPT_BYTES, SEARCH, weight_of_file, weights_by_kind


def test_every_first_view_fits_one_round_trip(demonstration: Path) -> None:
    over = {
        weight.path: weight.first_view
        for weights in weights_by_kind(demonstration).values()
        for weight in weights
        if weight.first_view > FIRST_VIEW_BYTES
    }
    assert over == {}


def test_script_is_small_and_nobody_else_is_asked(demonstration: Path) -> None:
    for weights in weights_by_kind(demonstration).values():
        for weight in weights:
            assert weight.script <= SCRIPT_BYTES, weight.path
            assert weight.elsewhere == 0, weight.path


def test_the_search_s_own_script_is_small_and_on_its_page_alone(demonstration: Path) -> None:
    (script,) = demonstration.glob(f"{SEARCH}*.js")
    assert weight_of_file(script) <= SCRIPT_BYTES
    having = [
        path.relative_to(demonstration).as_posix()
        for path in demonstration.rglob("*.html")
        if script.name in path.read_text("utf-8")
    ]
    assert having == ["archive/index.html"]
