"""A station small enough to be built many times, and rich enough that every kind of page depends on several files."""

from __future__ import annotations

import shutil
from pathlib import Path

from sitegen.cli import main
from sitegen.site.manifest import MANIFEST_NAME
from sitegen.site.order import workshop_for
from sitegen.site.proofkept import LEARNT_NAME
from tests.samples.station_folder import asking, story, write_folder

MOMENT = "2025-11-26 12:00"
"""Of the station's wall time; long past, so that a build for it may go to the station's own folder."""

FILES = {
    "stories/2025/coats.md": story(
        asking(more="deadline: 2025-12-15\nconfirmed: {date: 2025-11-25}")
        + "say_on_air: coats\ntopics: [clothing]\ncorrections:\n  - {date: 2025-11-25, text: The hour was wrong.}",
        "See [the lights](2025/lights).",
        "2025-11-21",
    ),
    "stories/2025/lights.md": story(
        asking("go", "See the lights", "dates: 2025-11-28..2025-12-02\nhours: Mo-Su 17:00-21:00")
        + "topics: [lights]\nfollows: 2024/lights",
        "Lights.",
        "2025-11-21",
        "Gull Bank",
    ),
    "stories/2025/help.md": story(
        asking(
            "get help", "A warm meal", "deadline: 2025-12-01\nwho_for: anyone\ncontact: {phone: 237-555-0107}"
        ),
        "Meals.",
        "2025-11-20",
    ),
    "stories/2024/lights.md": story("topics: [lights]\nold_addresses: [/old/lights/]", "Old.", "2024-11-22"),
    "stories/2024/coats.md": story(asking(more="deadline: 2024-12-15"), "Old coats.", "2024-11-21"),
    "stories/2025/later.md": story("embargo: 2025-11-27 18:30", "Later.", "2025-11-27"),
    "episodes/2025-11-21.md": "---\naired: 2025-11-21 18:30\ntitle: Coats and lights\nrundown:\n  - {story: 2025/coats}\n"
    "  - {story: 2025/lights}\n---\nNotes.\n",
    "pages/about.md": "---\ntitle: About us\n---\nWho we are.\n",
    "places/sandy-end.yaml": "name: Sandy End Library\ntown: Sandy End\ncounty: Gull Bank\nhours: by appointment\n",
}


def write_archive(root: Path) -> Path:
    """The station below `root`."""
    return write_folder(root, FILES)


def run(root: Path, *more: str, moment: str = MOMENT) -> int:
    """Builds the station into its own folder; gives the exit status."""
    return main(["build", "--root", str(root), "--as-of", moment, "--jobs", "1", *more])


def site_of(root: Path) -> dict[str, bytes]:
    """Every file of the station's own site, by path."""
    folder = root / "build" / "site"
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def fresh_site(root: Path, elsewhere: Path, moment: str = MOMENT) -> dict[str, bytes]:
    """Every file of the same station built anew into another folder, without anything of before but what the proof learnt of
    the theme, on which no page rests."""
    learnt = root / "build" / "ledger" / LEARNT_NAME
    if learnt.is_file():
        ledger = workshop_for(root, elsewhere).ledger
        ledger.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(learnt, ledger / LEARNT_NAME)
    assert run(root, "--out", str(elsewhere), moment=moment) == 0
    return {
        path.relative_to(elsewhere).as_posix(): path.read_bytes()
        for path in elsewhere.rglob("*")
        if path.is_file()
    }


def written_again(before: dict[str, int], root: Path) -> set[str]:
    """The files of the site that were replaced or added since `before` was taken, the manifest left out."""
    return {path for path, inode in inodes(root).items() if before.get(path) != inode} - {MANIFEST_NAME}


def inodes(root: Path) -> dict[str, int]:
    """The inode of every file of the site: a file that is put in place anew has another one."""
    folder = root / "build" / "site"
    return {
        path.relative_to(folder).as_posix(): path.stat().st_ino
        for path in folder.rglob("*")
        if path.is_file()
    }
