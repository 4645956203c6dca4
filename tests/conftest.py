"""What every test may use: one printed seed for all that is random, and a browser where the machine has one.

`SITEGEN_TEST_SEED` repeats a run's random choices, `SITEGEN_LONG=1` tries all variants and many more examples (`counts.py` has
both), and `SITEGEN_NO_SKIPS=1` makes a skipped test a failure, as the gate wants it.
"""

from __future__ import annotations

import gc
import os
import random
from collections.abc import Generator, Iterator
from pathlib import Path
from shutil import which
from typing import TYPE_CHECKING

import hypothesis
import pytest

from tests.counts import LONG, SEED, tries
from tests.samples.served_site import FOLDER, built_demonstration

if TYPE_CHECKING:
    from playwright.sync_api import Browser

ALLOWED_SKIP = "not beside this checkout"
"""In the reason of a test that reads the published cases, which lie only on some machines and are not ours to copy."""

hypothesis.settings.register_profile(
    "ours", max_examples=tries(100), deadline=None, derandomize=False, print_blob=True
)
hypothesis.settings.load_profile("ours")


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    if config.getoption("--hypothesis-seed") is None:
        config.option.hypothesis_seed = str(SEED)


def pytest_report_header() -> str:
    return f"random choices: SITEGEN_TEST_SEED={SEED}"


# --- many variants of one test ---------------------------------------------------------------

SAMPLED = (
    "tests/browser/",
    "tests/outside/test_contrast_browser_demo.py",
    "tests/outside/test_accessibility_engine.py",
)
"""Where one test is tried on many pages and in many media, each in a browser."""
MOST_VARIANTS = 5
"""Of one test there, chosen by the seed; all of them with SITEGEN_LONG=1."""


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if LONG:
        return
    variants: dict[str, list[pytest.Item]] = {}
    for item in items:
        name, bracket, _ = item.nodeid.partition("[")
        if bracket and name.startswith(SAMPLED):
            variants.setdefault(name, []).append(item)
    dropped = {
        item
        for name, several in variants.items()
        if len(several) > MOST_VARIANTS
        for item in random.Random(f"{SEED} {name}").sample(several, len(several) - MOST_VARIANTS)
    }
    if dropped:
        config.hook.pytest_deselected(items=sorted(dropped, key=lambda item: item.nodeid))
        items[:] = [item for item in items if item not in dropped]


# --- what builds leave behind ----------------------------------------------------------------

BUILDING = ("tests/site/", "tests/desk/", "tests/test_cli.py")
"""Where one test after the other builds in this process."""


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item: pytest.Item, nextitem: pytest.Item | None) -> Generator[None]:
    """After the last test of a module that builds, lets go of what its builds left. A build keeps the collector from looking, for
    its process is to end; here that would grow to two gigabytes, and every later search would take seconds."""
    yield
    name = item.nodeid.partition("::")[0]
    if name.startswith(BUILDING) and (nextitem is None or nextitem.nodeid.partition("::")[0] != name):
        gc.collect()


# --- skips that count ------------------------------------------------------------------------


def is_refused(report: pytest.TestReport | pytest.CollectReport) -> bool:
    """True for a skip that must count as a failure."""
    if not report.skipped or hasattr(report, "wasxfail") or os.environ.get("SITEGEN_NO_SKIPS") != "1":
        return False
    return ALLOWED_SKIP not in str(report.longrepr)


def refuse(report: pytest.TestReport | pytest.CollectReport) -> None:
    reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
    report.outcome = "failed"
    report.longrepr = f"{reason}\nSkipped, and SITEGEN_NO_SKIPS=1 allows no skips."


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    if is_refused(report):
        refuse(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    if is_refused(report):
        refuse(report)
    return report


# --- fixtures --------------------------------------------------------------------------------


@pytest.fixture
def chance(request: pytest.FixtureRequest) -> random.Random:
    """Random choices of one test, the same again with the same seed."""
    return random.Random(f"{SEED} {request.node.nodeid}")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A headless Chromium of this machine."""
    path = which("chromium") or which("chromium-browser")
    if path is None:
        pytest.skip("no Chromium on this machine: apt-get install chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        # The sandbox needs rights that containers and the superuser do not have.
        started = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield started
        started.close()


@pytest.fixture(scope="session")
def demonstration(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The folder of the built demonstration, one for all processes of a run."""
    base = tmp_path_factory.getbasetemp()
    return built_demonstration((base if worker_id == "master" else base.parent) / "served" / FOLDER)
