"""Rundowns under all kinds of headings."""

from __future__ import annotations

from datetime import time

import pytest

from sitegen.intake.records import IntakeError
from sitegen.intake.rundown import read_rundown


@pytest.mark.parametrize(
    ("text", "starts"),
    [
        ("Page,Slug,Start\nA1,COATS,0:35\nA2,DOGS,3:05\n", [35, 185]),
        ("PG;STORY SLUG;CLOCK TIME\nA1;COATS;18:30:35\nA2;DOGS;18:33:05\n", [35, 185]),
        ("slug\tAir Time\nCOATS\t6:30:35 PM\nDOGS\t6:33:05 PM\n", [35, 185]),
        ("Item,Title,Est Dur\n1,COATS,0:35\n2,DOGS,2:30\n", [0, 35]),
        ("Slug,TRT,Headline\nCOATS,35,Coats for all\nDOGS,150,Dogs\n", [0, 35]),
        (
            "\ufeffSmall Wonders rundown,,\n\nslug,start,length\nCOATS,00:00:35,2:30\nDOGS,00:03:05,1:00\n",
            [35, 185],
        ),
        ("slug,hit time\nCOATS,6:30:35\nDOGS,6:33:05\n", [35, 185]),
        ("slug,clock\nCOATS,18:31:00\n", [60]),
    ],
)
def test_starts_are_seconds_from_the_beginning(text: str, starts: list[float]) -> None:
    assert [row.start for row in read_rundown(text, time(18, 30))] == starts


def test_rows_that_are_no_stories_are_known() -> None:
    rows = read_rundown(
        "slug,length\nOPEN,0:30\nCOATS,1:00\nBREAK 1,2:00\nTEASE,0:10\nGOODNIGHT,0:20\nOPENING-NIGHT,1:00\n",
        None,
    )
    assert [row.is_story for row in rows] == [False, True, False, False, False, False]
    assert [row.start for row in rows] == [0, 30, 90, 210, 220, 240]


@pytest.mark.parametrize(
    ("text", "says"),
    [("", "empty"), ("slug,writer\nCOATS,TR\n", "no times"), ("start,writer\n0:35,TR\n", "no slug")],
)
def test_what_cannot_be_used_is_told(text: str, says: str) -> None:
    with pytest.raises(IntakeError, match=says):
        read_rundown(text, None)
