"""Our computed styles against a browser's: for every text of the sample pages, in every scenario and state."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import pytest

from sitegen.proof.contrast.engine import ContrastEngine
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.contrast.style import Style
from sitegen.proof.document import Document, parse
from tests.samples.browser_styles import Window, differences, state_differences
from tests.samples.random_pages import Maker

pytestmark = pytest.mark.browser

PAGES: Final = Path(__file__).parents[1] / "proof" / "contrast" / "pages"
RANDOM_PAGES: Final = 80
SCENARIOS: Final = (
    *(
        Scenario(scheme, width, media)
        for scheme in ("light", "dark")
        for width in (1280, 320)
        for media in ("screen", "print")
    ),
    Scenario(contrast="more"),
    Scenario(forced_colors=True),
    Scenario("dark", forced_colors=True),
)


def load(path: str) -> bytes | None:
    file = PAGES / path
    return file.read_bytes() if file.is_file() else None


def ours_of(document: Document, path: str, scenario: Scenario) -> list[Style]:
    engine = ContrastEngine(load)
    theme = engine.judge_for(path, document, (scenario,)).theme
    styles = [node.variants[0].styles[0] for node in theme.nodes_of(document)]
    return [style for style in styles if style is not None]


@pytest.mark.parametrize("path", sorted(PAGES.glob("*.html")), ids=lambda path: path.stem)
def test_every_text_is_styled_as_in_a_browser(browser: Any, path: Path) -> None:
    document = parse(path.read_bytes())
    found: list[str] = []
    window = Window(browser)
    window.goto(path.as_uri())
    for scenario in SCENARIOS:
        window.turn(scenario)
        ours = ours_of(document, path.name, scenario)
        found.extend(differences(document, ours, window.rows(), window.canvas(scenario), scenario))
    window.close()
    assert not found, "\n".join(found)


@pytest.mark.parametrize("first", range(0, RANDOM_PAGES, 20))
def test_random_stylesheets_are_read_as_by_a_browser(browser: Any, first: int) -> None:
    scenario = Scenario("dark" if first // 20 % 2 else "light", 700)
    window = Window(browser)
    window.turn(scenario)
    found: list[str] = []
    for seed in range(first, first + 20):
        source = Maker(seed).page()
        document = parse(source)
        window.page.set_content(source)
        ours = ours_of(document, "page.html", scenario)
        found.extend(
            f"seed {seed}: {each}"
            for each in differences(document, ours, window.rows(), window.canvas(scenario), scenario)
        )
    window.close()
    assert not found, "\n".join(found)


def test_states_are_styled_as_in_a_browser(browser: Any) -> None:
    path = PAGES / "states.html"
    scenario = Scenario(states=("hover", "focus", "active"))
    document = parse(path.read_bytes())
    engine = ContrastEngine(load)
    theme = engine.judge_for(path.name, document, (scenario,)).theme
    nodes = theme.nodes_of(document)
    window = Window(browser)
    window.turn(scenario)
    window.goto(path.as_uri())
    compared, found = state_differences(window, document, nodes, scenario, 0)
    window.close()
    assert compared > 20
    assert not found, "\n".join(found)
