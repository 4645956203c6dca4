"""What viewers type after the broadcast: the word in small letters, in capitals, without its last slash, and mistyped.

The host here minds capitals, adds no slash, and shows the page for the lost at its root to whoever asks for what is not
there: the strictest kind of plain host.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest

from tests.samples.served_site import FOLDER

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

STORY = f"/{FOLDER}/stories/2026/coat-closet/"
COATS = f"{FOLDER}/coats/"


class _Strict(SimpleHTTPRequestHandler):
    """Serves files below a folder, and the page for the lost with status 404; nothing else."""

    lost = b""

    def log_message(self, *arguments: object) -> None:
        pass

    def do_GET(self) -> None:
        path = Path(self.directory) / urlsplit(self.path).path.lstrip("/")
        if self.path.endswith("/"):
            path /= "index.html"
        if path.is_file():
            super().do_GET()
            return
        self.send_response(404)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(self.lost)))
        self.end_headers()
        self.wfile.write(self.lost)


@pytest.fixture(scope="module")
def host(demonstration: Path) -> Iterator[str]:
    for_root = demonstration.with_name(f"{FOLDER}.sitegen") / "for-root"
    handler = type("Handler", (_Strict,), {"lost": (for_root / "404.html").read_bytes()})
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(handler, directory=str(demonstration.parent)))
    server.daemon_threads = True
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture(params=[True, False], ids=["with script", "without script"])
def page(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    context = browser.new_context(java_script_enabled=request.param)
    yield context.new_page()
    context.close()


def has_script(page: Page, request: pytest.FixtureRequest) -> bool:
    return "without" not in request.node.callspec.id


def test_the_word_leads_to_its_story_at_once(page: Page, host: str) -> None:
    page.goto(host + COATS)
    page.wait_for_url(f"**{STORY}")
    assert "coats" in page.locator("h1").inner_text()


def test_the_word_is_a_page_with_a_link_where_nothing_leads_by_itself(page: Page, host: str) -> None:
    page.route("**/stories/**", lambda route: route.fulfill(status=204))  # stay where you are
    page.goto(host + COATS)
    assert page.locator("h1").inner_text().startswith("coats")
    assert urlsplit(page.locator("main a").evaluate("link => link.href")).path == STORY


@pytest.mark.parametrize("typed", ["Coats/", "COATS", "coats", "coats.", "Coats,"])
def test_capitals_and_a_missing_slash_lead_there_too(
    page: Page, host: str, typed: str, request: pytest.FixtureRequest
) -> None:
    answer = page.goto(f"{host}{FOLDER}/{typed}")
    if has_script(page, request):
        page.wait_for_url(f"**{STORY}")
        return
    assert answer is not None and answer.status == 404
    assert "small letters" in page.locator("main").inner_text()
    link = page.locator("ul.words a", has_text="coats")
    assert urlsplit(link.evaluate("link => link.href")).path == f"/{COATS}"
    link.click()
    page.wait_for_url(f"**{STORY}")


@pytest.mark.parametrize("typed", ["nothing-here/", "Nothing-Here", "elsewhere.html", "%E0%A4%A/"])
def test_what_is_not_there_ends_at_the_page_for_the_lost(page: Page, host: str, typed: str) -> None:
    page.goto(f"{host}{FOLDER}/{typed}")
    page.wait_for_timeout(300)
    assert page.locator("h1").inner_text() == "That page is not here"
    assert urlsplit(page.url).path.lower().startswith(f"/{FOLDER}/")


@pytest.mark.parametrize("typed", ["//elsewhere.example/", "Other/Page", "SMALL-WONDERS//elsewhere.example"])
def test_nobody_is_sent_to_another_host_or_another_site(page: Page, host: str, typed: str) -> None:
    page.goto(host + typed)
    page.wait_for_timeout(300)
    assert page.url.startswith(host)
    assert page.locator("h1").inner_text() == "That page is not here"
