"""A station of a year, made by chance: stories of every state with asks of every kind, for laws about what leaves the site.

Each story has a word of its own, which stands in its headline, body and asks, and shall be nowhere when the story is not
to be seen.
"""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from random import Random

from tests.samples.station_folder import write_folder

BEGINS = date(2026, 1, 5)
"""A Monday; stories air on the days after."""
DAYS = 350
STATES = ("shown", "shown", "shown", "shown", "shown", "held", "embargoed", "withdrawn")
GIVING = ("bring", "give", "volunteer", "go", "tune in")


def write_random_station(root: Path, chance: Random, stories: int) -> Path:
    """A content folder with so many stories, sound in every file."""
    files = {"places/porch.yaml": PORCH, "places/depot.yaml": DEPOT}
    for number in range(stories):
        files[f"stories/2026/tale-{number}.md"] = _story(number, chance)
    return write_folder(root, files)


PORCH = """name: The Oakes' porch
street: 9 Canaryporch Lane
town: Sandy End
county: Gull Bank
position: [34.98765, -60.12345]
hours: "Tu,Sa 10:00-12:00"
address: withheld
desk: {key: Canarydesk}
"""
DEPOT = """name: The Depot
street: 1 Rail Street
town: Sandy End
county: Gull Bank
hours: unknown
"""


def canary(number: int) -> str:
    return f"Zephyrword{number}x"


def _story(number: int, chance: Random) -> str:
    word = canary(number)
    aired = BEGINS + timedelta(days=chance.randrange(DAYS))
    lines = [
        "---",
        f"headline: The tale of {word}",
        f"summary: What {word} did.",
        f"aired: {aired}",
        f"county: {chance.choice(('Heron Flats', 'Gull Bank', '[Heron Flats, Gull Bank]', 'beyond'))}",
        f"say_on_air: {word.lower()}",
        f"desk: {{secret: Canarydesk {word}}}",
    ]
    state = chance.choice(STATES)
    if state == "held":
        lines.append("hold: true")
    elif state == "embargoed":
        lines.append(f"embargo: {aired + timedelta(days=chance.randrange(1, 60))} 18:30")
    elif state == "withdrawn":
        lines.append(f"withdrawn: {{date: {aired + timedelta(days=chance.randrange(1, 60))}, notice: Gone.}}")
    if chance.random() < 0.3:
        day = aired + timedelta(days=chance.randrange(1, 90))
        lines.append(f"corrections: [{{date: {day}, text: The name {word} was misspelt.}}]")
    if chance.random() < 0.2:
        lines.append("sponsored_by: Quay Bakery")
    if chance.random() < 0.8:
        lines.append("asks:")
        for index in range(chance.randrange(1, 4)):
            lines += _ask(index, word, aired, chance)
    return "\n".join([*lines, "---", f"The body speaks of {word}."]) + "\n"


def _ask(index: int, word: str, aired: date, chance: Random) -> list[str]:
    kind = chance.choice((*GIVING, "get help"))
    end = aired + timedelta(days=chance.randrange(5, 80))
    lines = [f"  - title: Do {word} {index}", f"    kind: {kind}"]
    if kind == "go":
        lines += [
            f"    dates: {end - timedelta(days=chance.randrange(1, 5))}..{end}",
            '    hours: "Mo-Su 17:30-22:00"',
        ]
    elif kind == "tune in":
        lines += [f"    dates: {end} 19:00", "    minutes: 60"]
    elif chance.random() < 0.2:
        lines += ["    deadline: ongoing", f"    check_again_by: {end}"]
    else:
        lines.append(f"    deadline: {end}")
        if chance.random() < 0.3:
            lines.append(f"    starts: {aired + timedelta(days=chance.randrange(1, 4))}")
    if chance.random() < 0.2:
        lines.append(f"    stopped: {{when: {end - timedelta(days=1)} 15:00, say: Full.}}")
    lines.append(f"    contact: {{name: Friends of {word}, phone: 237-555-0142, email: a@example.org}}")
    lines.append(f"    confirmed: {{date: {aired}, with: Canarydesk}}")
    if kind not in ("give", "tune in") and chance.random() < 0.7:
        places = chance.sample(("lowgate-hall", "porch", "depot"), chance.randrange(1, 4))
        lines.append("    drop_off:" if kind == "bring" else "    where:")
        for place in places:
            until = f", until: {end - timedelta(days=2)}" if chance.random() < 0.3 else ""
            lines.append(f"      - {{place: {place}{until}}}")
    return lines
