"""What a build costs beside the floor loop over the same stories in the same run: full, without work, and after small changes.

usage: python -m tests.bench.bench_build [--jobs N] [--folder DIR] [COUNT ...]      counts of stories; 1000 without any

Prints a table; asserts nothing. Each build is the command itself in a process of its own, start-up included. `wall` and `CPU` are
seconds, CPU with that of all child processes; `memory` is the peak of what the command and its children hold together (shared
pages counted once). `of wall` and `of CPU` are ratios to the floor loop's; on a busy machine only the second means anything.
Pictures are derived before.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from tests.bench.made_station import AS_OF, SHARED_PLACE, make_station, story_id

CHECKOUT = Path(__file__).resolve().parents[2]
SAMPLE_SECONDS = 0.05
SAMPLE_SHARE = 0.02
"""The most that looking at the memory takes of a processor: to add up the pages of a large process takes long, and would slow what
is measured."""


@dataclass(frozen=True, slots=True)
class Cost:
    wall: float
    """Seconds."""
    cpu: float
    """Seconds of the process and its children."""
    memory: int
    """Bytes at the peak."""
    said: str
    """The last line the command printed but one."""


def measured(command: list[str]) -> Cost:
    """Runs a command to its end."""
    before = os.times()
    begun = time.perf_counter()
    process = subprocess.Popen(
        command, cwd=CHECKOUT, env=_environment(), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    peak = 0
    over = threading.Event()

    def sample() -> None:
        nonlocal peak
        pause = SAMPLE_SECONDS
        while not over.wait(pause):
            began = time.thread_time()
            peak = max(peak, sum(_held(each) for each in _family(process.pid)))
            pause = max(SAMPLE_SECONDS, (time.thread_time() - began) / SAMPLE_SHARE)

    sampler = threading.Thread(target=sample)
    sampler.start()
    output, _ = process.communicate()
    wall = time.perf_counter() - begun
    over.set()
    sampler.join()
    after = os.times()
    if process.returncode:
        raise SystemExit(f"{' '.join(command)} ended with {process.returncode}:\n{output}")
    cpu = after.children_user + after.children_system - before.children_user - before.children_system
    lines = [line for line in output.splitlines() if line.startswith("Published")]
    return Cost(wall, cpu, peak, lines[-1] if lines else output.strip().splitlines()[-1])


def _environment() -> dict[str, str]:
    """This process's, with modules compiled once, as an installed program has them, whatever is set here."""
    ours = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return ours | {"PYTHONPYCACHEPREFIX": f"{tempfile.gettempdir()}/sitegen-bench-modules"}


def _family(pid: int) -> list[int]:
    """A process and all that it started."""
    try:
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text("ascii").split()
    except OSError:
        return [pid]
    return [pid, *(each for child in children for each in _family(int(child)))]


def _held(pid: int) -> int:
    """Proportional set size in bytes: a page shared by two processes counts half in each."""
    try:
        for line in Path(f"/proc/{pid}/smaps_rollup").read_text("ascii").splitlines():
            if line.startswith("Pss:"):
                return int(line.split()[1]) * 1024
    except OSError:
        pass
    return 0


def weight(folder: Path) -> int:
    """Bytes of all files below a folder."""
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())


def _replace(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    if old not in text:
        raise SystemExit(f"{path} has no {old!r}")
    path.write_text(text.replace(old, new, 1), "utf-8")


def bench(count: int, jobs: int | None, folder: Path) -> None:
    root = folder / f"station-{count}"
    if not (root / "content").is_dir():
        make_station(root, count)
    shutil.rmtree(root / "build", ignore_errors=True)
    shutil.rmtree(root / "themes", ignore_errors=True)
    site = root / "build" / "site"
    moment = AS_OF

    def build(*more: str) -> list[str]:
        said = [
            sys.executable,
            "-m",
            "sitegen",
            "build",
            "--root",
            str(root),
            "--as-of",
            f"{moment:%Y-%m-%d %H:%M}",
        ]
        return [*said, *(["--jobs", str(jobs)] if jobs else []), *more]

    rows: list[tuple[str, Cost]] = []
    shutil.copytree(CHECKOUT / "themes" / "tidetable", root / "themes" / "tidetable")
    floor_folder = folder / f"floor-{count}"
    shutil.rmtree(floor_folder, ignore_errors=True)
    subprocess.run(
        build(), cwd=CHECKOUT, env=_environment(), check=True, stdout=subprocess.DEVNULL
    )  # derives the pictures
    shutil.rmtree(site)
    shutil.rmtree(root / "build" / "ledger", ignore_errors=True)
    floor = measured([sys.executable, "-m", "tests.bench.floor_loop", str(root), str(floor_folder)])
    rows.append(("floor loop", floor))
    rows.append(("full build", measured(build())))
    rows.append(("nothing to do", measured(build())))
    newest = root / "content" / "stories" / f"{story_id(1, count)}.md"
    _replace(newest, "headline: ", "headline: At last, ")
    rows.append(("one story edited", measured(build())))
    place = root / "content" / "places" / f"{SHARED_PLACE}.yaml"
    _replace(place, "parking: ", "parking: behind the hall, ")
    rows.append(("one place of 40 stories edited", measured(build())))
    moment += timedelta(hours=7)
    rows.append(("a moment passes", measured(build())))
    _replace(
        root / "themes" / "tidetable" / "templates" / "article.html", "<article class", "<article  class"
    )
    rows.append(("theme edited", measured(build())))
    _replace(newest, "headline: At last, ", "headline: ")
    _replace(place, "parking: behind the hall, ", "parking: ")
    print(f"\n{count} stories, {weight(site) / 1e6:.0f} MB of site, {len(list(site.rglob('*.html')))} pages")
    print(f"{'':32} {'wall s':>8} {'CPU s':>8} {'MB':>6} {'of wall':>8} {'of CPU':>8}  ms a story")
    for name, cost in rows:
        print(
            f"{name:32} {cost.wall:8.2f} {cost.cpu:8.2f} {cost.memory / 1e6:6.0f} {cost.wall / floor.wall:8.3f} {cost.cpu / floor.cpu:8.3f}"
            f"  {cost.wall / count * 1000:6.2f}   {cost.said}"
        )


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("counts", nargs="*", type=int, default=[1000], metavar="COUNT")
    parser.add_argument(
        "--jobs", type=int, default=None, help="processes for the builds (default: the command's own)"
    )
    parser.add_argument("--folder", type=Path, default=None, help="where to make and keep the stations")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        for count in options.counts:
            bench(count, options.jobs, options.folder or Path(temporary))


if __name__ == "__main__":
    main()
