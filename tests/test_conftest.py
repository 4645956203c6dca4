"""The tests' own ground: skips that count as failures, seeds that repeat, and the browser."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser

CONFTEST = Path(__file__).with_name("conftest.py")

SKIPPING = """
import pytest

def test_in_the_body():
    pytest.skip("no reason")

@pytest.mark.skipif(True, reason="a mark")
def test_by_mark():
    pass

@pytest.mark.skipif(True, reason="the published cases are not beside this checkout")
def test_allowed():
    pass

@pytest.mark.xfail(strict=True)
def test_expected_to_fail():
    assert False
"""


def run(folder: Path, text: str, **environment: str) -> subprocess.CompletedProcess[str]:
    (folder / "conftest.py").write_text(CONFTEST.read_text("utf-8"), "utf-8")
    (folder / "test_it.py").write_text(text, "utf-8")
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("SITEGEN_", "PYTEST_"))}
    return subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-q",
            "-p",
            "no:cacheprovider",
            "--rootdir",
            str(folder),
            str(folder),
        ],
        env={**kept, **environment},
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


def test_skips_are_failures_where_none_are_allowed(tmp_path: Path) -> None:
    strict = run(tmp_path, SKIPPING, SITEGEN_NO_SKIPS="1")
    assert strict.returncode == 1
    assert "1 failed, 1 skipped, 1 xfailed, 1 error" in strict.stdout


def test_skips_are_skips_elsewhere(tmp_path: Path) -> None:
    easy = run(tmp_path, SKIPPING)
    assert easy.returncode == 0
    assert "3 skipped, 1 xfailed" in easy.stdout


def test_a_file_that_skips_itself_is_a_failure_too(tmp_path: Path) -> None:
    text = "import pytest\npytest.importorskip('no_such_package')\n"
    assert run(tmp_path, text, SITEGEN_NO_SKIPS="1").returncode not in (0, 5)
    assert run(tmp_path, text).returncode in (0, 5)


RANDOM = """
from hypothesis import given, settings, strategies as st

@settings(database=None, max_examples=5)
@given(st.integers())
def test_numbers(number):
    print("NUMBER", number)

def test_chance(chance):
    print("CHANCE", chance.random())
"""


def test_a_seed_repeats_every_random_choice(tmp_path: Path) -> None:
    def choices(seed: str) -> list[str]:
        (tmp_path / "pytest.ini").write_text("[pytest]\naddopts = -s\n", "utf-8")
        shown = run(tmp_path, RANDOM, SITEGEN_TEST_SEED=seed).stdout
        return [line for line in shown.splitlines() if "NUMBER" in line or "CHANCE" in line]

    first = choices("1")
    assert len(first) == 6
    assert first == choices("1") != choices("2")


@pytest.mark.browser
def test_the_browser_shows_a_page(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content("<title>Small Wonders</title><p>Hello</p>")
    assert page.title() == "Small Wonders"
    page.close()
