"""Prints how well intake reads the invented programmes: `python -m tests.bench.measure_intake [NAME …] [--why] [--stories]`.

With `--stories` each is divided by its speech alone (neither rundown nor `>>>`) into as many stories as it has."""

from __future__ import annotations

import sys

from sitegen.intake.records import Intake
from tests.samples.intake_measures import (
    KINDS,
    Measure,
    demonstration_newsroom,
    measure,
    same_place,
    spoken_alone,
    taken,
)
from tests.samples.programmes import Programme, programmes


def main(arguments: list[str]) -> None:
    names = [word for word in arguments if not word.startswith("--")]
    newsroom = demonstration_newsroom()
    totals: dict[str, dict[str, Measure]] = {}
    print(f"{'programme':18} {'set':11}" + "".join(f"{kind:>20}" for kind in KINDS))
    for programme in programmes():
        if "--stories" in arguments:
            programme = spoken_alone(programme)
        if names and programme.name not in names and programme.group not in names:
            continue
        intake = taken(programme, newsroom, counted="--stories" in arguments)
        found = measure(programme, intake)
        total = totals.setdefault(programme.group, {kind: Measure(0, 0, 0, 0) for kind in KINDS})
        for kind in KINDS:
            total[kind] += found[kind]
        print(_line(programme.name, programme.group, found))
        if "--why" in arguments:
            _explain(programme, intake)
    for group, total in totals.items():
        print(_line("all", group, total))


def _line(name: str, group: str, found: dict[str, Measure]) -> str:
    cells = "".join(
        f"{f'{each.right}/{each.wanted} {each.true}/{each.found}':>12} {each.recall:.2f}/{each.precision:.2f}"[
            :24
        ].rjust(22)
        for each in (found[kind] for kind in KINDS)
    )
    return f"{name:18} {group:11}{cells}"


def _explain(programme: Programme, intake: Intake) -> None:
    marked = programme.marked
    deadlines = {each.day for segment in intake.segments for each in segment.deadlines}
    print(
        "   lacking days",
        [(marked.stories[at], str(day)) for at, day in marked.deadlines if day not in deadlines],
    )
    known = {day for _, day in marked.deadlines}
    print(
        "   wrong days",
        [
            (str(each.day), each.said.words)
            for segment in intake.segments
            for each in segment.deadlines
            if each.day not in known
        ],
    )
    names = [each.name for segment in intake.segments for each in segment.places]
    print(
        "   lacking places",
        [
            (marked.stories[at], name)
            for at, name in marked.places
            if not any(same_place(name, each) for each in names)
        ],
    )
    print(
        "   wrong places",
        [
            (each.name, each.said.words)
            for segment in intake.segments
            for each in segment.places
            if not any(same_place(each.name, name) for _, name in marked.places)
        ],
    )
    said = [each for segment in intake.segments for each in segment.promises] + list(intake.around)
    print(
        "   lacking promises",
        [
            start
            for start, end in marked.promises
            if not any(start - 2 <= each.said.time / 1000 < end + 0.2 for each in said)
        ],
    )
    print(
        "   wrong promises",
        [
            each.said.words
            for each in said
            if not any(start - 2 <= each.said.time / 1000 < end + 0.2 for start, end in marked.promises)
        ],
    )
    starts = [segment.start / 1000 for segment in intake.segments]
    print(
        "   lacking borders",
        [
            slug
            for slug, border in zip(marked.stories, marked.borders, strict=True)
            if not any(abs(border - each) <= 8 for each in starts)
        ],
    )
    print(
        "   wrong borders",
        [
            segment.sentences[0].text
            for segment in intake.segments
            if not any(abs(border - segment.start / 1000) <= 8 for border in marked.borders)
        ],
    )


if __name__ == "__main__":
    main(sys.argv[1:])
