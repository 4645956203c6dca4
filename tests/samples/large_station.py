"""Makes a larger station out of the demonstration: its places, episodes and pages as they are, its stories many times over.

Every copy of a story has a headline and a summary of its own and the words of its text in another order, so pages of copies
are alike in their kinds and parts as a station's stories are, and differ in what they say.
"""

from __future__ import annotations

import random
import re
import shutil
from pathlib import Path

ROOT = Path(__file__).parents[2]

# Each may stand in one story alone, or names another story.
_ONCE = re.compile(
    r"^(?:say_on_air|heard_as|follows|old_addresses|withdrawn|key):.*\n(?:[ \t].*\n)*", re.MULTILINE
)
_PLAIN_WORD = re.compile(r"\b[a-z]{4,}\b")
_HEADLINE = re.compile(r"^(headline|summary): (.*)$", re.MULTILINE)


def write_large_station(root: Path, stories: int) -> Path:
    """A content folder below `root` with about this many stories."""
    shutil.copytree(ROOT / "content", root / "content")
    written = sorted((root / "content" / "stories").rglob("*.md"))
    copies = max(0, round(stories / len(written)) - 1)
    for path in written:
        text = path.read_text("utf-8")
        for number in range(1, copies + 1):
            copy = _copy(text, f"{path.stem} {number}", path.parent.name)
            path.with_name(f"{path.stem}-again-{number}.md").write_text(copy, "utf-8")
    return root


def _copy(text: str, seed: str, year: str) -> str:
    chance = random.Random(seed)
    _, front, body = text.split("---\n", 2)
    if "\naired:" not in front:  # its episode's rundown has the story alone
        front += f"aired: {year}-{chance.randint(1, 11):02d}-{chance.randint(1, 28):02d}\n"
    front = _HEADLINE.sub(lambda found: f"{found[1]}: {_reworded(found[2], chance)}", _ONCE.sub("", front))
    return f"---\n{front}---\n{_reworded(body, chance)}"


def _reworded(text: str, chance: random.Random) -> str:
    """The text with its plain words in another order; names, numbers, markup and addresses stay."""
    lines = []
    for line in text.split("\n"):
        if "](" in line or "<" in line or ":" in line:
            lines.append(line)
            continue
        words = _PLAIN_WORD.findall(line)
        chance.shuffle(words)
        # The words are taken from the end, one for each match.
        lines.append(_PLAIN_WORD.sub(lambda _, left=words: left.pop(), line))  # type: ignore[misc]
    return "\n".join(lines)


def pages_of(root: Path) -> tuple[dict[str, bytes], dict[str, bytes], str]:
    """The station's pages by address, the files of its theme by path, and its public address; nothing is proofed or written."""
    from datetime import UTC, datetime

    from sitegen.edition.compose import compose_edition
    from sitegen.site.content import read_content
    from sitegen.site.moments import moment_for
    from sitegen.typeset.pages import Typesetter
    from sitegen.typeset.theme import load_theme

    newsroom = read_content(root).newsroom
    assert newsroom is not None
    station = newsroom.station
    as_of = moment_for(station, "", datetime(2026, 12, 2, tzinfo=UTC))
    typesetter = Typesetter(load_theme(root, station.theme), station.language)
    edition = compose_edition(newsroom, as_of).edition
    pages = {page.address: typesetter.page(page) for page in edition.pages}
    return pages, dict(typesetter.theme_files), station.address
