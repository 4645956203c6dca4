"""A broadcast cut into its stories by a rundown, whatever its captions and rundown count from."""

from __future__ import annotations

from datetime import time
from pathlib import Path

import pytest

from sitegen.intake.records import Intake, IntakeError
from sitegen.intake.taking import take_in
from tests.intake.said import AIRED, NEWSROOM

SAMPLES = Path(__file__).parents[1] / "samples" / "broadcast"
LEDGER = (SAMPLES / "ledger.srt").read_text("utf-8")
ROWS = (SAMPLES / "ledger.csv").read_text("utf-8")
STARTS = (16, 111, 209, 229, 329, 429, 540, 623, 707, 778)
"""Seconds at which the ten stories of the sample begin."""
SCRIPT = (
    (3.0, "Good evening and welcome. Tonight, warm socks, a lost trombone, and a tree made of lobster traps."),
    (13.0, "A shelter in Lowgate is running out of socks. It gives away sixty pairs a night, and the bin is empty. Volunteers want eight hundred pairs of wool by Friday. The shelter's manager says feet come first."),
    (37.0, "In Bankfoot, a trombone came home after forty years. Wendell Sprague left it on a bus. A hardware clerk found it behind the nail bins. Admission to the concert is free."),
    (57.0, "Sandy End has no pine trees, so the town built one of lobster traps. It took two hundred traps and a crane. If you have a truck, call 555-0163. The number is on our website too."),
    (79.0, "Ines Okafor's boat burned at the boathouse last week, and her neighbors want to buy her another. They have raised nine thousand dollars. You'll find the link on our site."),
    (99.0, "At the library, a choir of eighty-year-olds is learning to rap. Their teacher is nine. They meet every Tuesday at four."),
    (113.0, "That's the show for tonight. I'm Dana Ferriter. Good night."),
)  # fmt: skip
"""(seconds, what is said from then on)."""
SLUGS = ("OPEN", "SOCKS", "TROMBONE", "TRAPS", "FUND", "CHOIR", "CLOSE")


def srt(cues: list[tuple[float, float, str]]) -> str:
    def written(seconds: float) -> str:
        whole = int(seconds)
        return f"{whole // 3600:02d}:{whole // 60 % 60:02d}:{whole % 60:02d},{round(seconds % 1 * 1000):03d}"

    return "".join(
        f"{n}\n{written(a)} --> {written(b)}\n{text}\n\n" for n, (a, b, text) in enumerate(cues, 1)
    )


def script(shift: float = 0.0) -> str:
    """The script's captions, a sentence each, as long as its words take."""
    cues: list[tuple[float, float, str]] = []
    for start, text in SCRIPT:
        at = start + shift
        for sentence in text.replace("? ", ". ").split(". "):
            lasts = 0.4 * len(sentence.split())
            cues.append((at, at + lasts, sentence.rstrip(".") + "."))
            at += lasts
    return srt(cues)


def rundown(*more: tuple[float, str]) -> str:
    """A rundown that is true to the second."""
    rows = sorted([*((start, slug) for (start, _), slug in zip(SCRIPT, SLUGS, strict=True)), *more])
    return "slug,start\n" + "".join(f"{slug},{int(at) // 60}:{int(at) % 60:02d}\n" for at, slug in rows)


def taken(captions: str, plan: str | None, clock: time | None = time(18, 0)) -> Intake:
    return take_in(captions, plan, AIRED, clock, NEWSROOM)


def starts(intake: Intake) -> list[float]:
    return [round(each.start / 1000) for each in intake.segments]


def test_a_rundown_true_to_the_second_is_followed_to_the_sentence() -> None:
    intake = taken(script(), rundown(), time(18, 30))
    assert [(each.slug, round(each.start / 1000)) for each in intake.segments] == [
        (slug, at) for (at, _), slug in list(zip(SCRIPT, SLUGS, strict=True))[1:-1]
    ]
    assert intake.segments[-1].sentences[-1].text == "They meet every Tuesday at four."


def test_a_row_in_between_takes_nothing_from_the_next() -> None:
    intake = taken(script(), rundown((73.0, "TEASE 2")), time(18, 30))
    assert starts(intake) == [13, 37, 57, 79, 99]


@pytest.mark.parametrize("halved", [False, True])
def test_clock_times_without_seconds_cut_the_stories(halved: bool) -> None:
    lines = [ROWS.splitlines()[0]]
    for line in ROWS.splitlines()[1:]:
        page, slug, clock, anchor = line.split(",")
        hour, minute, _ = clock.split(":")
        lines.append(
            f"{page},{slug},{f'{int(hour) - 12}:{minute} PM' if halved else f'{hour}:{minute}'},{anchor}"
        )
    assert starts(taken(LEDGER, "\n".join(lines))) == pytest.approx(STARTS, abs=2)


def test_a_rundown_of_another_hour_is_explained() -> None:
    with pytest.raises(IntakeError, match=r"0:02:00 to 0:03:00.* 0:00:0[0-9] to"):
        taken(
            srt([(1.0, 3.0, "Good evening."), (4.0, 6.0, "Coats are wanted.")]),
            "slug,start\nCOATS,2:00\nDOGS,3:00\n",
        )


def test_a_rundown_without_a_word_in_it_is_not_passed_over() -> None:
    with pytest.raises(IntakeError, match="empty"):
        taken(LEDGER, " \n")
