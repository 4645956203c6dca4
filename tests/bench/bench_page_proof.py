"""What the proof of a page costs, beside a bare parse of the same page by lexbor and a browser engine's contrast run.

usage: python -m tests.bench.bench_page_proof [--stories N] [--runs N] [--no-browser]

The pages are those of a station made out of the demonstration. Half of them are proofed as they come, by a judge that knows
nothing; the other half are then pages like those before; and when they come again, their shapes are known. What a fresh
process pays first is measured on one page of each kind, by a judge that knows nothing and by one that was told. Every timing
stands beside the bare parse of the same pages in the same run: quote the ratios. Prints; asserts nothing.
"""

from __future__ import annotations

import argparse
import gc
import importlib.util
import resource
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from selectolax.lexbor import LexborHTMLParser

from sitegen.proof.collector import seldom_collecting
from sitegen.proof.document import parse
from sitegen.proof.pagecheck import Judge, check_page, contrast_judge
from tests.samples.large_station import pages_of, write_large_station

PAGES = 1_000
IN_BROWSER = 20
BROWSER = Path("/usr/bin/chromium")
MEMORY_AT = (200, 1_000, 2_500)
RUN = """async () => {
  const begun = performance.now();
  await axe.run({runOnly: {type: 'rule', values: ['color-contrast']}});
  return performance.now() - begun;
}"""

Pages = Sequence[tuple[str, bytes]]


def timed(action: Callable[[], object]) -> float:
    """Microseconds of the processor's time that an action takes, so that other work on the machine weighs little."""
    begun = time.process_time()
    action()
    return (time.process_time() - begun) * 1e6


