"""What a search of 10,000 stories costs: bytes to the first result in a browser, and the time, memory and size of the index.

usage: python -m tests.bench.bench_search [--stories N] [--queries N] [--no-browser]

The archive is of ten years, of invented words with the spread of a language. Queries are of one to three words drawn from
stories, some with a slip, some with a county or a year. Each is made in a page that has loaded nothing yet; every byte of
body that the search fetches counts, as plain files and as gzip of level 6 makes them, besides the script itself.
"""

from __future__ import annotations

import argparse
import gzip
import resource
import statistics
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from sitegen.edition.models import Counted, IndexGroup, IndexPage, Paging, Ref, SearchView
from sitegen.edition.searching import SearchFile, SearchStory, SearchTexts
from sitegen.typeset.dates import Dates
from sitegen.typeset.pages import Typesetter, output_path
from sitegen.typeset.searchdata import index_search
from sitegen.typeset.theme import load_theme
from sitegen.typeset.words import load_words
from tests.samples.invented_words import Vocabulary
from tests.samples.page_models import FULL_FRAME
from tests.samples.served_site import ROOT, served

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Request

BUDGET = 200_000
VOCABULARY = 60_000
BODY_WORDS = (90, 420)
LETTERS = "abcdefghijklmnopqrstuvwxyz"
FIRST = date(2016, 9, 3)


def archive(stories: int, chance: Random) -> SearchFile:
    """Stories of ten years, twenty or so a week at 10,000."""
    vocabulary = Vocabulary(VOCABULARY, chance)
    counties = tuple(
        Ref(vocabulary.words[400 + n].title(), f"counties/{vocabulary.words[400 + n]}/") for n in range(13)
    )
    towns = [word.title() for word in vocabulary.words[500:580]]
    topics = vocabulary.words[600:640]
    found, texts = [], {}
    for number in range(stories):
        aired = FIRST + timedelta(weeks=number * 520 // stories)
        county = chance.randrange(len(counties))
        town = chance.choice(towns)
        headline = vocabulary.text(chance.randrange(6, 12)).capitalize()
        names = (town, counties[county].label, *chance.sample(topics, 2), vocabulary.text(2).title())
        name = f"{aired.year}/{'-'.join(headline.lower().split()[:3])}-{number}"
        texts[name] = SearchTexts(
            headline,
            vocabulary.text(chance.randrange(14, 26)),
            vocabulary.text(chance.randrange(*BODY_WORDS)),
        )
        found.append(
            SearchStory(
                id=name,
                headline=headline,
                language="",
                aired=aired,
                town=town,
                counties=(county,),
                named=names,
                record=name.encode(),
                asks=(),
            )
        )
    ordered = tuple(sorted(found, key=lambda story: story.id))
    return SearchFile("data/search.json", "en-US", counties, ordered).with_texts(texts.__getitem__)


def _words(file: SearchFile, story: SearchStory) -> str:
    texts = file.texts(story.id)
    return f"{texts.heading} {texts.summary} {texts.body}"


def queries(file: SearchFile, count: int, chance: Random) -> list[dict[str, str]]:
    made = []
    for number in range(count):
        story = chance.choice(file.stories)
        words = chance.sample(_words(file, story).lower().split(), 1 + number % 3)
        if number % 4 == 1:
            longest = max(words, key=len)
            at = chance.randrange(len(longest))
            words[words.index(longest)] = longest[:at] + chance.choice(LETTERS) + longest[at + 1 :]
        query = {"q": " ".join(words)}
        if number % 5 == 2:
            query["county"] = file.counties[story.counties[0]].address.split("/")[1]
        if number % 5 == 3:
            query["year"] = str(story.aired.year)
        made.append(query)
    return made


def write_site(folder: Path, file: SearchFile) -> None:
    """The archive's page, the theme's files and the search's."""
    typesetter = Typesetter(load_theme(ROOT, "tidetable"), "en-US")
    years = sorted({story.aired.year for story in file.stories}, reverse=True)
    groups = (IndexGroup("", tuple(Counted(Ref(str(year), f"archive/{year}/"), 1) for year in years)),)
    page = IndexPage(
        FULL_FRAME, "archive/", "archive", Paging(), groups, search=SearchView(file.address, file.counties)
    )
    files = {
        output_path("archive/"): typesetter.page(page),
        typesetter.file_address(file): typesetter.file(file),
        **dict(typesetter.theme_files),
        **dict(typesetter.parts(file)),
    }
    for path, data in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)


