"""What the proof of a page costs beside a bare parse of the same page by lexbor, in the same run. Prints; asserts nothing.

usage: python tests/bench/bench_page_proof.py [FOLDER]    a folder of pages; without one, pages are made up here

Each page's figure is its fastest of many runs, so that other work on the machine weighs little. Quote the ratios.
"""

from __future__ import annotations

import gc
import random
import sys
import time
from collections.abc import Callable
from pathlib import Path

from selectolax.lexbor import LexborHTMLParser

from sitegen.proof import document
from sitegen.proof.pagecheck import check_page

WORDS = [
    "harbour",
    "light",
    "coat",
    "drive",
    "meal",
    "kitchen",
    "volunteer",
    "saturday",
    "noon",
    "county",
    "children",
    "warm",
    "winter",
    "neighbour",
]
RUNS = 60


def made_up_page(seed: int) -> str:
    """A page of about 230 elements and 11 kB, of the kinds that a story's page holds."""
    chance = random.Random(seed)

    def words(count: int) -> str:
        return " ".join(chance.choice(WORDS) for _ in range(count))

    links = "\n".join(f'<li><a href="../{word}/">{word}</a></li>' for word in WORDS[:8])
    sections = "\n".join(
        f'<section aria-labelledby="part-{number}">\n<h2 id="part-{number}">{words(4)}</h2>\n<p>{words(45)} <em>{words(2)}</em>'
        f' &amp; {words(20)}</p>\n<p>{words(50)} <a href="../{chance.randrange(1000)}/">{words(3)}</a>.</p>\n<figure>'
        f'<img src="{seed}-{number}.jpg" alt="{words(6)}" width="640" height="360"><figcaption>{words(8)}</figcaption></figure>\n<dl>\n'
        + "".join(
            f'<div><dt>{words(2)}</dt><dd><time datetime="2026-12-0{day}T12:00-05:00">{words(3)}</time></dd></div>\n'
            for day in range(1, 4)
        )
        + '</dl>\n<ul class="places">\n'
        + "".join(
            f'<li><span class="name">{words(2)}</span> <strong>{words(3)}</strong></li>\n' for _ in range(3)
        )
        + "</ul>\n</section>"
        for number in range(5)
    )
    rows = "\n".join(f'<tr><th scope="row">{word}</th><td>9 to 5</td></tr>' for word in WORDS[:7])
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>{words(5)}</title>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n<link rel="stylesheet" href="style.css">\n</head>\n'
        f'<body>\n<a href="#content">Skip to the story</a>\n<header><nav aria-label="Site"><ul>\n{links}\n</ul></nav></header>\n'
        f'<main id="content">\n<h1>{words(7)}</h1>\n{sections}\n<table><caption>Hours</caption><thead><tr><th scope="col">Day</th>'
        f'<th scope="col">Open</th></tr></thead><tbody>\n{rows}\n</tbody></table>\n</main>\n<footer><p>{words(30)}</p></footer>\n'
        "</body>\n</html>\n"
    )


def microseconds(work: Callable[[str], object], pages: list[str]) -> float:
    total = 0.0
    for page in pages:
        fastest = 1.0
        for _ in range(RUNS):
            begun = time.perf_counter()
            work(page)
            fastest = min(fastest, time.perf_counter() - begun)
        total += fastest
    return total / len(pages) * 1e6


def parse_with_nothing_known(page: str) -> None:
    document._tags.clear()
    document.parse(page)


def main() -> None:
    if len(sys.argv) > 1:
        pages = [path.read_text("utf-8") for path in sorted(Path(sys.argv[1]).rglob("*.html"))]
        pages = random.Random(1).sample(pages, min(24, len(pages)))
    else:
        pages = [made_up_page(seed) for seed in range(12)]
    gc.collect()
    bare = microseconds(LexborHTMLParser, pages)
    elements = sum(len(document.parse(page).elements) for page in pages) / len(pages)
    print(
        f"{len(pages)} pages of {sum(map(len, pages)) / len(pages):.0f} characters and {elements:.0f} elements"
    )
    for name, cost in (
        ("bare parse by lexbor", bare),
        ("our parse, tags known from pages before", microseconds(document.parse, pages)),
        ("our parse, nothing known", microseconds(parse_with_nothing_known, pages)),
        ("parse and every check", microseconds(lambda page: check_page("page.html", page.encode()), pages)),
    ):
        print(f"{name:42} {cost:7.0f} µs   {cost / bare:5.2f} times the bare parse")


if __name__ == "__main__":
    main()
