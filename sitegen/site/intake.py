"""Captions and a rundown read from files, and the drafts made of them written: all, or none."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sitegen.intake.drafts import Drafted, drafts
from sitegen.intake.records import Intake, IntakeError
from sitegen.intake.taking import take_in
from sitegen.newsroom.records import Newsroom, When
from sitegen.newsroom.times import TimeError, read_when
from sitegen.site.drafts import write_drafts
from sitegen.site.errors import MachineError, RefusedError

MOST_BYTES = 20_000_000
"""Captions of a day are far smaller; a larger file is something else."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What came of an episode's captions."""

    intake: Intake
    aired: When
    episode: Drafted
    stories: tuple[Drafted, ...]


def take_in_files(
    root: Path,
    newsroom: Newsroom,
    captions: Path,
    rundown: Path | None,
    aired: str,
    stories: int | None = None,
) -> Taken:
    """Reads captions and rundown, and drafts their episode. `aired` as written, or empty: then from the file's name or the episode that has
    these captions. `stories`: how many were aired, or None. Raises RefusedError for what cannot be used, MachineError when the disk refuses."""
    said, rows = _read(captions, "caption file"), _read(rundown, "rundown") if rundown else None
    when = _aired(aired, captions, newsroom)
    # Drafts of this very broadcast must not teach intake what they were made by.
    others = replace(
        newsroom, stories=tuple(story for story in newsroom.stories if story.aired.day != when.day)
    )
    try:
        intake = take_in(
            said,
            rows,
            when.day,
            when.clock,
            others,
            stories,
        )
    except IntakeError as error:
        raise RefusedError(str(error)) from error
    episode, drafted = drafts(intake, when, others, lambda path: _standing(root / path))
    return Taken(intake, when, episode, drafted)


def _aired(written: str, captions: Path, newsroom: Newsroom) -> When:
    if written:
        try:
            return read_when(written)
        except TimeError as error:
            raise RefusedError(f"--aired: {error}") from error
    for episode in newsroom.episodes:
        video = episode.video
        if (
            video is not None
            and video.captions is not None
            and Path(video.captions.file).name == captions.name
        ):
            return episode.aired
    match = re.search(r"(20\d\d)[-_.]?([01]\d)[-_.]?([0-3]\d)", captions.name)
    if match is not None:
        try:
            day = read_when("-".join(match.groups()))
        except TimeError:
            day = None
        if day is not None:
            known = [episode.aired for episode in newsroom.episodes if episode.aired.day == day.day]
            return known[0] if known else day
    raise RefusedError(
        f"Nothing says when '{captions.name}' aired. Write, for example: --aired '2026-11-21 18:30'"
    )


def _read(path: Path, what: str) -> str:
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise RefusedError(f"There is no file '{path}'.") from None
    except IsADirectoryError:
        raise RefusedError(f"'{path}' is a folder. Name the {what} itself.") from None
    except OSError as error:
        raise MachineError(f"'{path}' cannot be read: {error.strerror or error}.") from error
    if len(data) > MOST_BYTES:
        raise RefusedError(f"'{path}' is too large for a {what}: {len(data):,} bytes.")
    other = next((kind for sign, kind in _NO_TEXT.items() if data.startswith(sign)), "")
    if other or data[4:8] == b"ftyp":
        wanted = "WebVTT, SRT or TTML" if what != "rundown" else "CSV"
        raise RefusedError(f"'{path}' is {other or 'a video'}, and no {what}. Export it as {wanted}.")
    encoding = _sixteen_bits(data)
    if encoding:
        try:
            return data.decode(encoding).removeprefix("\ufeff")
        except UnicodeDecodeError:
            pass
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        # Older caption tools write the letters of Windows; each of these bytes is a letter there.
        try:
            return data.decode("cp1252")
        except UnicodeDecodeError as error:
            line = data.count(b"\n", 0, error.start) + 1
            raise RefusedError(
                f"'{path}' is no text: on line {line}, byte {error.start + 1:,} of the file cannot be read. Export the {what} as UTF-8."
            ) from None


_NO_TEXT = {
    b"\x89PNG": "a picture", b"\xff\xd8\xff": "a picture", b"GIF8": "a picture", b"%PDF": "a PDF",
    b"PK\x03\x04": "a spreadsheet, a document or a ZIP archive", b"\xd0\xcf\x11\xe0": "a spreadsheet or a document", b"RIFF": "a sound or a video",
    b"\x1aE\xdf\xa3": "a video", b"{\\rtf": "a document",
}  # fmt: skip
"""How files begin that are named by mistake, and what they are."""


def _sixteen_bits(data: bytes) -> str:
    """The encoding of UTF-16, which some tools write without the mark that says so: most of its bytes of one side are 0."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    half = len(data) // 2
    for encoding, zeros in (("utf-16-le", data[1::2]), ("utf-16-be", data[::2])):
        if half and zeros.count(0) > 0.6 * half:
            return encoding
    return ""


def _standing(path: Path) -> str | None:
    try:
        return path.read_bytes().decode("utf-8", "replace")
    except OSError:
        return None


def write_taken(root: Path, taken: Taken) -> Sequence[str]:
    """Writes the episode and its stories; returns the paths written, without those that stand there already as they would be.

    Writes nothing, and raises RefusedError when one is there with another text, MachineError when the disk refuses.
    """
    files = [taken.episode, *taken.stories]
    texts = {each.path: _standing(root / each.path) for each in files}
    edited = [each.path for each in files if texts[each.path] not in (None, each.text)]
    if edited:
        raise RefusedError(
            f"'{edited[0]}' is there already, and no draft of these captions as they are. Nothing was written. "
            "Look with --dry-run, and copy what you need; or move that file away."
        )
    new = [each for each in files if texts[each.path] is None]
    # The episode last: with it, the stories are a broadcast.
    in_order = sorted(new, key=lambda each: each is taken.episode)
    write_drafts(root, {each.path: each.text for each in in_order})
    return [each.path for each in new]