def transfer(folder: Path, asked: list[dict[str, str]]) -> None:
    """Makes the queries in a browser and prints what they fetched."""
    from playwright.sync_api import sync_playwright

    plain, packed, files, found, over = [], [], [], 0, 0
    with served(folder) as host, sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-gpu"]
        )
        for query in asked:
            context = browser.new_context()
            page = context.new_page()
            fetched: list[str] = []
            page.on("requestfinished", noting(fetched))
            page.goto(f"{host}archive/?{urlencode(query)}")
            page.locator("#search:not([data-busy])").wait_for()
            found += page.locator("#search-results h3").count() > 0
            data = [(folder / url.removeprefix(host)).read_bytes() for url in fetched]
            plain.append(sum(map(len, data)))
            packed.append(sum(len(gzip.compress(each, 6, mtime=0)) for each in data))
            files.append(len(fetched))
            over += plain[-1] > BUDGET
            if plain[-1] == max(plain):
                print(f"  heaviest so far: {plain[-1]:,} bytes in {files[-1]} files for {query}")
            context.close()
        browser.close()
    print(f"{len(asked)} queries in a browser, {found} with a result; script included")
    for name, sizes in (("plain", plain), ("gzip", packed)):
        print(f"  {name}: median {statistics.median(sizes):,.0f}, most {max(sizes):,} bytes")
    print(
        f"  files: median {statistics.median(files):.0f}, most {max(files)}; above {BUDGET:,} plain bytes: {over}"
    )


def noting(fetched: list[str]) -> Callable[[Request], None]:
    """Notes the addresses of what the search fetches."""

    def note(request: Request) -> None:
        if "/data/search" in request.url or "/search-" in request.url:
            fetched.append(request.url)

    return note


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--stories", type=int, default=10_000)
    parser.add_argument("--queries", type=int, default=50)
    parser.add_argument("--no-browser", action="store_true")
    options = parser.parse_args()
    chance = Random(20261125)
    file = archive(options.stories, chance)
    words = sum(len(_words(file, story).split()) for story in file.stories)
    dates = Dates(load_words(load_theme(ROOT, "tidetable"), "en-US"), "en-US")
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start, cpu = time.perf_counter(), time.process_time()
    made, _ = index_search(file, dates)
    took, used = time.perf_counter() - start, time.process_time() - cpu
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    sizes = [len(data) for _, data in made.parts]
    print(f"{len(file.stories):,} stories of {words / len(file.stories):.0f} words")
    print(
        f"index: {used:.1f} s of processor, {took:.1f} s by the clock, {grown / 1024:.0f} MiB more at the most"
    )
    print(
        f"directory {len(made.directory):,} bytes ({len(gzip.compress(made.directory, 6)):,} gzip); {len(sizes):,} files of"
        f" {sum(sizes):,} bytes, the largest {max(sizes):,}"
    )
    changed(file, dates, made.parts)
    if not options.no_browser:
        with tempfile.TemporaryDirectory() as folder:
            write_site(Path(folder), file)
            transfer(Path(folder), queries(file, options.queries, chance))


def changed(file: SearchFile, dates: Dates, parts: tuple[tuple[str, bytes], ...]) -> None:
    """What a withdrawn and an edited story change."""
    from msgspec.structs import replace

    middle = len(file.stories) // 2
    story = file.stories[middle]
    others = (*file.stories[:middle], *file.stories[middle + 1 :])
    edited = replace(story, headline=f"{story.headline} again", record=b"edited")

    def texts(name: str) -> SearchTexts:
        known = file.texts(name)
        return replace(known, heading=f"{known.heading} again") if name == story.id else known

    for name, stories in (("withdrawn", others), ("edited by a word", (*others, edited))):
        changed_file = replace(file, stories=tuple(stories)).with_texts(texts)
        after = dict(index_search(changed_file, dates)[0].parts)
        new = [data for path, data in after.items() if path not in dict(parts)]
        print(f"a story {name}: {len(new)} of {len(after)} files new, {sum(map(len, new)):,} bytes")


if __name__ == "__main__":
    main()
