"""An accessibility engine in a browser against ours: what it finds on random pages, we find too."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import pytest

from sitegen.proof.contrast.engine import ContrastEngine, Scenario
from sitegen.proof.document import parse
from tests.samples.random_pages import Maker

engine_package = pytest.importorskip("axe_playwright_python.sync_playwright")
pytestmark = pytest.mark.browser

RUN: Final = "axe.run({runOnly: {type: 'rule', values: ['color-contrast']}})"
OWN_TEXT: Final = """selector => [...document.querySelector(selector).childNodes]
  .filter(node => node.nodeType === Node.TEXT_NODE).map(node => node.data).join('').replace(/\\s+/g, ' ').trim()"""
QUOTED: Final = re.compile("“(.*?)…?”")


@pytest.fixture(scope="module")
def page(browser: Any) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1280, "height": 720})
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_nothing_is_found_in_a_browser_that_we_miss(page: Any, first: int) -> None:
    script = next(Path(engine_package.__file__).parent.glob("*.min.js")).read_text("utf-8")
    missed, found = [], 0
    for seed in range(first, first + 20):
        # The engine blends groups inside groups otherwise than a browser paints them, so these pages have none.
        source = re.sub(r"opacity: [\d.%]+", "opacity: 1", Maker(seed).page())
        ours = ContrastEngine(lambda path: None).judge("page.html", parse(source), (Scenario(width=1280),))
        texts = {
            match[1]
            for each in ours
            if each.check == "text-contrast" and (match := QUOTED.search(each.message))
        }
        page.set_content(source)
        page.evaluate(script)
        for violation in page.evaluate(RUN)["violations"]:
            for node in violation["nodes"]:
                text = page.evaluate(OWN_TEXT, node["target"][0])
                found += 1
                if text[:39] not in texts:
                    missed.append(f"seed {seed}: {text!r} {node['any'][0]['data']}")
    assert found > 50
    assert not missed, "\n".join(missed)
