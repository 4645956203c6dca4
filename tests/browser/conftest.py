"""What every test in a browser looks at: the demonstration, built once and served from this machine."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.samples.served_site import FOLDER, served

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from tests.samples.opened_pages import Opens


@pytest.fixture(scope="session")
def address(demonstration: Path) -> Iterator[str]:
    """Where the demonstration is served; ends with a slash. It lies in a folder of its host, as its address says."""
    with served(demonstration.parent) as host:
        yield f"{host}{FOLDER}/"


@pytest.fixture
def opens(browser: Browser, address: str) -> Iterator[Opens]:
    """Opens pages of the demonstration in a given medium; see `opened_pages.Opens`."""
    from tests.samples.opened_pages import Opens

    opener = Opens(browser, address)
    yield opener
    opener.close()
