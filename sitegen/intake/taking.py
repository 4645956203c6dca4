"""A broadcast taken in: captions cut into stories, by the rundown's times or by the speech itself, and every fact found in them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date, time

from sitegen.intake.amounts import amounts_in
from sitegen.intake.borders import border_scores, divide, divide_into
from sitegen.intake.captions import read_any_captions
from sitegen.intake.contacts import contacts_in
from sitegen.intake.deadlines import deadlines_in
from sitegen.intake.headlines import headline
from sitegen.intake.lexicon import known_names
from sitegen.intake.naming import organizations, towns_and_counties
from sitegen.intake.places import places_in
from sitegen.intake.planned import place_rows
from sitegen.intake.promises import promises_in
from sitegen.intake.records import Intake, IntakeError, Segment, Sentence, SpokenPromise
from sitegen.intake.rundown import Rundown, RundownRow, read_rundown
from sitegen.intake.sentences import sentences as read_sentences
from sitegen.intake.speech import spoken_words
from sitegen.newsroom.records import Newsroom


def take_in(
    captions: str,
    rundown: str | None,
    aired: date,
    air_time: time | None,
    newsroom: Newsroom,
    stories: int | None = None,
) -> Intake:
    """A broadcast's stories with their facts. `rundown`: its text, or None where there is none; `stories`: how many were aired, where somebody knows. The rundown goes before it.

    Raises IntakeError for captions or a rundown that cannot be used, and for more stories than there are sentences.
    """
    cues, notes = read_any_captions(captions, air_time, newsroom.station.language)
    words = spoken_words(cues)
    if not words:
        raise IntakeError("The captions hold no words. Export them again.")
    spoken = read_sentences(words, known_names(newsroom))
    plan = Rundown(()) if rundown is None else read_rundown(rundown, air_time)
    notes += plan.notes
    towns = {town.name for county in newsroom.station.counties for town in county.towns} | {
        county.name for county in newsroom.station.counties
    }
    country = _country(newsroom.station.language)
    if plan.rows:
        pieces, more = _by_rundown(spoken, plan.rows, towns)
        notes += more
        planned = sum(row is not None and row.is_story for _, row in pieces)
        if stories is not None and stories != planned:
            notes += (f"The rundown has {planned} stories, not {stories}: it was followed.",)
    elif stories is not None:
        pieces = _by_count(spoken, stories, towns)
    else:
        pieces = _pieces(spoken, *divide(spoken, towns))
    segments: list[Segment] = []
    around: list[SpokenPromise] = []
    for part, row in pieces:
        if row is not None and not row.is_story:
            around += promises_in(part, newsroom.station)
            continue
        segments.append(_segment(part, row, aired, country, newsroom, spoken))
    return Intake(tuple(segments), tuple(around), notes)


_Piece = tuple[Sequence[Sentence], RundownRow | None]
_NO_STORY = RundownRow("", is_story=False)


def _country(language: str) -> str:
    """The country of a language tag: `US` of `en-US`, and where it names none."""
    for part in language.split("-")[1:]:
        if len(part) == 2 and part.isalpha():
            return part.upper()
    return "US"


def _segment(
    part: Sequence[Sentence],
    row: RundownRow | None,
    aired: date,
    country: str,
    newsroom: Newsroom,
    programme: Sequence[Sentence],
) -> Segment:
    deadlines, dates = deadlines_in(part, aired, country)
    towns, counties = towns_and_counties(part, newsroom)
    return Segment(
        start=part[0].start,
        end=part[-1].end,
        headline=headline(part, row.headline if row else ""),
        slug=row.slug if row else "",
        sentences=tuple(part),
        deadlines=deadlines,
        dates=dates,
        places=places_in(part, newsroom, programme),
        numbers=amounts_in(part),
        promises=promises_in(part, newsroom.station),
        contacts=contacts_in(part),
        organizations=organizations(part, newsroom),
        towns=towns,
        counties=counties,
    )


def _pieces(spoken: Sequence[Sentence], starts: Sequence[int], end: int) -> list[_Piece]:
    """The stories that begin so and end before `end`, with what lies around them as no story."""
    pieces: list[_Piece] = [
        (spoken[start:after], None) for start, after in zip(starts, [*starts[1:], end], strict=True)
    ]
    if starts[0]:
        pieces.insert(0, (spoken[: starts[0]], _NO_STORY))
    if end < len(spoken):
        pieces.append((spoken[end:], _NO_STORY))
    return pieces


def _by_count(spoken: Sequence[Sentence], stories: int, towns: Collection[str]) -> list[_Piece]:
    if not 1 <= stories <= len(spoken):
        raise IntakeError(
            f"The captions hold {len(spoken)} sentences, which cannot be {stories} stories. Write how many stories were aired."
        )
    return _pieces(spoken, *divide_into(spoken, stories, towns))


def _by_rundown(
    spoken: Sequence[Sentence], rows: Sequence[RundownRow], towns: Collection[str]
) -> tuple[list[_Piece], tuple[str, ...]]:
    """Stretches that begin near the rundown's times, each where most speaks for a border."""
    placed = place_rows(spoken, rows, border_scores(spoken, towns))
    if not any(row.is_story for _, row in placed.rows):
        raise IntakeError(_no_row_fits(spoken, rows))
    starts = [start for start, _ in placed.rows]
    pieces: list[_Piece] = []
    if starts[0] > 0:
        pieces.append((spoken[: starts[0]], _NO_STORY))
    pieces += [
        (spoken[start:end], row)
        for (start, row), end in zip(placed.rows, [*starts[1:], len(spoken)], strict=True)
    ]
    notes: tuple[str, ...] = ()
    if placed.lost:
        notes += (f"Nothing is said at the time of: {', '.join(row.slug for row in placed.lost)}.",)
    if abs(placed.lag) >= 2:
        notes += (
            f"The captions run {abs(placed.lag):.0f} seconds {'behind' if placed.lag > 0 else 'ahead of'} the rundown.",
        )
    return pieces, notes


def _no_row_fits(spoken: Sequence[Sentence], rows: Sequence[RundownRow]) -> str:
    starts = [row.start for row in rows if row.is_story and row.start is not None]
    return (
        "No story of the rundown begins where something is said: by the rundown stories begin from "
        f"{_clock(min(starts))} to {_clock(max(starts))}, and the captions speak from {_clock(spoken[0].start / 1000)} to {_clock(spoken[-1].end / 1000)}. "
        "Look at --aired and at the rundown's times, or leave the rundown out."
    )


def _clock(seconds: float) -> str:
    whole = abs(round(seconds))
    return f"{'-' if seconds <= -0.5 else ''}{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"
