"""Invented stretches of speech that send viewers somewhere, or nowhere, with places, deadlines and promises marked as in the programmes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

_TAG = re.compile(r"<(/?)([dps])(?: ([^>]*))?>")
_END = re.compile(r"(?<=[.?!])(?<!\bMr\.)(?<!\bMrs\.)(?<!\bDr\.) +(?=[A-Z])")


@dataclass(frozen=True, slots=True)
class Stretch:
    sentences: tuple[str, ...]
    places: tuple[str, ...]
    days: tuple[date, ...]
    promises: frozenset[int]
    """Numbers of sentences."""


def stretches(file: str) -> Iterator[Stretch]:
    """Those of `said.txt` (places), `due.txt` (deadlines, as said on the day of `tests/intake/said.py`) or `there.txt` (promises), in their order."""
    for part in re.split(r"\n\s*\n", Path(__file__).with_name(f"{file}.txt").read_text("utf-8")):
        text = " ".join(line for line in part.splitlines() if line and not line.startswith("#"))
        if text:
            marks = [(match[2], match[3]) for match in _TAG.finditer(text) if match[3]]
            bare = _TAG.sub("", text)
            ends = [match.end() for match in _END.finditer(bare)]
            opened = [
                len(_TAG.sub("", text[: match.start()])) for match in _TAG.finditer(text) if match[0] == "<s>"
            ]
            closed = [
                len(_TAG.sub("", text[: match.start()]))
                for match in _TAG.finditer(text)
                if match[0] == "</s>"
            ]
            yield Stretch(
                tuple(_END.split(bare)),
                tuple(what for kind, what in marks if kind == "p"),
                tuple(date.fromisoformat(what) for kind, what in marks if kind == "d"),
                frozenset(
                    number
                    for number, start in enumerate([0, *ends])
                    if any(first <= start < last for first, last in zip(opened, closed, strict=True))
                ),
            )
