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
from sitegen.intake.promises import promises_in
from sitegen.intake.records import Intake, IntakeError, Segment, Sentence, SpokenPromise
from sitegen.intake.rundown import RundownRow, read_rundown
from sitegen.intake.sentences import sentences as read_sentences
from sitegen.intake.speech import spoken_words
from sitegen.newsroom.records import Newsroom

EARLY, LATE = 12.0, 25.0
"""Seconds before and after its planned time in which a story's first sentence is sought: captions lag and shows drift."""


def take_in(
    captions: str,
    rundown: str,
    aired: date,
    air_time: time | None,
    newsroom: Newsroom,
    stories: int | None = None,
) -> Intake:
    """A broadcast's stories with their facts. `rundown` may be empty; `stories`: how many were aired, where somebody knows. The rundown goes before it.

    Raises IntakeError for captions or a rundown that cannot be used, and for more stories than there are sentences.
    """
    cues, notes = read_any_captions(captions)
    words = spoken_words(cues)
    if not words:
        raise IntakeError("The captions hold no words. Export them again.")
    spoken = read_sentences(words, known_names(newsroom))
    rows = read_rundown(rundown, air_time) if rundown.strip() else ()
    towns = {town.name for county in newsroom.station.counties for town in county.towns} | {
        county.name for county in newsroom.station.counties
    }
    country = _country(newsroom.station.language)
    if any(row.is_story and row.start is not None for row in rows):
        pieces, more = _by_rundown(spoken, rows, towns)
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
    planned = [row for row in rows if row.start is not None]
    scores = border_scores(spoken, towns)
    lag = _lag(spoken, planned, scores)
    starts: list[int] = []
    lost: list[str] = []
    rows_kept: list[RundownRow] = []
    for row in planned:
        at = (row.start or 0.0) + lag
        first = starts[-1] + 1 if starts else 0
        near = [
            number
            for number in range(first, len(spoken))
            if at - EARLY <= spoken[number].start / 1000 <= at + LATE - 10
        ]
        if not starts and spoken and (row.start or 0.0) < 1.0:
            near = [0]
        if not near:
            lost.append(row.slug)
            continue
        starts.append(
            max(near, key=lambda number: scores[number] - abs(spoken[number].start / 1000 - at) / 3.5)
        )
        rows_kept.append(row)
    pieces: list[_Piece] = []
    if starts and starts[0] > 0:
        pieces.append((spoken[: starts[0]], _NO_STORY))
    pieces += [
        (spoken[start:end], row)
        for start, end, row in zip(starts, [*starts[1:], len(spoken)], rows_kept, strict=True)
    ]
    notes: tuple[str, ...] = (f"Nothing is said at the time of: {', '.join(lost)}.",) if lost else ()
    if abs(lag) >= 2:
        notes += (
            f"The captions run {abs(lag):.0f} seconds {'behind' if lag > 0 else 'ahead of'} the rundown.",
        )
    return pieces, notes


def _lag(spoken: Sequence[Sentence], planned: Sequence[RundownRow], scores: Sequence[float]) -> float:
    """Seconds by which captions follow the rundown: the shift at which its times meet the likeliest borders."""

    def fit(shift: float) -> float:
        total = 0.0
        for row in planned:
            at = (row.start or 0.0) + shift
            total += max(
                (
                    scores[number] - abs(spoken[number].start / 1000 - at) / 2
                    for number in range(len(spoken))
                    if abs(spoken[number].start / 1000 - at) < 8
                ),
                default=-3.0,
            )
        return total - abs(shift) * 0.05 * len(planned)

    return max((shift / 2 for shift in range(-40, 61)), key=fit)
