"""How long after a save the preview's browsers know of it, and have the new page.

usage: python -m tests.bench.bench_preview [--folder DIR] [--saves N] [COUNT ...]      counts of stories; 1000 without any

Runs `sitegen preview` in a process of its own and listens as a browser does. Prints milliseconds from the file's write to the event,
and to the last byte of the page that is then asked for: median and worst over the saves; and the median of the CPU time that the
preview took for a save. The floor, measured in the same run, is the least that any program needs to show one story anew: read, front
matter, Markdown, one template (see `floor_loop`), in CPU time; the ratio is of CPU times. Asserts nothing; on a busy machine only
CPU times and their ratio mean anything.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from queue import Queue

from tests.bench.floor_loop import run as floor_loop
from tests.bench.made_station import AS_OF, SHARED_PLACE, make_station, story_id

CHECKOUT = Path(__file__).resolve().parents[2]
START_SECONDS = 600
FLOOR_STORIES = 200


class Preview:
    """A running preview and one browser's connection to its news."""

    def __init__(self, root: Path) -> None:
        begun = time.perf_counter()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "sitegen", "preview", "--root", str(root), "--port", "0", "--as-of", f"{AS_OF:%Y-%m-%d %H:%M}"],
            cwd=CHECKOUT, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )  # fmt: skip
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        self.started = time.perf_counter() - begun
        self.port = int(line.rstrip("/\n").rpartition(":")[2])
        self.news: Queue[tuple[float, int]] = Queue()
        threading.Thread(target=self._listen, daemon=True).start()
        self.number = self.news.get(timeout=START_SECONDS)[1]

    def _listen(self) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", self.port)
        connection.request("GET", "/_desk/changes")
        for line in connection.getresponse():
            if line.startswith(b"data: "):
                self.news.put((time.perf_counter(), json.loads(line[6:])["number"]))

    def page(self, address: str) -> bytes:
        connection = http.client.HTTPConnection("127.0.0.1", self.port)
        connection.request("GET", address)
        data = connection.getresponse().read()
        connection.close()
        return data

    def cpu(self) -> float:
        """Seconds of CPU that the preview has taken."""
        fields = Path(f"/proc/{self.process.pid}/stat").read_text("ascii").rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def stop(self) -> None:
        self.process.terminate()
        self.process.wait()


def saved(preview: Preview, file: Path, address: str, saves: int) -> Iterator[tuple[float, float, float]]:
    """(seconds to the event, seconds to the page's bytes, seconds of CPU) of each save of a file."""
    text = file.read_text("utf-8")
    for number in range(saves):
        word = f"Number {number} "
        part = file.with_name(f".{file.name}.part")
        part.write_text(
            text.replace("headline: ", f"headline: {word}", 1).replace("parking: ", f"parking: {word}", 1),
            "utf-8",
        )
        before, begun = preview.cpu(), time.perf_counter()
        part.replace(file)
        while True:
            heard, _ = preview.news.get(timeout=START_SECONDS)
            page = preview.page(address)
            shown = time.perf_counter()
            if word.encode() in page:
                break
        yield heard - begun, shown - begun, preview.cpu() - before
        time.sleep(0.5)
    file.write_text(text, "utf-8")
    time.sleep(1)


def floor_of(root: Path, folder: Path) -> float:
    """Seconds of CPU that the floor loop takes for one more story, its preparations aside."""
    paths = sorted((root / "content" / "stories").rglob("*.md"))[:FLOOR_STORIES]
    times = []
    for many in (1, len(paths)):
        part = folder / f"of-{many}"
        for path in paths[:many]:
            copy = part / "content" / "stories" / path.parent.name / path.name
            copy.parent.mkdir(parents=True, exist_ok=True)
            copy.write_bytes(path.read_bytes())
        floor_loop(part, folder / "out")
        begun = time.process_time()
        floor_loop(part, folder / "out")
        times.append(time.process_time() - begun)
    return (times[1] - times[0]) / (len(paths) - 1)


def bench(count: int, saves: int, folder: Path) -> None:
    root = folder / f"station-{count}"
    if not (root / "content").is_dir():
        make_station(root, count)
    name = story_id(1, count)
    story = root / "content" / "stories" / f"{name}.md"
    floor = floor_of(root, folder / "floor")
    preview = Preview(root)
    print(f"\n{count} stories; first reading {preview.started:.1f} s; floor {floor * 1000:.2f} ms a story")
    print(f"{'':34} {'to the event':>20} {'to the page':>20} {'CPU':>9}  of floor")
    try:
        begun = time.perf_counter()
        preview.page(f"/stories/{name}/")
        print(f"{'first page':34} {'':20} {(time.perf_counter() - begun) * 1000:17.0f} ms")
        rows = (
            ("a story saved, its page", story, f"/stories/{name}/"),
            ("a story saved, the home page", story, "/"),
            (
                "a place of 40 stories saved",
                root / "content" / "places" / f"{SHARED_PLACE}.yaml",
                f"/places/{SHARED_PLACE}/",
            ),
        )
        for what, file, address in rows:
            preview.page(address)
            times = list(saved(preview, file, address, saves))
            heard, shown, cpu = (sorted(each) for each in zip(*times, strict=True))
            work = statistics.median(cpu)
            print(
                f"{what:34} {statistics.median(heard) * 1000:6.0f}, worst {heard[-1] * 1000:5.0f} ms"
                f" {statistics.median(shown) * 1000:6.0f}, worst {shown[-1] * 1000:5.0f} ms"
                f" {work * 1000:6.0f} ms {work / floor:8.1f}"
            )
    finally:
        preview.stop()


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("counts", nargs="*", type=int, default=[1000], metavar="COUNT")
    parser.add_argument("--saves", type=int, default=5, help="how often each file is saved (default: 5)")
    parser.add_argument("--folder", type=Path, default=None, help="where to make and keep the stations")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        for count in options.counts:
            bench(count, options.saves, options.folder or Path(temporary))


if __name__ == "__main__":
    main()
