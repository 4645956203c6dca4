"""Invented stretches of speech that send viewers somewhere, or nowhere, with the places marked as in the programmes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

_TAG = re.compile(r"<(/?)p(?: ([^>]*))?>")
_END = re.compile(r"(?<=[.?!])(?<!\bMr\.)(?<!\bMrs\.)(?<!\bDr\.) +(?=[A-Z])")


@dataclass(frozen=True, slots=True)
class Stretch:
    sentences: tuple[str, ...]
    places: tuple[str, ...]


def stretches() -> Iterator[Stretch]:
    """Those of `said.txt`, in their order."""
    for part in re.split(r"\n\s*\n", Path(__file__).with_name("said.txt").read_text("utf-8")):
        text = " ".join(line for line in part.splitlines() if line and not line.startswith("#"))
        if text:
            places = tuple(match[2] for match in _TAG.finditer(text) if match[2])
            yield Stretch(tuple(_END.split(_TAG.sub("", text))), places)
