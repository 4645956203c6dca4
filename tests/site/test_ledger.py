"""The ledger: a build does only what has to be done, and what it leaves is what a build from nothing would."""

from __future__ import annotations

import random
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitegen import cli
from sitegen.edition import compose
from sitegen.edition.models import Page
from sitegen.newsroom.keeping import Aside, Drawer
from sitegen.newsroom.records import Newsroom
from sitegen.site.ledger import LEDGER_NAME, seal
from sitegen.site.making import PageMade, Task, _Maker
from sitegen.site.order import look
from sitegen.site.shelf import SHELF_NAME
from tests.samples.small_archive import fresh_site, inodes, run, site_of, write_archive, written_again

A_STORY = "content/stories/2025/coats.md"


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A built station, in a present in which its files are old enough to be believed."""
    later = datetime.now(UTC).replace(microsecond=0) + timedelta(hours=1)
    monkeypatch.setattr(cli, "_present", lambda: later)
    station = write_archive(tmp_path / "station")
    assert run(station) == 0
    return station


def edit(root: Path, path: str, old: str, new: str) -> None:
    text = (root / path).read_text("utf-8")
    assert old in text
    (root / path).write_text(text.replace(old, new), "utf-8")


def test_with_nothing_to_do_no_source_is_opened_and_no_file_touched(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = inodes(root)
    monkeypatch.setattr("sitegen.site.content.read_content", None)
    assert run(root) == 0
    assert inodes(root) == before


def test_with_nothing_to_do_neither_templates_nor_pictures_nor_records_are_loaded(root: Path) -> None:
    script = (
        "import sys; from datetime import *; from sitegen import cli\n"
        "cli._present = lambda: datetime.now(UTC).replace(microsecond=0) + timedelta(hours=1)\n"
        f"assert cli.main(['build', '--root', {str(root)!r}, '--as-of', '2025-11-26 12:00']) == 0\n"
        "loaded = {name.partition('.')[0] for name in sys.modules} & {'jinja2', 'PIL', 'yaml', 'markdown_it', 'lxml'}\n"
        "print(sorted(loaded | ({'sitegen.newsroom.records'} & sys.modules.keys())))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_an_edited_story_makes_only_the_pages_that_say_something_of_it(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[str] = []
    make = _Maker._made

    def noted(maker: _Maker, page: Page, digest: bytes) -> PageMade:
        made.append(page.address)
        return make(maker, page, digest)

    monkeypatch.setattr(_Maker, "_made", noted)
    edit(root, A_STORY, "See [", "Look at [")
    before = inodes(root)
    assert run(root) == 0
    assert made == ["stories/2025/coats/"]
    again = written_again(before, root)
    # Feeds hold whole stories, and the search a story's words.
    assert {path for path in again if not path.startswith("data/search")} == {
        "stories/2025/coats/index.html",
        "feed.atom",
        "counties/heron-flats/feed.atom",
    }
    assert site_of(root) == fresh_site(root, tmp_path / "fresh")


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_page_at_rest_is_made_where_its_model_is_another(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, jobs: str
) -> None:
    """Where the record is another the page is composed again, and only then it is known whether it is the one of before."""
    monkeypatch.setattr("sitegen.site.making.CHUNK", 1)
    asked: list[str] = []
    made: list[str] = []
    make, set_page = _Maker.make, _Maker._made

    def noted(maker: _Maker, task: Task) -> PageMade | bytes:
        asked.append(task.address)
        return make(maker, task)

    def noted_too(maker: _Maker, page: Page, digest: bytes) -> PageMade:
        made.append(page.address)
        return set_page(maker, page, digest)

    monkeypatch.setattr(_Maker, "make", noted)
    monkeypatch.setattr(_Maker, "_made", noted_too)
    edit(root, "content/stories/2024/coats.md", "headline:", "# As it was told.\nheadline:")
    edit(root, "content/stories/2024/lights.md", "Old.", "Older.")
    before = inodes(root)
    assert run(root, "--jobs", jobs) == 0
    stories = {path for path in written_again(before, root) if path.startswith("stories/")}
    assert stories == {"stories/2024/lights/index.html"}
    if jobs == "1":
        assert {"stories/2024/coats/", "stories/2024/lights/"} <= set(asked)
        assert {address for address in made if address.startswith("stories/")} == {"stories/2024/lights/"}
    assert site_of(root) == fresh_site(root, tmp_path / "fresh")
    # What was found out is known the next time.
    edit(root, "content/pages/about.md", "Who we are.", "Who we were.")
    asked.clear()
    assert run(root) == 0
    assert asked == ["about/"]


def test_a_passing_moment_makes_only_the_pages_it_touches(root: Path, tmp_path: Path) -> None:
    before = inodes(root)
    moment = "2025-11-27 18:30"
    assert run(root, moment=moment) == 0
    again = written_again(before, root)
    assert "stories/2025/later/index.html" in again
    assert "stories/2024/coats/index.html" not in again
    assert site_of(root) == fresh_site(root, tmp_path / "fresh", moment)


def test_an_edited_theme_makes_every_page(root: Path, tmp_path: Path) -> None:
    checkout = Path(__file__).resolve().parents[2]
    shutil.copytree(checkout / "themes" / "tidetable", root / "themes" / "tidetable")
    assert run(root) == 0
    edit(root, "themes/tidetable/templates/frame.html", "<head>", '<head data-edited="yes">')
    before = inodes(root)
    assert run(root) == 0
    pages = {path for path in before if path.endswith(".html")}
    assert written_again(before, root) == pages
    assert site_of(root) == fresh_site(root, tmp_path / "fresh")


def test_what_is_kept_beside_a_theme_is_no_source(tmp_path: Path) -> None:
    template = tmp_path / "themes" / "own" / "templates" / "home.html"
    (template.parent / "__pycache__").mkdir(parents=True)
    template.write_text("x")
    (template.parent / "__pycache__" / "home.cpython-311.pyc").write_bytes(b"")
    sources = look(tmp_path, datetime.now(UTC)).states
    assert [path for path in sources if path.startswith("themes/")] == ["themes/own/templates/home.html"]


def test_a_theme_that_cannot_set_pages_is_told_and_leaves_the_site(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    checkout = Path(__file__).resolve().parents[2]
    shutil.copytree(checkout / "themes" / "tidetable", root / "themes" / "tidetable")
    before = site_of(root)
    for file, old, new, told in (
        ("words/en.po", 'msgid "nav.home"', 'msgid "nav.gone"', "'nav.home'"),
        ("words/en.po", 'msgid "feed.page"', 'msgid "feed.gone"', "'feed.page'"),
        ("templates/frame.html", "<head>", "<head>{{ frame.gone.by }}", "templates/frame.html, line "),
    ):
        edit(root, f"themes/tidetable/{file}", old, new)
        assert run(root) == 1
        assert told in capsys.readouterr().out
        assert site_of(root) == before
        edit(root, f"themes/tidetable/{file}", new, old)


def test_a_touched_or_lost_file_of_the_site_is_mended(root: Path) -> None:
    before = site_of(root)
    site = root / "build" / "site"
    (site / "index.html").write_bytes(b"x" * len(before["index.html"]))
    (site / "stories/2024/coats/index.html").unlink()
    assert run(root) == 0
    assert site_of(root) == before


def test_a_lost_file_of_the_search_is_mended(root: Path) -> None:
    """The directory alone has a model; the files that it leads to are made with it."""
    whole = site_of(root)
    for kind in ("txt", "json"):
        lost = next((root / "build/site/data/search").glob(f"*.{kind}"))
        lost.unlink()
        assert run(root) == 0
        assert site_of(root) == whole


def test_a_link_to_what_is_gone_is_found_on_a_page_that_was_not_made_again(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The proof looks at old pages too when something that they may lead to goes."""
    real = compose.compose_edition

    def without_a_page(
        newsroom: Newsroom,
        as_of: datetime,
        *,
        drawer: Drawer | None = None,
        leaves_resting: bool = False,
        aside: Aside | None = None,
    ) -> compose.Composition:
        whole = real(newsroom, as_of, drawer=drawer, leaves_resting=leaves_resting, aside=aside)
        pages = tuple(page for page in whole.edition.pages if page.address != "stories/2025/coats/")
        return replace(whole, edition=replace(whole.edition, pages=pages))

    monkeypatch.setattr("sitegen.site.build.compose_edition", without_a_page)
    edit(root, "content/pages/about.md", "Who we are.", "Who we were.")
    before = site_of(root)
    assert run(root) == 1
    assert site_of(root) == before


