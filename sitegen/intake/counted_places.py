"""How many places a promise's words promise. A module of its own, for the checks of copy ask for nothing else of this room."""

from __future__ import annotations

import re

from sitegen.intake.plain import plain

_LIST_OF_PLACES = re.compile(
    r"\b(?:list|lists|map|rundown|roundup) of (?:\w+[ -]){0,3}?(?:places?|locations?|drop-?offs?|sites|spots|bins|boxes|barrels|stops|points)\b|\b(?:list|map|addresses|hours|locations) (?:of|for|to) (?:all|every|both|each)\b"
    r"|\b(?:drop-?off|collection|donation) (?:places|points|sites|spots|locations|boxes|bins|barrels)\b|\bwhere to (?:take|bring|drop|leave|donate|hand|turn|go)\b|\b(?:addresses|locations|places)\b(?! (?:at|in) the table)"
    r"|\b(?:all|every one of|those|these|both|each)(?: of)?(?: the| these| those)? ?(?:\d+ )?(?:\w+ )?(?:places|locations|addresses|drop-?offs|sites|spots|bins|barrels|boxes|branches|landings)\b"
)


def places_promised(said: str) -> int | None:
    """How many places a promise's words promise: 0 for a list of no said length, None when it promises no places."""
    text = plain(said)
    count = places_counted(text)
    if _LIST_OF_PLACES.search(text) is None:
        return None
    return count or 0


def places_counted(text: str) -> int | None:
    """How many places a sentence in plain form (`plain.py`) counts; None where it counts none."""
    match = re.search(
        r"\b(?:all|the|those|these|of the|of our) (\d{1,3}) (?:\w+ ){0,2}?(?:places|locations?|addresses|drop-?offs?|sites|spots|bins|barrels|boxes|branches|landings|towns|stops|stores|churches|schools|libraries|stations)\b"
        r"|\ball (three|four|five|\d{1,2})\b(?= (?:of them|are|on|up|at)|[.,])",
        text,
    )
    if match is not None:
        word = match[1] or match[2]
        return int(word) if word.isdigit() else {"three": 3, "four": 4, "five": 5}.get(word)
    if re.search(r"\bboth\b", text):
        return 2
    return None
