"""Any sequence of builds leaves what one build from nothing would: edits, moves, deletions, themes and moments at random."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitegen import cli
from tests.counts import LONG
from tests.samples.small_archive import fresh_site, run, site_of, write_archive
from tests.samples.station_folder import asking, story

SEQUENCES = 200 if LONG else 6
STEPS = 3
CHECKOUT = Path(__file__).resolve().parents[2]
WORDS = ("lantern", "quilt", "ferry", "kettle", "orchard", "supper")

Step = Callable[[Path, random.Random], object]


def stories(root: Path) -> list[Path]:
    return sorted((root / "content/stories").rglob("*.md"))


def rewrite(path: Path, chance: random.Random, starting: str, words: Callable[[], str]) -> None:
    """Gives a line of a file that begins so other words, where it has one."""
    lines = path.read_text("utf-8").splitlines()
    found = [number for number, line in enumerate(lines) if line.lstrip().startswith(starting)]
    if found:
        number = chance.choice(found)
        lines[number] = lines[number][: lines[number].index(starting)] + f"{starting} {words()}"
        path.write_text("\n".join(lines) + "\n", "utf-8")


def edit_headline(root: Path, chance: random.Random) -> None:
    rewrite(
        chance.choice(stories(root)), chance, "headline:", lambda: f"A {chance.choice(WORDS)} for everyone"
    )


def edit_deadline(root: Path, chance: random.Random) -> None:
    rewrite(
        chance.choice(stories(root)), chance, "deadline:", lambda: f"2025-12-{chance.randrange(1, 29):02}"
    )


def edit_county(root: Path, chance: random.Random) -> None:
    rewrite(
        chance.choice(stories(root)),
        chance,
        "county:",
        lambda: chance.choice(("Heron Flats", "Gull Bank", "beyond")),
    )


def edit_air_date(root: Path, chance: random.Random) -> None:
    year = chance.choice((2024, 2025))
    rewrite(chance.choice(stories(root)), chance, "aired:", lambda: f"{year}-11-{chance.randrange(1, 29):02}")


def edit_body(root: Path, chance: random.Random) -> None:
    path = chance.choice(stories(root))
    target = chance.choice(stories(root)).relative_to(root / "content/stories").with_suffix("").as_posix()
    path.write_text(path.read_text("utf-8") + f"\nMore of the [{chance.choice(WORDS)}]({target}).\n", "utf-8")


def edit_place(root: Path, chance: random.Random) -> None:
    path = root / "content/places/lowgate-hall.yaml"
    rewrite(path, chance, "hours:", lambda: f'"Mo-Fr 09:00-{chance.randrange(12, 20)}:00"')


def hold_or_release(root: Path, chance: random.Random) -> None:
    path = chance.choice([*stories(root), *sorted((root / "content/episodes").glob("*.md"))])
    text = path.read_text("utf-8")
    held = "hold: true\n"
    path.write_text(
        text.replace(held, "") if held in text else text.replace("---\n", f"---\n{held}", 1), "utf-8"
    )


def add_story(root: Path, chance: random.Random) -> None:
    number = chance.randrange(1000)
    front = chance.choice(
        (
            asking(more=f"deadline: 2025-12-{chance.randrange(1, 29):02}"),
            f"say_on_air: word-{number}",
            "topics: [quilts]",
        )
    )
    (root / f"content/stories/2025/new-{number}.md").write_text(
        story(front, chance.choice(WORDS), f"2025-11-{chance.randrange(1, 27):02}"), "utf-8"
    )


def delete_story(root: Path, chance: random.Random) -> None:
    chance.choice(stories(root)).unlink()


def move_story(root: Path, chance: random.Random) -> None:
    path = chance.choice(stories(root))
    path.rename(path.with_name(f"moved-{chance.randrange(1000)}.md"))


def edit_theme(root: Path, chance: random.Random) -> None:
    folder = root / "themes/tidetable"
    if not folder.exists():
        shutil.copytree(CHECKOUT / "themes/tidetable", folder)
    path = folder / "templates" / chance.choice(("story.html", "frame.html", "lead.html"))
    path.write_text(path.read_text("utf-8") + f"{{# {chance.randrange(10**9)} #}}\n", "utf-8")


def edit_station(root: Path, chance: random.Random) -> None:
    path = root / "content/station.yaml"
    rewrite(path, chance, "programme:", lambda: f"The {chance.choice(WORDS).capitalize()} Hour")


def nothing(root: Path, chance: random.Random) -> None:
    """Only the moment is another."""


ALL: tuple[Step, ...] = (
    edit_headline, edit_deadline, edit_county, edit_air_date, edit_body, edit_place, hold_or_release, add_story,
    delete_story, move_story, edit_theme, edit_station, nothing, nothing,
)  # fmt: skip


@pytest.mark.parametrize("number", range(SEQUENCES))
def test_a_sequence_of_builds_leaves_what_a_fresh_one_would(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, chance: random.Random, number: int
) -> None:
    later = datetime.now(UTC).replace(microsecond=0) + timedelta(hours=1)
    monkeypatch.setattr(cli, "_present", lambda: later)
    root = write_archive(tmp_path / "station")
    assert run(root) == 0
    told: list[str] = []
    for step in range(STEPS):
        for change in chance.sample(ALL, chance.randrange(1, 3)):
            change(root, chance)
            told.append(change.__name__)
        moment = f"2025-{chance.choice(('11-26 12:00', '11-27 18:30', '11-29 09:00', '12-01 17:00', '12-20 00:00'))}"
        told.append(moment)
        if run(root, moment=moment) != 0:
            continue  # what was changed makes a fault; equality is promised for content without any
        elsewhere = tmp_path / f"fresh-{step}"
        fresh = fresh_site(root, elsewhere, moment)
        left = site_of(root)
        assert left.keys() == fresh.keys(), told
        assert {path for path in left if left[path] != fresh[path]} == set(), told
