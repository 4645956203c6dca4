"""What judging contrast costs: per page, against the bare parse of the same pages; prints, asserts nothing.

Run it as a program. Pages differ in their words, their number of parts and now and then in their shape; all use one stylesheet
with layers, variables, two schemes, narrow and wide, states and a few selectors about siblings.
"""

from __future__ import annotations

import gc
import random
import resource
import time
from collections.abc import Callable
from pathlib import Path

from sitegen.proof.contrast.engine import DEFAULT, ContrastEngine, Scenario, all_scenarios
from sitegen.proof.document import Document, parse


def stylesheet() -> bytes:
    """About 250 rules."""
    rules = [
        "@layer base, parts, pages;",
        ":root { color-scheme: light dark; --ink: light-dark(#1b2430, #e9edf2); --soft: light-dark(#45505e, #b9c4d0);"
        " --paper: light-dark(#fff, #12171d); --wash: light-dark(#f2f5f8, #1c232b); --accent: light-dark(#0b4f8a, #8cc4ff);"
        " --deep: light-dark(#083358, #c9e3ff) }",
        "@layer base { body { margin: 0; color: var(--ink); background: var(--paper); font: 1rem/1.6 serif }"
        " a { color: var(--accent) } a:visited { color: var(--deep) } a:hover { color: var(--deep); background: var(--wash) }"
        " :focus-visible { outline: 3px solid var(--accent); outline-offset: 2px } h1 { font-size: clamp(1.8rem, 4vw, 2.6rem) }"
        " p + p { text-indent: 1em } li:nth-child(even) { background: var(--wash) } }",
        "@media (max-width: 600px) { body { font-size: 1.05rem } .side { font-size: 0.95rem } }",
        "@media print { body { color: #000; background: #fff } nav { display: none } }",
        "@media (prefers-contrast: more) { :root { --soft: light-dark(#222, #eee) } }",
    ]
    for number in range(120):
        name = f"part-{number}"
        ink, paper = ("ink", "soft", "deep")[number % 3], ("paper", "wash")[number % 2]
        rules.append(
            f"@layer parts {{ .{name} {{ color: var(--{ink}); padding: {number % 7}px }}"
            f" .{name} > .inner {{ background: var(--{paper}); font-size: {0.9 + number % 5 / 10}rem }} }}"
        )
    return "\n".join(rules).encode()


def page(seed: int, words: list[str]) -> bytes:
    """A page of about 350 elements."""
    choose = random.Random(seed)

    def some(count: int) -> str:
        return " ".join(choose.choice(words) for _ in range(count))

    parts = []
    for number in range(choose.randint(18, 22)):
        kind = choose.randrange(40)
        items = "".join(
            f'<li><a href="/{choose.randrange(10**6)}/">{some(3)}</a></li>'
            for _ in range(choose.randint(1, 3))
        )
        parts.append(
            f'<section class="part-{kind}" id="s{seed}-{number}"><h2>{some(4)}</h2><div class="inner"><p>{some(30)}</p>'
            f"<p>{some(12)} <strong>{some(2)}</strong></p></div><ul>{items}</ul></section>"
        )
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>'
        f'{some(3)}</title><link rel="stylesheet" href="/theme.css"></head><body><header class="part-1"><nav><ul>'
        '<li><a href="/">Home</a></li><li><a href="/find/">Find</a></li></ul></nav></header>'
        f'<main class="part-2"><h1>{some(6)}</h1>{"".join(parts)}</main>'
        '<footer class="part-3"><form><label for="q">Search</label><input id="q" type="search" placeholder="words">'
        "<button>Search</button></form></footer></body></html>"
    ).encode()


def timed(action: Callable[[], object]) -> float:
    """Seconds an action takes."""
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


def resident() -> int:
    """Memory in use, in kB."""
    pages = int(Path("/proc/self/statm").read_text("ascii").split()[1])
    return pages * resource.getpagesize() // 1024


def main() -> None:
    """Measure and print."""
    words = [
        first + second
        for first in ("sand", "tide", "reef", "bay", "pier")
        for second in ("er", "ing", "al", "ful")
    ]
    pages = [page(seed, words) for seed in range(300)]
    sheet = stylesheet()

    def engine() -> ContrastEngine:
        return ContrastEngine(lambda path: sheet if path == "theme.css" else None)

    documents: list[Document] = []
    parsing = timed(lambda: documents.extend(parse(source) for source in pages))
    count = len(pages)
    elements = sum(len(document.elements) for document in documents) / count
    print(f"{count} pages of {elements:.0f} elements; parse {parsing / count * 1e6:.0f} µs a page")
    for name, scenarios in (("one scenario", DEFAULT), ("every scenario", all_scenarios())):
        judge(name, engine(), documents, scenarios, parsing)
    long_lived = engine()
    for seed, document in enumerate(documents):
        long_lived.judge(f"{seed}.html", document, all_scenarios())
    documents.clear()
    gc.collect()
    before = resident()
    for seed in range(1000, 1600):
        long_lived.judge(f"{seed}.html", parse(page(seed, words)), all_scenarios())
    gc.collect()
    after = resident()
    print(f"memory over 600 further pages: {after - before:+d} kB of {after}")


def judge(
    name: str,
    engine: ContrastEngine,
    documents: list[Document],
    scenarios: tuple[Scenario, ...],
    parsing: float,
) -> None:
    """Measure one set of scenarios."""
    count = len(documents)

    def all_pages() -> int:
        return sum(
            len(engine.judge(f"{place}.html", document, scenarios))
            for place, document in enumerate(documents)
        )

    first = timed(lambda: engine.judge("0.html", documents[0], scenarios))
    coming = timed(all_pages)
    known = min(timed(all_pages) for _ in range(3))
    print(
        f"{name}: the first page {first * 1e3:.1f} ms; pages as they come {coming / count * 1e6:.0f} µs each;"
        f" of known shapes {known / count * 1e6:.0f} µs, {known / parsing:.2f} of the parse; findings {all_pages()}"
    )


if __name__ == "__main__":
    main()
