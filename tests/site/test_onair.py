"""`sitegen onair`: a folder whole or as it was, never among what is published, and the same bytes each time."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from sitegen.cli import main
from sitegen.site.content import read_content
from sitegen.site.errors import MachineError, RefusedError
from sitegen.site.onair import PackMade, episode_named, make_pack, pack_folder, write_pack
from tests.samples.full_disk import no_file_above
from tests.samples.station_folder import STATION, asking, story, write_folder

BEFORE = ["--as-of", "2026-11-20 12:00"]
EPISODE = """---
aired: 2026-11-21 18:30
rundown:
  - {story: 2026/coats}
  - {story: 2026/carols}
---
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    files = {
        "episodes/2026-11-21.md": EPISODE,
        "stories/2026/coats.md": story(asking() + "say_on_air: coats"),
        "stories/2026/carols.md": story("hold: true\n" + asking(title="Sing along"), body="Secret.").replace(
            "A headline", "Carols at the pier"
        ),
    }
    return write_folder(tmp_path / "station", files)


def tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_a_pack_is_made_before_the_broadcast(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["onair", "--root", str(root), "2026-11-21", *BEFORE]) == 0
    said = capsys.readouterr().out
    files = tree(root / "build/onair/2026-11-21")
    assert set(files) == {
        "host.html", "phones.html", "pack.json",
        *(f"graphics/01-1-bring-a-coat-{kind}.png" for kind in ("full", "full-alpha", "strip", "strip-alpha")),
    }  # fmt: skip
    assert "Carols at the pier' is on hold" in said
    assert b"Carols at the pier" in files["host.html"] and b"Sing along" not in files["host.html"]
    for path, data in files.items():
        if path.endswith(".png"):
            image = Image.open(BytesIO(data))
            assert (image.size, image.mode) == ((1920, 1080), "RGBA" if "alpha" in path else "RGB")
    listed = json.loads(files["pack.json"])
    assert {path for row in listed["graphics"] for path in row["files"]} == {
        path for path in files if ".png" in path
    }
    assert listed["true_from"] == "2026-11-21T18:30:00-05:00"
    assert listed["not_on_site"] == [{"story": "Carols at the pier", "why": "held", "from": None}]
    assert [path.name for path in (root / "build/onair").iterdir()] == ["2026-11-21"]


def test_the_same_content_gives_the_same_bytes_whatever_the_hour_before_air(root: Path) -> None:
    main(["onair", "--root", str(root), "2026-11-21", *BEFORE])
    first = tree(root / "build/onair/2026-11-21")
    main(["onair", "--root", str(root), "content/episodes/2026-11-21.md", "--as-of", "2026-11-21 18:00"])
    assert tree(root / "build/onair/2026-11-21") == first


def test_a_new_pack_takes_the_old_one_s_place_whole(root: Path) -> None:
    main(["onair", "--root", str(root), "2026-11-21", *BEFORE])
    write_folder(root, {"stories/2026/coats.md": story(asking(title="Bring a hat"))})
    main(["onair", "--root", str(root), "2026-11-21", *BEFORE])
    names = {path for path in tree(root / "build/onair/2026-11-21") if ".png" in path}
    assert names and all("bring-a-hat" in name for name in names)


def test_a_fault_in_it_leaves_the_old_pack(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["onair", "--root", str(root), "2026-11-21", *BEFORE])
    before = tree(root / "build")
    for path, broken in (
        ("stories/2026/coats.md", story(asking(more="deadline: soon"))),
        ("places/lowgate-hall.yaml", "name: Lowgate Hall\n"),
        ("episodes/2026-11-21.md", EPISODE.replace("2026/carols", "2026/carol")),
    ):
        whole = (root / "content" / path).read_text("utf-8")
        write_folder(root, {path: broken})
        capsys.readouterr()
        assert main(["onair", "--root", str(root), "2026-11-21", *BEFORE]) == 1
        assert f"content/{path}:" in capsys.readouterr().out
        assert tree(root / "build") == before
        write_folder(root, {path: whole})


def test_a_fault_in_another_story_does_not_keep_the_show_from_its_pack(root: Path) -> None:
    write_folder(
        root, {"stories/2026/other.md": story("cuonty: Gull Bank"), "pages/about.md": "---\ntitel: x\n---\n"}
    )
    assert main(["onair", "--root", str(root), "2026-11-21", *BEFORE]) == 0


def test_an_unknown_episode_is_a_wrong_use_with_a_hint(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["onair", "--root", str(root), "2026-11-12"]) == 2
    assert "2026-11-21" in capsys.readouterr().err


def test_a_pack_never_lands_where_a_site_is(root: Path, tmp_path: Path) -> None:
    assert main(["build", "--root", str(root), "--as-of", "2026-11-24 12:00"]) == 0
    site = tree(root / "build/site")
    other = tmp_path / "elsewhere"
    assert main(["build", "--root", str(root), "--as-of", "2026-11-24 12:00", "--out", str(other)]) == 0
    full = tmp_path / "full"
    full.mkdir()
    (full / "letter.txt").write_text("Mine.")
    for wrong in (
        root / "build/site", root / "build/site/onair", root / "build", root, root / "content/onair", other,
        other / "counties", full, full / "letter.txt",
    ):  # fmt: skip
        assert main(["onair", "--root", str(root), "2026-11-21", *BEFORE, "--out", str(wrong)]) == 2, wrong
    assert tree(root / "build/site") == site and (full / "letter.txt").read_text() == "Mine."
    assert (
        main(["onair", "--root", str(root), "2026-11-21", *BEFORE, "--out", str(tmp_path / "new/pack")]) == 0
    )
    assert not any("onair" in path or "Carols at the pier" in path for path in site)
    # And the next build leaves it alone.
    main(["onair", "--root", str(root), "2026-11-21", *BEFORE])
    pack = tree(root / "build/onair")
    assert main(["build", "--root", str(root), "--as-of", "2026-11-25 12:00"]) == 0
    assert tree(root / "build/onair") == pack
    assert not [path for path in tree(root / "build/site") if "onair" in path or path.endswith("pack.json")]


