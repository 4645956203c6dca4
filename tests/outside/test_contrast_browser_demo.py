"""Our computed styles against a browser's, on the demonstration: colour, effective background, size and weight of every
text, on pages of every kind, in every scenario a page of ours has to pass.

One page of each kind is drawn, or with SITEGEN_LONG=1 every page is looked at. Text that is folded away, clipped or moved off the
screen is compared like any other where the proof judges it; where the proof takes text to be hidden, so must the browser.
`:visited` is left out: a browser does not tell what it draws there.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pytest

from sitegen.proof.contrast.engine import ContrastEngine, all_scenarios
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.document import parse
from tests.counts import LONG
from tests.samples.browser_styles import Window, differences, state_differences
from tests.samples.served_site import EVERY_KIND, FOLDER, LEAD, pages_by_kind, served

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Route

pytestmark = pytest.mark.browser

AT_REST: Final = all_scenarios(())
IN_STATES: Final = (
    Scenario(states=("hover", "focus", "active")),
    Scenario("dark", 320, states=("hover", "focus", "active")),
)
STATES_LOOKED_AT: Final = None if LONG else 12
"""Pairs of an element and a state, on each page."""


@pytest.fixture(scope="module")
def window(browser: Browser) -> Iterator[Window]:
    opened = Window(browser)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def host(demonstration: Path) -> Iterator[str]:
    with served(demonstration.parent) as address:
        yield address


@pytest.fixture(scope="module")
def engine(demonstration: Path) -> ContrastEngine:
    return ContrastEngine(partial(file_of, demonstration), f"{FOLDER}/")


def file_of(site: Path, path: str) -> bytes | None:
    return (site / path).read_bytes() if (site / path).is_file() else None


def drawn(site: Path, kind: str, chance: random.Random) -> list[str]:
    """Paths of the pages of a kind to look at; never none."""
    paths = pages_by_kind(site)[kind]
    assert paths
    return paths if LONG else [chance.choice(paths)]


def shown(window: Window, host: str, site: Path, path: str) -> bytes:
    """Show a page, and its bytes. One that leads on at once is kept from doing so."""
    source = re.sub(rb'<meta http-equiv="refresh"[^>]*>', b"", (site / path).read_bytes())

    def answer(route: Route) -> None:
        route.fulfill(body=source, content_type="text/html; charset=utf-8")

    address = f"{host}{FOLDER}/{path}"
    window.page.route(address, answer)
    window.goto(address)
    window.page.unroute(address)
    return source


@pytest.mark.parametrize("kind", EVERY_KIND)
def test_every_text_of_the_demonstration_is_styled_as_in_a_browser(
    window: Window, host: str, demonstration: Path, engine: ContrastEngine, chance: random.Random, kind: str
) -> None:
    found: list[str] = []
    for path in drawn(demonstration, kind, chance):
        document = parse(shown(window, host, demonstration, path))
        nodes = engine.judge_for(path, document, AT_REST).theme.nodes_of(document)
        for number, scenario in enumerate(AT_REST):
            window.turn(scenario)
            rows, canvas = window.rows(), window.canvas(scenario)
            # A rule of `@container` may count or not: each text has to be as in a browser in one of the ways it may be.
            ways = max(len(node.variants) for node in nodes)
            told: list[dict[str, str]] = []
            for way in range(ways):
                chosen = (node.variants[min(way, len(node.variants) - 1)].styles[number] for node in nodes)
                styles = [style for style in chosen if style is not None]
                each_of = differences(document, styles, rows, canvas, scenario, no_pictures=True)
                told.append({each.partition(">")[0]: f"{path}: {each}" for each in each_of})
            found.extend(each for key, each in told[0].items() if all(key in other for other in told))
    assert not found, "\n".join(found[:40])


@pytest.mark.parametrize("kind", [kind for kind in EVERY_KIND if kind != LEAD])
def test_states_in_the_demonstration_are_styled_as_in_a_browser(
    window: Window, host: str, demonstration: Path, engine: ContrastEngine, chance: random.Random, kind: str
) -> None:
    path = chance.choice(pages_by_kind(demonstration)[kind])
    document = parse(shown(window, host, demonstration, path))
    nodes = engine.judge_for(path, document, IN_STATES).theme.nodes_of(document)
    number = chance.randrange(len(IN_STATES))
    window.turn(IN_STATES[number])
    compared, found = state_differences(window, document, nodes, IN_STATES[number], number, STATES_LOOKED_AT)
    assert compared >= 5
    assert not found, f"{path}\n" + "\n".join(found[:40])
