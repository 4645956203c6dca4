"""Stories at known moments: how long one counts as lately aired."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest

from sitegen.clock.stories import lately_aired
from sitegen.newsroom.records import When
from sitegen.newsroom.times import zone_named

NEW_YORK = zone_named("America/New_York")


@pytest.mark.parametrize(
    ("aired", "over"),
    [
        (When(date(2025, 11, 21)), datetime(2026, 11, 21, 5, tzinfo=UTC)),
        (When(date(2025, 11, 21), time(18, 30)), datetime(2026, 11, 21, 5, tzinfo=UTC)),
        (When(date(2024, 2, 29)), datetime(2025, 3, 1, 5, tzinfo=UTC)),
        (When(date(2025, 7, 4)), datetime(2026, 7, 4, 4, tzinfo=UTC)),
    ],
)
def test_a_story_counts_as_lately_aired_for_a_year_of_the_calendar(aired: When, over: datetime) -> None:
    assert lately_aired(aired, over - timedelta(seconds=1), NEW_YORK) == (True, over)
    for days in (0, 20, 40, 4000):
        assert lately_aired(aired, over + timedelta(days=days), NEW_YORK) == (False, None)
    assert lately_aired(aired, over - timedelta(days=365), NEW_YORK) == (True, over)
