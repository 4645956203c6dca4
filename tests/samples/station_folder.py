"""Writes small stations for tests: valid content folders with as little in them as a test needs."""

from __future__ import annotations

from pathlib import Path

STATION = """station: Heron Flats Television
programme: Bright Side
address: https://www.example.com/bright/
time_zone: America/New_York
language: en-US
contact: {email: desk@example.com, phone: 237-555-0100}
counties:
  - {name: Heron Flats, towns: [{name: Lowgate, position: [34.5, -60.5], postal_codes: [HF-1]}]}
  - {name: Gull Bank, towns: [Sandy End]}
"""

PLACE = """name: Lowgate Hall
street: 4 Pier Lane
town: Lowgate
county: Heron Flats
hours: "Mo-Fr 09:00-17:00"
"""


def write_folder(root: Path, files: dict[str, str] | None = None, station: str = STATION) -> Path:
    """A content folder below `root`: the station, one place, and the given files by path under content/."""
    wanted = {"station.yaml": station, "places/lowgate-hall.yaml": PLACE, **(files or {})}
    for path, text in wanted.items():
        target = root / "content" / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")
    return root


def story(
    front: str = "", body: str = "Body.", aired: str = "2026-11-21", county: str = "Heron Flats"
) -> str:
    """A story's text: the required keys, more front matter, a body."""
    return f"---\nheadline: A headline\naired: {aired}\ncounty: {county}\n{front.strip()}\n---\n{body}\n"


def asking(kind: str = "bring", title: str = "Bring a coat", more: str = "deadline: 2026-12-15") -> str:
    """Front matter with one ask at the shared place."""
    lines = "\n".join(f"    {line}" for line in more.strip().splitlines())
    return f"asks:\n  - title: {title}\n    kind: {kind}\n{lines}\n    where: [lowgate-hall]\n"
