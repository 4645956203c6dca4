"""What intake found, for programs (JSON) and for people."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from sitegen.intake.drafts import clock
from sitegen.intake.records import Deadline, Intake, Segment, SpokenPromise
from sitegen.newsroom.records import When


def as_json(intake: Intake, aired: When, files: Mapping[str, Sequence[str]]) -> str:
    """One object: `aired`, `segments` in the show's order, `promises` of the whole programme, `notes`, and the `files`."""
    whole = {
        "aired": f"{aired.day}T{aired.clock:%H:%M}" if aired.clock else str(aired.day),
        "segments": [
            _segment(segment, story) for segment, story in zip(intake.segments, files["stories"], strict=True)
        ],
        "promises": [
            {**_promise(promise), "segment": number}
            for promise, number in sorted(
                [
                    *(
                        (promise, number)
                        for number, segment in enumerate(intake.segments)
                        for promise in segment.promises
                    ),
                    *((promise, None) for promise in intake.around),
                ],
                key=lambda each: each[0].said.time,
            )
        ],
        "notes": list(intake.notes),
        "files": {key: list(value) for key, value in files.items()},
    }
    return json.dumps(whole, ensure_ascii=False, indent=2) + "\n"


def _segment(segment: Segment, story: str) -> dict[str, Any]:
    return {
        "start": clock(segment.start),
        "start_seconds": round(max(0, segment.start) / 1000, 3),
        "end": clock(segment.end),
        "headline": segment.headline,
        "slug": segment.slug,
        "file": story,
        "deadlines": [_deadline(each) for each in segment.deadlines],
        "dates": [
            {
                "date": str(each.day),
                "until": str(each.last) if each.last else None,
                "time": f"{each.clock:%H:%M}" if each.clock else None,
                "unsure": each.unsure or None,
                "said": each.said.words,
                "at": clock(each.said.time),
            }
            for each in segment.dates
        ],
        "places": [
            {
                "name": each.name,
                "place": each.id or None,
                "town": each.town or None,
                "for": str(each.role),
                "said": each.said.words,
                "at": clock(each.said.time),
            }
            for each in segment.places
        ],
        "numbers": [
            {
                "number": each.number,
                "unit": each.unit,
                "role": each.role,
                "said": each.said.words,
                "at": clock(each.said.time),
            }
            for each in segment.numbers
        ],
        "promises": [_promise(each) for each in segment.promises],
        "contacts": [
            {"kind": each.kind, "value": each.value, "said": each.said.words, "at": clock(each.said.time)}
            for each in segment.contacts
        ],
        "organizations": [each.name for each in segment.organizations],
        "towns": [each.name for each in segment.towns],
        "counties": [each.name for each in segment.counties],
    }


def _deadline(deadline: Deadline) -> dict[str, Any]:
    return {
        "date": str(deadline.day) if deadline.day else None,
        "time": f"{deadline.clock:%H:%M}" if deadline.clock else None,
        "before": str(deadline.latest) if deadline.latest else None,
        "unsure": deadline.unsure or None,
        "said": deadline.said.words,
        "at": clock(deadline.said.time),
    }


def _promise(promise: SpokenPromise) -> dict[str, Any]:
    return {
        "time": clock(promise.said.time),
        "said": promise.said.words,
        "lists_places": promise.lists_places,
        "places": promise.places,
    }


def as_text(intake: Intake, stories: Sequence[str]) -> str:
    """A summary for the producer: each story with what was found and what was not."""
    lines = [
        f"{len(intake.segments)} stories, {sum(len(each.promises) for each in intake.segments) + len(intake.around)} promises."
    ]
    for segment, path in zip(intake.segments, stories, strict=True):
        lines += ["", f"{clock(segment.start)}  {segment.headline}", f"          {path}"]
        lines += [f"          {line}" for line in _facts(segment)]
    if intake.around:
        lines += ["", "Promised outside the stories:"]
        lines += [f"          {clock(each.said.time)} “{each.said.words}”" for each in intake.around]
    lines += ["", *(f"Note: {note}" for note in intake.notes)] if intake.notes else []
    return "\n".join(lines) + "\n"


def _facts(segment: Segment) -> list[str]:
    lines: list[str] = []
    for each in segment.deadlines:
        day = (
            f"{each.day}{f' {each.clock:%H:%M}' if each.clock else ''}"
            if each.day
            else f"before {each.latest}"
        )
        lines.append(f"until {day}" + (f" (look: {each.unsure})" if each.unsure else ""))
    if segment.places:
        lines.append(
            "at " + "; ".join(f"{each.name}{'' if each.id else ' (new)'}" for each in segment.places)
        )
    lines += [
        f"{each.role.replace('_', ' ')}: {each.number:,g} {each.unit}".rstrip() for each in segment.numbers
    ]
    lines += [f"{each.kind}: {each.value}" for each in segment.contacts]
    lines += [f"promised at {clock(each.said.time)}: “{each.said.words}”" for each in segment.promises]
    if segment.places and not segment.deadlines:
        lines.append("no deadline was said")
    return lines
