"""What calendars and linked data cost in a large archive: 10,000 stories, of which a tenth have something to do.

python -m tests.bench.bench_calendars
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from time import process_time
from typing import TypeVar

from sitegen.edition.calendars import calendar_files
from sitegen.edition.compose import compose_edition, make_frame
from sitegen.edition.models import StoryPage
from sitegen.edition.published import publish
from sitegen.edition.views import Views
from sitegen.newsroom.records import (
    Ask,
    Contact,
    County,
    DropOff,
    Hours,
    Kind,
    Mode,
    Newsroom,
    Place,
    Rule,
    Span,
    Station,
    StationContact,
    Story,
    When,
)
from sitegen.typeset.linked import linked_text
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import load_theme
from sitegen.typeset.words import load_words

T = TypeVar("T")
STORIES = 10_000
OPEN_EVERY = 10
AS_OF = datetime(2026, 12, 1, 17, tzinfo=UTC)
EVENINGS = Hours(Mode.REGULAR, (Rule(tuple(range(7)), (), ((1050, 1320),)),), "Mo-Su 17:30-22:00")
SHOP = Hours(Mode.REGULAR, (Rule((0, 1, 2, 3, 4), (), ((540, 1020),)),), "Mo-Fr 09:00-17:00")


def newsroom() -> Newsroom:
    counties = tuple(County(f"County {number}", f"county-{number}") for number in range(40))
    station = Station(
        "A station", "A programme", "https://www.example.org/", "America/New_York", "en-US", StationContact(), counties
    )  # fmt: skip
    shop = Place("shop", "A shop", "A town", "county-0", SHOP, street="1 Quay Street")
    bring = Ask(
        "Bring a coat", Kind.BRING, "bring-a-coat", deadline=When(date(2026, 12, 15)), drop_off=(DropOff(shop),),
        contact=Contact(phone="237-555-0142"),
    )  # fmt: skip
    go = Ask(
        "See the lights", Kind.GO, "see-the-lights", dates=(Span(When(date(2026, 11, 27)), When(date(2026, 12, 26))),),
        hours=EVENINGS, closed=(date(2026, 12, 24),), drop_off=(DropOff(shop),),
    )  # fmt: skip
    stories = []
    for number in range(STORIES):
        county = f"county-{number % 40}"
        aired = date(2026, 11, 30) - timedelta(days=number // 4)
        asks: tuple[Ask, ...] = (replace(bring, helps=(county,)), replace(go, helps=(county,)))
        if number % OPEN_EVERY:
            asks = (replace(asks[0], deadline=When(aired + timedelta(days=1), time(12))),)
        stories.append(Story(f"2026/story-{number:05}", f"Story {number}", When(aired), (county,), asks=asks))
    return Newsroom(station, (shop,), tuple(stories))


def timed(words: str, work: Callable[[], T]) -> T:
    start = process_time()
    found = work()
    print(f"{words:52}{process_time() - start:8.2f} s of the processor")
    return found


def main() -> None:
    room = newsroom()
    composition = timed("compose the whole edition", lambda: compose_edition(room, AS_OF))
    published = publish(room, AS_OF)
    views = Views(published)
    files = timed("of that, calendars", lambda: calendar_files(published, views, make_frame(room)))
    theme = load_theme(Path(__file__).parents[2], "tidetable")
    setter = Typesetter(theme, "en-US")
    data = timed(f"set {len(files):,} calendars", lambda: [setter.file(file) for file in files])
    print(f"{'their bytes':52}{sum(map(len, data)):12,}")
    pages = [page for page in composition.edition.pages if isinstance(page, StoryPage)]
    words = load_words(theme, "en-US")
    texts = timed(
        f"write linked data of {len(pages):,} stories",
        lambda: [linked_text(page.linked, page.frame.address, words) for page in pages],
    )
    print(f"{'their bytes':52}{sum(map(len, texts)):12,}")


if __name__ == "__main__":
    main()