def spread(pages: Pages, count: int) -> Pages:
    """So many of the pages, at even distances."""
    return [pages[place * len(pages) // count] for place in range(min(count, len(pages)))]


def once(pages: Pages, judge: Judge) -> tuple[float, float]:
    """Microseconds a page for the whole proof and for the bare parse, each page taken once, in order."""
    whole = bare = 0.0
    for address, data in pages:
        bare += timed(lambda data=data: LexborHTMLParser(data))  # type: ignore[misc]
        whole += timed(lambda address=address, data=data: check_page(address, data, judge))  # type: ignore[misc]
    return whole / len(pages), bare / len(pages)


def of_each_kind(pages: Pages) -> Pages:
    """The first page of each kind, as its address begins and as deep as it lies."""
    kinds: dict[tuple[str, int], tuple[str, bytes]] = {}
    for address, data in pages:
        # Short addresses and station pages all lie at the top; a few of them stand for the rest.
        name = address.split("/")[0] if address.count("/") > 1 else f"top {len(address) % 4}"
        kinds.setdefault((name, address.count("/")), (address, data))
    return list(kinds.values())


def first_sight(pages: Pages, files: Mapping[str, bytes], public: str, learnt: bytes) -> tuple[float, bytes]:
    """Microseconds that new judges take for some pages, the fastest of several, and what one of them learnt."""
    best, told = float("inf"), b""
    for _ in range(3):
        judge = contrast_judge(files.get, public, learnt=learnt)
        best = min(best, once(pages, judge)[0] * len(pages))
        told = judge.learnt() or told
    return best, told


def fastest(pages: Pages, judge: Judge, runs: int) -> dict[str, float]:
    """Microseconds a page for the whole proof and its parts, each page's fastest of many runs."""
    actions: dict[str, Callable[[str, bytes], object]] = {
        "bare": lambda address, data: LexborHTMLParser(data),
        "parse": lambda address, data: parse(data).let_go(),
        "checks": lambda address, data: check_page(address, data),
        "whole": lambda address, data: check_page(address, data, judge),
    }
    best = {name: [float("inf")] * len(pages) for name in actions}
    for _ in range(runs):
        for place, (address, data) in enumerate(pages):
            for name, action in actions.items():
                took = timed(lambda action=action, address=address, data=data: action(address, data))  # type: ignore[misc]
                best[name][place] = min(best[name][place], took)
    return {name: statistics.fmean(each) for name, each in best.items()}


def in_browser(pages: Pages, files: Mapping[str, bytes]) -> float | None:
    """Milliseconds a page for the contrast rule of an accessibility engine in a browser; None where there is none."""
    package = importlib.util.find_spec("axe_playwright_python")
    if package is None or package.origin is None or not BROWSER.exists():
        return None
    from playwright.sync_api import sync_playwright

    script = next(Path(package.origin).parent.glob("*.min.js")).read_text("utf-8")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        root = Path(folder)
        for path, data in [*files.items(), *((f"{address}index.html", data) for address, data in pages)]:
            (root / path).parent.mkdir(parents=True, exist_ok=True)
            (root / path).write_bytes(data)
        started = playwright.chromium.launch(executable_path=str(BROWSER), args=["--no-sandbox"])
        page = started.new_context(viewport={"width": 1280, "height": 720}, bypass_csp=True).new_page()
        times = []
        for address, _ in pages:
            page.goto((root / address / "index.html").as_uri())
            page.evaluate(script)
            times.append(min(page.evaluate(RUN) for _ in range(3)))
        started.close()
    return statistics.fmean(times)


def resident() -> int:
    """Memory in use, in kB."""
    gc.collect()
    return int(Path("/proc/self/statm").read_text("ascii").split()[1]) * resource.getpagesize() // 1024


def memory(pages: Pages, files: Mapping[str, bytes]) -> Iterable[tuple[int, int]]:
    """Number of pages proofed and kB in use; no two pages have the same lines."""
    judge = contrast_judge(files.get)
    for number in range(1, MEMORY_AT[-1] + 1):
        address, data = pages[number % len(pages)]
        check_page(
            address, data.replace(b" the ", b" the %d " % number).replace(b'/">', b'/?%d">' % number), judge
        )
        if number in MEMORY_AT:
            yield number, resident()


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--stories", type=int, default=1_700)
    asked.add_argument("--runs", type=int, default=15)
    asked.add_argument("--no-browser", action="store_true")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        made, files, public = pages_of(write_large_station(Path(folder), options.stories))
    everything = list(made.items())
    first, others = spread(everything[::2], PAGES), spread(everything[1::2], PAGES)
    size = statistics.fmean(len(data) for _, data in others)
    elements = statistics.fmean(len(parse(data).elements) for _, data in spread(others, 100))
    print(
        f"{len(first)} and {len(others)} pages of {size:.0f} bytes and {elements:.0f} elements, all scenarios"
    )

    def show(name: str, cost: float, bare: float) -> None:
        print(
            f"{name:44} {cost:7.0f} µs   {cost / bare:6.2f} times the bare parse ({bare:.0f} µs)", flush=True
        )

    judge = contrast_judge(files.get, public)
    gc.collect()
    show("a first page, with nothing known", *once(first[:1], judge))
    show("pages as they come", *once(first[1:], judge))
    show("pages not met before, like those before", *once(others, judge))
    kinds = of_each_kind(everything)
    untold, learnt = first_sight(kinds, files, public, b"")
    told, _ = first_sight(kinds, files, public, learnt)
    print(
        f"{len(kinds)} pages of different kinds by a new judge   {untold / 1e3:.0f} ms, by one that was told"
        f" {told / 1e3:.0f} ms ({len(learnt) / 1e3:.0f} kB)",
        flush=True,
    )
    again = spread(others, 60)
    for _ in range(3):
        once(again, judge)
    known = fastest(again, judge, options.runs)
    bare = known["bare"]
    show("pages met before (fastest of many runs)", known["whole"], bare)
    show("  of this our parse", known["parse"], bare)
    show("  checks and extract", known["checks"] - known["parse"], bare)
    show("  contrast, in every scenario", known["whole"] - known["checks"], bare)
    if not options.no_browser:
        # A short address leads on before an engine could look at it.
        sample = [
            (address, data)
            for address, data in spread(others, IN_BROWSER)
            if not address.endswith(".html") and b'http-equiv="refresh"' not in data
        ]
        engine = in_browser(sample, files)
        if engine is None:
            print("no browser or no engine for it here", file=sys.stderr)
        else:
            ours = fastest(sample, judge, options.runs)["whole"]
            print(
                f"contrast alone, one scenario, by an engine in a browser {engine:.1f} ms a page;"
                f" our whole proof of the same pages {ours / 1e3:.2f} ms: {engine * 1e3 / ours:.0f} times"
            )
    for count, kilobytes in memory(others, files):
        print(f"memory after {count:5} pages   {kilobytes / 1024:6.1f} MB", flush=True)


if __name__ == "__main__":
    with seldom_collecting():  # as every build does
        main()
