"""Names for files whose own cannot be used: of plain letters, and never that of another file.

Pure: what lies in a folder is told by its names.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Collection
from pathlib import PurePath

from sitegen.newsroom.slugs import slug


def is_passed_over(name: str) -> bool:
    """Hidden files, what systems note of a folder, and the copies that editors leave are nobody's business."""
    return (
        name.startswith((".", "~$"))
        or name.endswith(("~", ".swp", ".bak", ".orig"))
        or name[:1] == name[-1:] == "#"
        or name.lower() in ("thumbs.db", "desktop.ini")
    )


def free_name(name: str, suffix: str, beside: Collection[str]) -> str:
    """What a file may be called instead: the slug of its name with `suffix`, numbered where another of that name is `beside`.

    Where several are beside that want the same name, each is told one of its own. Empty where no letter of the name is left.
    """
    good = slug(_stem(name, suffix))
    if not good:
        return ""
    wanted = f"{good}{suffix}"
    rivals = {
        each
        for each in beside
        if not is_passed_over(each) and slug(_stem(each, suffix)) == good and each != wanted
    }
    others = {*beside} - rivals
    rivals.add(name)
    taken = {each.casefold() for each in others} | {f"{slug(_stem(each, suffix))}{suffix}" for each in others}
    free: list[str] = []
    number = 1
    while len(free) < len(rivals):
        candidate = wanted if number == 1 else f"{good}-{number}{suffix}"
        number += 1
        if candidate not in taken:
            free.append(candidate)
    return free[sorted(rivals).index(name)]


def _stem(name: str, suffix: str) -> str:
    """A name without its suffix, nor the one before it that was wanted: `coats.md.txt` is meant for `coats.md`."""
    return PurePath(name).stem.removesuffix(suffix)


def looks_the_same(name: str, beside: Collection[str]) -> str:
    """The name beside that is made of other signs and looks like this one (an accent may be a sign of its own); else empty."""
    composed = unicodedata.normalize("NFC", name)
    twins = (each for each in sorted(beside) if unicodedata.normalize("NFC", each) == composed)
    return next((each for each in twins if each != name), "")
