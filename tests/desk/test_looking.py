"""Looking again and again: what changed is seen, what is broken is shown as it was."""

from __future__ import annotations

import os
import random
import re
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from sitegen.desk.looking import Looker
from sitegen.desk.setting import Moment, Room
from sitegen.site.content import read_content
from tests.samples.station_folder import PLACE, STATION, asking, story, write_folder

PRESENT = datetime(2026, 12, 2, 17, tzinfo=UTC)
BLUE, RED = (0, 0, 200), (200, 0, 0)
ONE, TWO = "stories/2026/one.md", "stories/2026/two.md"
EPISODE = "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/one}\n---\n"
FILES = {ONE: story(asking()), TWO: story("follows: 2026/one"), "episodes/2026-11-21.md": EPISODE}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_folder(tmp_path, FILES)


def write(root: Path, name: str, text: str) -> None:
    (root / "content" / name).write_text(text, "utf-8")


def test_nothing_changed_is_no_new_look(root: Path) -> None:
    looker = Looker(root, PRESENT)
    first = looker.newest
    assert first.number == 1
    assert looker.again(PRESENT) is first
    assert looker.again(PRESENT, ["content/" + ONE]) is first


def test_a_saved_story_is_read_again_and_the_others_are_the_same_records(root: Path) -> None:
    looker = Looker(root, PRESENT)
    first = looker.newest
    write(root, TWO, story("follows: 2026/one", "Other words."))
    second = looker.again(PRESENT, ["content/" + TWO])
    assert second.number == 2
    assert first.newsroom is not None and second.newsroom is not None
    assert second.newsroom.stories[0] is first.newsroom.stories[0]
    assert second.newsroom.stories[1].body == "Other words."


def test_any_walk_of_changes_ends_with_the_reading_of_everything(root: Path, chance: random.Random) -> None:
    looker = Looker(root, PRESENT)
    texts = {
        ONE: (FILES[ONE], story("hold: true"), story("nonsense: 1")),
        TWO: (FILES[TWO], story(asking("volunteer")), ""),
        "stories/2026/new.md": (story(), story("follows: 2026/two")),
        "places/lowgate-hall.yaml": (PLACE, PLACE + "phone: 237-555-0101\n", "name: ["),
        "episodes/2026-11-21.md": (EPISODE, EPISODE.replace("one", "two"), EPISODE.replace("one", "nobody")),
        "station.yaml": (STATION, STATION + "last_days: 5\n", STATION + "nonsense: 1\n"),
    }
    for _ in range(40):
        name = chance.choice(list(texts))
        if name == "stories/2026/new.md" and chance.random() < 0.4:
            (root / "content" / name).unlink(missing_ok=True)
        else:
            write(root, name, chance.choice(texts[name]))
        look = looker.again(PRESENT, chance.choice((None, [f"content/{name}"])))
        assert look.reading == read_content(root)
        assert not look.reading.faults or look.newsroom is not None
        if not look.reading.faults:
            assert look.newsroom == look.reading.newsroom
            assert not look.stale


def test_a_broken_story_is_shown_as_it_was_until_it_is_mended(root: Path) -> None:
    looker = Looker(root, PRESENT)
    good = looker.newest.newsroom
    write(root, ONE, story("county: Nowhere at all"))
    broken = looker.again(PRESENT)
    assert broken.reading.faults
    assert broken.findings_by_file["content/" + ONE]
    assert broken.newsroom == good
    assert broken.stale == {"content/" + ONE}
    write(root, ONE, story(body="Mended."))
    mended = looker.again(PRESENT)
    assert mended.newsroom is not None
    assert mended.newsroom.stories[0].body == "Mended."
    assert not mended.stale


def test_a_broken_place_keeps_the_stories_that_name_it(root: Path) -> None:
    looker = Looker(root, PRESENT)
    good = looker.newest.newsroom
    write(root, "places/lowgate-hall.yaml", "name: [")
    broken = looker.again(PRESENT)
    assert broken.newsroom == good
    assert broken.stale == {"content/places/lowgate-hall.yaml", "content/" + ONE}