def test_a_disk_that_refuses_leaves_the_old_pack(root: Path, tmp_path: Path) -> None:
    folder = tmp_path / "pack"
    write_pack(folder, {"pack.json": b"{}", "host.html": b"old"})
    with pytest.raises(MachineError):
        write_pack(folder, {"pack.json": b"{}", "pack.json/under-a-file": b""})
    assert tree(folder) == {"pack.json": b"{}", "host.html": b"old"}
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".")] == []


OLD_PACK = {"pack.json": b"{}", "host.html": b"old", "graphics/coats.png": b"old"}
NEW_PACK = {"host.html": b"new", "graphics/coats.png": b"new", "pack.json": b"{}"}
DISK = ("mkdir", "write_bytes", "rename", "unlink", "rmdir")
"""What a pack is written by."""


def killed_at(call: int, folder: Path, patched: pytest.MonkeyPatch, ends: bool) -> int:
    """Writes a pack, and is stopped at one of its calls to the disk, before or after it was done. With `ends` nothing more is done
    after it, as in a process that is gone. The number of calls that were let through."""
    calls = 0
    over = False

    def stopping(do: Callable[..., object]) -> Callable[..., object]:
        def step(*given: object, **named: object) -> object:
            nonlocal calls, over
            if over and ends:
                raise KeyboardInterrupt
            if not over and calls == call // 2:
                over = True
                if call % 2:
                    do(*given, **named)
                raise KeyboardInterrupt
            calls += 1
            return do(*given, **named)

        return step

    for name in DISK:
        patched.setattr(Path, name, stopping(getattr(Path, name)))
    patched.setattr(shutil, "rmtree", stopping(shutil.rmtree))
    with suppress(KeyboardInterrupt):
        write_pack(folder, NEW_PACK)
    return calls


@pytest.mark.parametrize("ends", [False, True], ids=["interrupted", "killed"])
def test_wherever_it_is_stopped_a_whole_pack_stands_by_the_next_run_at_the_latest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ends: bool
) -> None:
    stopped = 0
    for call in range(200):
        folder = tmp_path / str(call) / "pack"
        write_pack(folder, OLD_PACK)
        with monkeypatch.context() as patched:
            done = killed_at(call, folder, patched, ends)
        if not ends:
            assert tree(folder) in (OLD_PACK, NEW_PACK), call
        with no_file_above(1), pytest.raises(MachineError, match="as it was"):
            write_pack(folder, {**NEW_PACK, "host.html": b"newest"})
        assert tree(folder) in (OLD_PACK, NEW_PACK), call
        write_pack(folder, {**NEW_PACK, "host.html": b"newest"})
        assert tree(folder) == {**NEW_PACK, "host.html": b"newest"}
        assert [path.name for path in folder.parent.iterdir()] == ["pack"]
        if done < call // 2:
            break
        stopped += 1
    assert stopped > 10


def test_a_pack_that_a_killed_run_left_aside_is_put_back_though_a_fault_stands_against_a_new_one(
    root: Path,
) -> None:
    assert main(["onair", "--root", str(root), "2026-11-21", *BEFORE]) == 0
    folder = root / "build/onair/2026-11-21"
    before = tree(folder)
    folder.rename(folder.with_name(".2026-11-21.old"))
    folder.mkdir()
    write_folder(root, {"places/broken.yaml": "name: ["})
    assert main(["onair", "--root", str(root), "2026-11-21", *BEFORE]) == 1
    assert tree(folder) == before


def test_colours_below_seven_to_one_make_no_pack(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own, shipped = root / "themes/tidetable", Path(__file__).parents[2] / "themes/tidetable"
    for path in shipped.rglob("*"):
        if path.is_file():
            target = own / path.relative_to(shipped)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(path.read_bytes())
    style = own / "assets/tidetable.css"
    style.write_text(re.sub(r"--lamp: #\w+;", "--lamp: #8a6a2a;", style.read_text("utf-8"), count=1), "utf-8")
    assert main(["onair", "--root", str(root), "2026-11-21", *BEFORE]) == 1
    assert "1.4.6" in capsys.readouterr().out and not (root / "build/onair").exists()


def made_of(root: Path, jobs: int = 1) -> PackMade:
    reading = read_content(root)
    assert reading.newsroom is not None
    episode = episode_named(reading.newsroom, "2026-11-21")
    return make_pack(reading, root, episode, datetime(2026, 11, 20, tzinfo=UTC), jobs)


def test_made_in_one_process_or_two_it_is_the_same(root: Path) -> None:
    assert made_of(root).files == made_of(root, 2).files


def test_another_language_s_station_gets_its_words(tmp_path: Path) -> None:
    files = {
        "episodes/2026-11-21.md": EPISODE,
        "stories/2026/coats.md": story(asking()),
        "stories/2026/carols.md": story(),
    }
    root = write_folder(tmp_path / "es", files, STATION.replace("en-US", "es-MX"))
    made = made_of(root)
    assert "Hoja para el teléfono".encode() in made.files["phones.html"]
    assert b'lang="es-MX"' in made.files["host.html"]


def test_the_folder_is_refused_before_anything_is_written(root: Path) -> None:
    with pytest.raises(RefusedError):
        pack_folder(root, "2026-11-21", root / "content")