@pytest.mark.parametrize("damage", ["lost", "emptied", "foreign", "bits"])
def test_a_ledger_not_to_be_believed_is_a_full_build(
    root: Path, tmp_path: Path, damage: str, chance: random.Random
) -> None:
    ledger = root / "build" / "ledger" / LEDGER_NAME
    edit(root, A_STORY, "Heron Flats", "Gull Bank")
    if damage == "lost":
        ledger.unlink()
    elif damage == "emptied":
        ledger.write_bytes(b"")
    elif damage == "foreign":
        ledger.write_bytes(b"SQLite format 3\0" + b"?" * 5000)
    else:
        held = bytearray(ledger.read_bytes())
        for _ in range(len(held) // 400):
            held[chance.randrange(100, len(held))] ^= 1 << chance.randrange(8)
        ledger.write_bytes(held)
    assert run(root) == 0
    assert site_of(root) == fresh_site(root, tmp_path / "fresh")


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_parts_of_records_that_turn_out_to_be_damaged_are_read_anew(
    root: Path, tmp_path: Path, jobs: str
) -> None:
    """They are looked at when somebody asks for them, in whichever process: nothing was published by then."""
    with closing(sqlite3.connect(root / "build" / "ledger" / SHELF_NAME)) as store, store:
        assert store.execute("UPDATE parts SET value = CAST(value || x'00' AS BLOB)").rowcount > 3
    (root / "build" / "ledger" / LEDGER_NAME).unlink()
    assert run(root, "--jobs", jobs) == 0
    assert site_of(root) == fresh_site(root, tmp_path / "fresh")


def test_two_builds_at_once_are_kept_apart_and_a_killed_one_lets_go(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script = (
        "import time; from datetime import UTC, datetime; from pathlib import Path\n"
        "from sitegen.site.lock import only_builder\n"
        f"with only_builder(Path({str(root / 'build' / 'ledger')!r}), datetime(2026, 1, 2, tzinfo=UTC)):\n"
        "    print('held', flush=True); time.sleep(60)"
    )
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout is not None and holder.stdout.readline() == "held\n"
        capsys.readouterr()
        assert run(root, moment="2025-11-26 13:00") == 3
        said = capsys.readouterr().err
        assert str(holder.pid) in said and "2026-01-02" in said
        holder.kill()
    assert run(root, moment="2025-11-26 13:00") == 0


def test_any_number_of_processes_makes_the_same_site(root: Path, tmp_path: Path) -> None:
    for jobs in ("1", "2", "3"):
        out = tmp_path / jobs
        assert run(root, "--fresh", "--out", str(out), "--jobs", jobs) == 0
        found = {p.relative_to(out).as_posix(): p.read_bytes() for p in out.rglob("*") if p.is_file()}
        assert found == site_of(root)


@pytest.mark.parametrize("size", [0, 100, 65_535, 65_536, 65_537, 1_000_000])
def test_what_is_large_is_sealed_as_what_is_small(size: int) -> None:
    """Part by part it is the digest of lengths and parts all the same: what was sealed before still holds."""
    parts = (b"ground", b"x" * size, b"")
    framed = b"".join(len(part).to_bytes(8, "big") + part for part in parts)
    assert seal(*parts) == seal(*(memoryview(part) for part in parts)) == sha256(framed).digest()[:16]
    assert seal(*parts) != seal(b"groun", b"d" + parts[1], b"")
