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
        ("slug,clock\nCOATS,12/12/2026 18:30:35\nDOGS,2026-12-12T18:33:05\n", [35, 185]),
        ("slug,start\nCOATS,+0:35\nDOGS,+3:05\n", [35, 185]),
    ],
)
def test_starts_are_seconds_from_the_beginning(text: str, starts: list[float]) -> None:
    assert [row.start for row in read_rundown(text, time(18, 30)).rows] == starts


@pytest.mark.parametrize(
    ("text", "aired", "starts"),
    [
        ("slug,clock\nOPEN,17:59\nCOATS,18:00\nDOGS,18:02\n", time(18, 0), [-60, 0, 120]),
        ("slug,time\nCOATS,18:30\nDOGS,18:33\n", None, [0, 180]),
        ("slug,time\nCOATS,6:30 PM\nDOGS,6:33 PM\n", time(18, 30), [0, 180]),
        ("slug,start\nCOATS,18:30\nDOGS,18:33\n", time(18, 30), [0, 180]),
        ("slug,clock\nCOATS,1830\nDOGS,1833\n", time(18, 30), [0, 180]),
        ("slug,clock\nCOATS,23:59\nDOGS,0:04\n", time(23, 58), [60, 360]),
    ],
)
def test_times_without_seconds_are_hours_near_the_air_time(
    text: str, aired: time | None, starts: list[float]
) -> None:
    rundown = read_rundown(text, aired)
    assert [row.start for row in rundown.rows] == starts
    assert all(row.slack > 50 for row in rundown.rows)
    assert any("no seconds" in note for note in rundown.notes)


def test_starts_of_a_programme_at_any_hour_are_minutes_and_seconds() -> None:
    rundown = read_rundown("slug,start\nCOATS,0:35\nDOGS,18:30\n", time(18, 30))
    assert [(row.start, row.slack) for row in rundown.rows] == [(35, 0), (1110, 0)]


@pytest.mark.parametrize(
    "written", ["0:34", ":34", "34", "34s", "34 sec", '34"', "0'34", "0'34\"", "00:00:34", "0m34s"]
)
def test_a_length_may_be_written_in_many_ways(written: str) -> None:
    quoted = written.replace('"', '""')
    rows = read_rundown(f'slug,length\nCOATS,"{quoted}"\nDOGS,1:00\n', None).rows
    assert [(row.start, row.length) for row in rows] == [(0, 34), (34, 60)]


def story_slugs(*slugs: str) -> list[str]:
    lines = "".join(f"{slug},1:00\n" for slug in slugs)
    return [row.slug for row in read_rundown(f"slug,length\n{lines}", None).rows if row.is_story]


@pytest.mark.parametrize(
    "slug",
    ["FOOD BANK OPENING", "WELCOME HOME", "CHOIR TITLES", "SPORTS BRAS", "SPOT THE DOG", "END OF POLIO", "LIBRARY CHAT", "OPENING-NIGHT", "TOTAL ECLIPSE", "OVER THE RAINBOW"],
)  # fmt: skip
def test_a_story_may_have_words_of_the_trade_in_its_slug(slug: str) -> None:
    assert story_slugs("COATS", slug) == ["COATS", slug]


@pytest.mark.parametrize(
    "slug",
    ["OPEN", "COLD_OPEN", "BREAK 1", "COMMERCIAL BREAK", "TEASE 2", "TEASE COATS", "TOSS TO WEATHER", "GOODNIGHT", "SIGN-OFF", "CLOSE", "END OF SHOW", "TITLES"],
)  # fmt: skip
def test_rows_that_are_nothing_else_are_no_stories_and_named(slug: str) -> None:
    rundown = read_rundown(f"slug,length\nCOATS,1:00\n{slug},0:20\nDOGS,1:00\n", None)
    assert [row.is_story for row in rundown.rows] == [True, False, True]
    assert [row.start for row in rundown.rows] == [0, 60, 80]
    assert any(slug in note for note in rundown.notes)


@pytest.mark.parametrize("slug", ["TOTAL", "Total running time", "OVER/UNDER", "TRT"])
def test_sums_are_no_rows(slug: str) -> None:
    rows = read_rundown(f"slug,length\nCOATS,1:00\n{slug},-1:00\nDOGS,1:00\n", None).rows
    assert [(row.slug, row.start) for row in rows] == [("COATS", 0), ("DOGS", 60)]


def test_rows_without_a_time_are_named() -> None:
    rundown = read_rundown("slug,start\nCOATS,0:35\nBLOCK B,\nDOGS,3:05\n", None)
    assert [row.slug for row in rundown.rows] == ["COATS", "DOGS"]
    assert any("BLOCK B" in note for note in rundown.notes)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "empty"),
        ("slug,start\n", "no rows"),
        ("slug,start\nOPEN,0:00\nCLOSE,1:00\n", "no story"),
        ("slug,start\nCOATS,\nDOGS,soon\n", "No row"),
        ("slug,length\nCOATS,0:20\nDOGS,3.4.5\n", "row 2 .DOGS.: '3.4.5'"),
        ("slug,clock\nCOATS,18:30:20\nDOGS,18:75:20\n", "row 2 .DOGS.: '18:75:20'"),
        ("slug,writer\nCOATS,TR\n", "no times"),
        ("start,writer\n0:35,TR\n", "no slug"),
        ('slug,start\nCOATS,"' + "x" * 140_000 + "\nDOGS,0:13\n", "quotation mark"),
    ],
)
def test_what_cannot_be_used_is_told(text: str, says: str) -> None:
    with pytest.raises(IntakeError, match=says):
        read_rundown(text, None)
