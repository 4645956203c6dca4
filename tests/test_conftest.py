"""The tests' own ground: skips that count as failures, seeds that repeat, and the browser."""

from __future__ import annotations

import ast
import os
import re
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


COUNTED = """
from hypothesis import given, settings, strategies as st
from tests.counts import tries

@settings(database=None)
@given(st.integers())
def test_as_often_as_usual(number):
    print("USUAL", number)

@settings(database=None, max_examples=tries(3))
@given(st.integers())
def test_seldom(number):
    print("SELDOM", number)
"""


def test_a_long_run_raises_the_counts_of_laws_on_random_data(tmp_path: Path) -> None:
    def counts(**environment: str) -> tuple[int, int]:
        (tmp_path / "pytest.ini").write_text("[pytest]\naddopts = -s\n", "utf-8")
        shown = run(tmp_path, COUNTED, **environment)
        assert shown.returncode == 0, shown.stdout
        return shown.stdout.count("USUAL"), shown.stdout.count("SELDOM")

    assert counts() == (100, 3)
    assert counts(SITEGEN_LONG="1") == (2000, 60)


def fixed_counts(text: str) -> list[int]:
    """Lines that set a count of examples that a long run does not raise."""
    return [
        node.value.lineno
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.keyword)
        and node.arg == "max_examples"
        and not {"tries", "LONG"} & {each.id for each in ast.walk(node.value) if isinstance(each, ast.Name)}
    ]


def environment_read(text: str) -> set[str]:
    """The program's variables of the environment that a text names as a string of its own."""
    return {
        node.value
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and NAME.fullmatch(node.value)
    }


NAME = re.compile(r"SITEGEN_\w+")


def test_every_count_can_be_raised_and_every_seed_is_the_printed_one() -> None:
    assert fixed_counts("a(max_examples=5)\nb(max_examples=tries(5))\nc(max_examples=9 if LONG else 5)") == [
        1
    ]
    assert environment_read("os.environ.get('SITEGEN_X')  # SITEGEN_Y\n'set SITEGEN_Z'") == {"SITEGEN_X"}
    files = {path: path.read_text("utf-8") for path in sorted(CONFTEST.parent.rglob("*.py"))}
    del files[Path(__file__)]
    assert [f"{path}:{line}" for path, text in files.items() for line in fixed_counts(text)] == []
    read = {name: path.name for path, text in files.items() for name in environment_read(text)}
    assert read == {
        "SITEGEN_LONG": "counts.py",
        "SITEGEN_TEST_SEED": "counts.py",
        "SITEGEN_NO_SKIPS": "conftest.py",
    }


def test_what_steers_a_run_is_described() -> None:
    text = (CONFTEST.parents[1] / "DEVELOPERS.md").read_text("utf-8")
    assert set(NAME.findall(text)) >= {"SITEGEN_LONG", "SITEGEN_TEST_SEED", "SITEGEN_NO_SKIPS"}


@pytest.mark.browser
def test_the_browser_shows_a_page(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content("<title>Small Wonders</title><p>Hello</p>")
    assert page.title() == "Small Wonders"
    page.close()
