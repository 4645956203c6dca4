"""A thousand broken content files give a thousand located faults and no traceback."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Finding, Reading
from tests.counts import LONG, SEED
from tests.newsroom.breaking import BREAKERS, STORY_PATH, YAML_PATHS, Break
from tests.newsroom.whole_station import FILES, STORY, write_whole

COUNT = 20_000 if LONG else 1_000
ASKS = STORY.count("  - title:")


class Broken:
    """A whole station on the disk in which files are broken and mended again."""

    def __init__(self, root: Path) -> None:
        self.root = write_whole(root)
        self.picture = (root / "content/photos/coat-closet.png").read_bytes()

    def read(self, *breaks: Break) -> Reading:
        for each in breaks:
            target = self.root / "content" / each.path
            if each.act is not None:
                target.unlink()
                each.act(target)
            else:
                assert each.data is not None
                target.write_bytes(each.data)
        try:
            return read_newsroom(self.root, read_map)
        finally:
            for each in breaks:
                self.mend(each.path)

    def mend(self, path: str) -> None:
        target = self.root / "content" / path
        if target.is_dir() and not target.is_symlink():
            shutil.rmtree(target)
        else:
            target.unlink()
        if path in FILES:
            target.write_text(FILES[path], "utf-8")
        elif path.endswith(".png"):
            target.write_bytes(self.picture)


@pytest.fixture(scope="module")
def broken(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Broken]:
    station = Broken(tmp_path_factory.mktemp("broken"))
    yield station
    # Every break was mended: what is left is the valid station.
    assert not station.read().faults


def lines_of(each: Break) -> int:
    if each.data is None:
        return 1
    text = each.data.decode("utf-8", "replace").replace("\r\n", "\n").replace("\r", "\n")
    return text.count("\n") + 1


def check(reading: Reading, each: Break) -> list[Finding]:
    """The faults of a broken file: at least one, each placed inside the file and told in words that can be shown."""
    faults = [fault for fault in reading.faults if fault.spot.path == f"content/{each.path}"]
    assert faults, "no fault names the broken file"
    for fault in faults:
        assert 1 <= fault.spot.line <= lines_of(each) and fault.spot.column >= 1, fault
        assert fault.message.strip() and fault.check
        f"{fault.message}{fault.instead}".encode()
    if each.line is not None:
        assert each.line in {fault.spot.line for fault in faults}, faults
    return faults


def check_nothing_vanished(reading: Reading, breaks: tuple[Break, ...]) -> None:
    """What is missing among the records has a fault of its own; nothing is dropped in silence."""
    at_fault = {fault.spot.path for fault in reading.faults}
    if reading.newsroom is None:
        assert "content/station.yaml" in at_fault
        return
    room = reading.newsroom
    held = {f"content/stories/{story.id}.md" for story in room.stories}
    held |= {f"content/places/{place.id}.yaml" for place in room.places}
    held |= {f"content/episodes/{episode.id}.md" for episode in room.episodes}
    held |= {f"content/pages/{page.id}.md" for page in room.pages}
    for path in (f"content/{path}" for path in YAML_PATHS if path != "station.yaml"):
        assert path in held or path in at_fault, f"{path} vanished"
    if f"content/{STORY_PATH}" not in at_fault:
        story = next(each for each in room.stories if each.id == "2026/coat-closet")
        assert len(story.asks) == ASKS
        if not any(path.startswith("content/places/") for path in at_fault):
            assert [len(ask.drop_off) for ask in story.asks] == [3, 0, 1, 0, 1, 0, 1]


def test_a_thousand_broken_files_give_a_thousand_located_faults(broken: Broken) -> None:
    print(f"seed {SEED}")
    seen: Counter[str] = Counter()
    checks: set[str] = set()
    for number in range(COUNT):
        pick = Random(f"{SEED} {number}")
        breaker = BREAKERS[number % len(BREAKERS)]
        each = breaker(pick)
        shown = (each.data or b"")[:3000].decode("utf-8", "replace")
        try:
            reading = broken.read(each)
            checks |= {fault.check for fault in check(reading, each)}
            check_nothing_vanished(reading, (each,))
        except Exception as error:
            raise AssertionError(
                f"seed {SEED}, {number}: {breaker.__name__} on {each.path}: {error!r}\n{shown}"
            ) from error
        seen[each.path] += 1
    # The thousand is worth its name: every kind of file was broken, in many different ways.
    assert set(FILES) <= set(seen)
    assert len(checks) > 40, sorted(checks)


def test_all_faults_of_all_files_come_in_one_run(broken: Broken) -> None:
    """Several files broken at once: each tells its own fault, whatever the others hold."""
    print(f"seed {SEED}")
    for number in range(COUNT // 20):
        pick = Random(f"{SEED} several {number}")
        breaks: dict[str, Break] = {}
        while len(breaks) < 3:
            each = pick.choice(BREAKERS)(pick)
            # Without a station no county can be unknown and no time be in a gap. A listing, captions or a
            # picture is read only where a story can still name it.
            if each.path == "station.yaml" or not each.path.endswith((".md", ".yaml")):
                continue
            breaks.setdefault(each.path, each)
        reading = broken.read(*breaks.values())
        for each in breaks.values():
            try:
                check(reading, each)
            except AssertionError as error:
                raise AssertionError(
                    f"seed {SEED}, several {number}: {each.path} of {sorted(breaks)}: {error}"
                ) from error
        check_nothing_vanished(reading, tuple(breaks.values()))