def test_a_broken_station_keeps_the_site(root: Path) -> None:
    looker = Looker(root, PRESENT)
    write(root, "station.yaml", "station: [")
    write(root, TWO, story(body="Written meanwhile."))
    broken = looker.again(PRESENT)
    assert any(finding.spot.path == "content/station.yaml" for finding in broken.reading.faults)
    assert broken.newsroom is not None
    assert broken.newsroom.stories[1].body == "Written meanwhile."


def test_a_station_that_was_never_readable_shows_nothing(tmp_path: Path) -> None:
    looker = Looker(write_folder(tmp_path, station="station: ["), PRESENT)
    assert looker.newest.newsroom is None
    write(tmp_path, "station.yaml", STATION)
    assert looker.again(PRESENT).newsroom is not None


def test_a_later_run_reads_what_an_earlier_one_left(root: Path) -> None:
    first = Looker(root, PRESENT).newest
    write(root, TWO, story(body="Since then."))
    assert Looker(root, PRESENT).newest.reading == read_content(root)
    assert Looker(root, PRESENT).newest.reading != first.reading


def test_nothing_is_written_but_the_cache(root: Path) -> None:
    Looker(root, PRESENT)
    assert {path.name for path in root.iterdir()} == {"content", "build"}
    assert {path.name for path in (root / "build").iterdir()} == {"preview"}


def test_a_later_run_knows_every_file_that_a_record_was_read_from(tmp_path: Path) -> None:
    """Also one that left nothing in the record: a listing without rows."""
    head = "what,town,county,date,starts,ends,place,note,stopped\n"
    row = "Parade,Lowgate,Heron Flats,2026-12-12,17:00,18:30,Pier,,\n"
    root = write_folder(tmp_path, {ONE: story("listing: parades.csv"), "listings/parades.csv": head})
    for path in (root / "content").rglob("*.*"):
        os.utime(path, (1, 1))
    later = PRESENT + timedelta(
        days=400
    )  # long after the files were changed, so that their states are believed
    Looker(root, later)
    looker = Looker(root, later)
    write(root, "listings/parades.csv", head + row)
    assert looker.again(later).reading == read_content(root)
    newsroom = looker.newest.newsroom
    assert newsroom is not None and len(newsroom.stories[0].listing) == 1


def test_a_folder_that_vanishes_for_a_while_leaves_what_was_seen(root: Path) -> None:
    looker = Looker(root, PRESENT)
    good = looker.newest.newsroom
    (root / "content").rename(root / "away")
    assert looker.again(PRESENT).newsroom == good
    (root / "away").rename(root / "content")
    write(root, TWO, story(body="Back."))
    newsroom = looker.again(PRESENT).newsroom
    assert newsroom is not None and newsroom.stories[1].body == "Back."


def test_a_picture_that_is_replaced_is_shown_and_not_kept_for_the_old_one(root: Path) -> None:
    """The preview keeps derived pictures by the names of what they are made of."""
    photo = root / "content/photos/a.png"
    photo.parent.mkdir()
    shown = 'photo: {file: a.png, alt: "A wall", credit: Ada Quill}\n'
    write(root, ONE, story(asking() + shown))
    looker, room = Looker(root, PRESENT), Room(root)
    seen: list[list[int]] = []
    for colour in (BLUE, RED, BLUE):
        Image.new("RGB", (600, 400), colour).save(photo)
        moment = Moment(looker.again(PRESENT), PRESENT)
        sheet = room.sheet(moment, "stories/2026/one/")
        assert sheet is not None
        (address,) = re.findall(rb'src="[^"]*(pictures/[^"]+)"', sheet.data)
        data = room.file(moment, address.decode())
        assert data is not None
        seen.append(list(Image.open(BytesIO(data)).convert("RGB").tobytes()[:3]))
    assert [pixel.index(max(pixel)) for pixel in seen] == [2, 0, 2]
