"""The desk's first page: what the newsroom must know and do, as of the desk's moment or one that is asked for."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from http import HTTPStatus
from zoneinfo import ZoneInfo

from sitegen.desk.exchange import Request, Response, plain
from sitegen.desk.glance import Glance, read_when_chosen
from sitegen.desk.pages import HOME, page, writer
from sitegen.desk.setting import Moment, SettingError
from sitegen.desk.state import State
from sitegen.desk.words import date_words, moment_words
from sitegen.newsroom.records import Finding, Newsroom
from sitegen.newsroom.times import TimeError, zone_named
from sitegen.site.errors import RefusedError

PROMISES = "promise"
"""What the names of checks about promises begin with."""
MOST_ROWS = 60
"""Of one list; the rest is counted."""


def show(request: Request, state: State) -> Response:
    """The board."""
    if request.path != HOME:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    look = state.latest()
    try:
        if look.newsroom is None:
            raise SettingError("content/station.yaml cannot be read yet.")
        zone = zone_named(look.newsroom.station.time_zone)
        asked = request.asked("at")
        moment = Moment(look, read_when_chosen(asked, zone) if asked else state.moment())
        view = state.room.desk(moment)
        found = state.room.findings(moment)
    except (TimeError, RefusedError) as error:
        return _sorry(state, HTTPStatus.BAD_REQUEST, str(error))
    except SettingError as error:
        return _sorry(state, HTTPStatus.OK, str(error))
    glance = Glance(moment.as_of if asked else None)
    address_of = writer()

    def words(moment: datetime) -> str:
        return moment_words(moment, zone)

    return page(
        state,
        "board.html",
        title="The desk",
        view=view,
        is_chosen=bool(asked),
        field=moment.as_of.astimezone(zone).strftime("%Y-%m-%dT%H:%M"),
        programme=look.newsroom.station.programme,
        area=look.newsroom.station.area_word,
        zone=zone.key,
        site=glance.root(zone),
        held_site=Glance(glance.moment, True).root(zone),
        named=_named(look.newsroom),
        # A file that is gone has no form; the finding says so, and where its last text lies.
        write=lambda path: address_of(path) if path in look.sources.states else "",
        kept=lambda path: state.room.accepted_copy(look, path),
        most=MOST_ROWS,
        faults=[each for each in found if each.weight == "fault"],
        promises=[each for each in found if each.check.startswith(PROMISES) and each.weight != "fault"],
        concerns=[each for each in found if each.weight != "fault" and not each.check.startswith(PROMISES)],
        moment_words=words,
        beginning=lambda moment: _in_row(moment, zone, is_end=False),
        ending=lambda moment: _in_row(moment, zone, is_end=True),
        date_words=date_words,
        day=lambda day: f"{day:%b}\xa0{day.day}",
    )


def _named(newsroom: Newsroom) -> Callable[[Finding], list[tuple[str, str]]]:
    """A finding -> (id, file) of each story that its message names."""
    files = {story.id: story.origin.spot.path for story in newsroom.stories}

    def named(finding: Finding) -> list[tuple[str, str]]:
        words = dict.fromkeys(word.strip("'\".,:;()") for word in finding.message.split())
        return [(word, files[word]) for word in words if word in files]

    return named


def _in_row(moment: datetime, zone: ZoneInfo, is_end: bool) -> str:
    """A day and hour in a row, such as `Tue Dec 15, 5:00 pm`, in parts that stay together. Midnight is the end of a day for what
    ends with it, and the day alone for what begins."""
    local = moment.astimezone(zone)
    if (local.hour, local.minute) == (0, 0):
        day = local - timedelta(days=1) if is_end else local
        return f"{day:%a %b}\xa0{day.day}" + (", end\xa0of\xa0day" if is_end else "")
    clock = f"{(local.hour + 11) % 12 + 1}:{local:%M}\xa0{'pm' if local.hour >= 12 else 'am'}"
    return f"{local:%a %b}\xa0{local.day}, {clock}"


def _sorry(state: State, status: HTTPStatus, words: str) -> Response:
    findings: tuple[Finding, ...] = state.latest().reading.faults
    return page(state, "sorry.html", status, title="The desk cannot be shown", words=words, findings=findings)
