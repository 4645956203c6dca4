"""The budgets of every kind of page: what its first view weighs, its script, and how often it asks its host. Prints; asserts nothing.

usage: python -m tests.bench.first_view FOLDER    a folder of built pages

The first view is the page and its stylesheets, each compressed by gzip as hosts do (level 6, common practice, no
source); the budget is ten segments of 1,460 bytes, one round trip of TCP's initial window (RFC 6928). Requests are
counted from the page's bytes: what is there before anybody scrolls or presses, and what comes later.
"""

from __future__ import annotations

import gzip
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from urllib.parse import urljoin, urlsplit

from selectolax.lexbor import LexborHTMLParser

from tests.samples.served_site import EVERY_KIND, pages_by_kind

FIRST_VIEW_BYTES = 14_600
SCRIPT_BYTES = 8 * 1024
HOST = "https://site.invalid/"
SEARCH = "assets/search-"
"""How the address of the search's own script begins."""


@dataclass(frozen=True, slots=True)
class Weight:
    """What one page costs."""

    path: str
    html: int
    """Bytes, compressed; so are `style` and `script`."""
    style: int
    script: int
    """Without the search's own, which the design's budget leaves out."""
    requests: int
    """To the site, the page itself included, before anything is scrolled or pressed."""
    later: int
    """Pictures that wait until they are near, and what a video asks for on a press."""
    elsewhere: int
    """To other hosts, before a press."""

    @property
    def first_view(self) -> int:
        return self.html + self.style


def compressed(data: bytes) -> int:
    return len(gzip.compress(data, compresslevel=6, mtime=0))


@cache
def weight_of_file(path: Path) -> int:
    return compressed(path.read_bytes())


def weigh(site: Path, path: str) -> Weight:
    data = (site / path).read_bytes()
    tree = LexborHTMLParser(data.decode())
    root = "/small-wonders/" if path == "404.html" else "/"
    base = urljoin(HOST, root + path)
    sizes = {"link": 0, "script": 0}
    asked, later, elsewhere = 1, 0, 0
    for node in tree.css(
        'link[rel="stylesheet"], link[rel="icon"], script[src], img, video, source[src], track'
    ):
        source = node.attributes.get("src") or node.attributes.get("href") or ""
        address = urljoin(base, source)
        pressed = node.tag in ("video", "source", "track")
        if node.tag == "video" and node.attributes.get("poster"):
            asked += 1
        if pressed or node.attributes.get("loading") == "lazy":
            later += 1
            continue
        if urlsplit(address).netloc != urlsplit(HOST).netloc:
            elsewhere += 1
            continue
        asked += 1
        if urlsplit(address).path.removeprefix(root).startswith(SEARCH):
            continue
        if node.tag is not None and (node.tag == "script" or node.attributes.get("rel") == "stylesheet"):
            sizes[node.tag] += weight_of_file(site / urlsplit(address).path.removeprefix(root))
    return Weight(path, compressed(data), sizes["link"], sizes["script"], asked, later, elsewhere)


def weights_by_kind(site: Path) -> dict[str, list[Weight]]:
    """Every page of a site by kind, the heaviest first view first."""
    kinds = pages_by_kind(site)
    return {
        kind: sorted((weigh(site, path) for path in kinds[kind]), key=lambda weight: -weight.first_view)
        for kind in EVERY_KIND
    }


def main() -> None:
    site = Path(sys.argv[1])
    print(
        f"{'kind':12}{'pages':>6}{'HTML':>8}{'CSS':>7}{'first view':>12}{'of budget':>11}{'script':>8}{'asks':>6}{'later':>7}{'elsewhere':>11}  heaviest page"
    )
    for kind, weights in weights_by_kind(site).items():
        heaviest = weights[0]
        print(
            f"{kind:12}{len(weights):6}{heaviest.html:8,}{heaviest.style:7,}{heaviest.first_view:12,}"
            f"{heaviest.first_view / FIRST_VIEW_BYTES:10.0%} {max(w.script for w in weights):8,}"
            f"{max(w.requests for w in weights):6}{max(w.later for w in weights):7}{max(w.elsewhere for w in weights):11}  {heaviest.path}"
        )
    over = [
        w for weights in weights_by_kind(site).values() for w in weights if w.first_view > FIRST_VIEW_BYTES
    ]
    print(f"{len(over)} pages above {FIRST_VIEW_BYTES:,} bytes; script budget {SCRIPT_BYTES:,} bytes")


if __name__ == "__main__":
    main()
