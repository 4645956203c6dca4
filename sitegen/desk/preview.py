"""The preview: the edition's pages and files as of the moment that an address names, each page under its bar."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from http import HTTPStatus
from zoneinfo import ZoneInfo

from sitegen.clock.stories import plan_story
from sitegen.desk.bar import Bar, with_bar
from sitegen.desk.exchange import HTML, Request, Response, plain, see_other
from sitegen.desk.glance import Glance, read_glance, read_when_chosen
from sitegen.desk.guards import FRAME_POLICY
from sitegen.desk.pages import page as desk_page
from sitegen.desk.setting import Moment, SettingError, Sheet
from sitegen.desk.state import Look, State
from sitegen.desk.words import moment_words
from sitegen.edition import addresses
from sitegen.newsroom.forms import form_for
from sitegen.newsroom.records import Newsroom, Story, Weight
from sitegen.newsroom.times import TimeError, zone_named
from sitegen.site.errors import RefusedError
from sitegen.site.manifest import media_type


def show(request: Request, state: State) -> Response:
    """A page or file of the edition."""
    look = state.latest()
    try:
        newsroom = _shown(look)
        zone = zone_named(newsroom.station.time_zone)
        glance, address = read_glance(request.path, zone)
        if not address and not request.path.endswith("/"):
            return see_other(f"{request.path}/")
        moment = _moment(state, look, glance)
        address = address.removesuffix("index.html")
        if _is_page(address):
            sheet = state.room.sheet(moment, address, glance.root(zone))
            if sheet is not None:
                return _page(state, moment, glance, sheet, zone)
            return _absent(state, moment, glance, address, zone)
        data = state.room.file(moment, address)
        if data is not None:
            return Response(
                headers={"Content-Type": media_type(address), "Content-Security-Policy": FRAME_POLICY},
                body=data,
            )
        if state.room.has(moment, f"{address}/"):
            return see_other(glance.path(f"{address}/", zone))
        return _absent(state, moment, glance, address, zone)
    except TimeError as error:
        return _sorry(state, HTTPStatus.BAD_REQUEST, str(error))
    except RefusedError as error:
        return _sorry(state, HTTPStatus.BAD_REQUEST, str(error))
    except SettingError as error:
        return _sorry(state, HTTPStatus.INTERNAL_SERVER_ERROR, str(error))


def go(request: Request, state: State) -> Response:
    """Leads to the moment that was chosen in a bar: itself, or the change before or after it."""
    look = state.latest()
    try:
        newsroom = _shown(look)
        zone = zone_named(newsroom.station.time_zone)
        held = request.asked("held") == "yes"
        chosen = Moment(look, read_when_chosen(request.asked("at"), zone), held)
        step, address = request.asked("step", "there"), request.asked("page").lstrip("/")
        when: datetime | None = chosen.as_of
        if step == "next":
            when = state.room.next_change(chosen)
        elif step == "previous":
            when = state.room.previous_change(chosen)
    except (TimeError, SettingError) as error:
        return _sorry(state, HTTPStatus.BAD_REQUEST, str(error))
    if when is None:
        which = "after" if step == "next" else "before"
        return _sorry(
            state,
            HTTPStatus.OK,
            f"No page changes {which} {moment_words(chosen.as_of, zone)}.",
            "The walk ends here",
        )
    if any(ord(letter) < 32 or letter == "\\" for letter in address) or ".." in address.split("/"):
        return plain(HTTPStatus.BAD_REQUEST, "There is no such address.")
    return see_other(Glance(when, held).path(address, zone))


# --- pages -----------------------------------------------------------------------------------


def _shown(look: Look) -> Newsroom:
    if look.newsroom is None:
        raise SettingError("content/station.yaml cannot be read yet, so there is nothing to show.")
    return look.newsroom


def _is_page(address: str) -> bool:
    return not address or address.endswith("/") or address == addresses.NOT_FOUND


def _moment(state: State, look: Look, glance: Glance) -> Moment:
    return Moment(look, glance.moment if glance.moment is not None else state.moment(), glance.held)


def _page(
    state: State,
    moment: Moment,
    glance: Glance,
    sheet: Sheet,
    zone: ZoneInfo,
    status: HTTPStatus = HTTPStatus.OK,
    address: str | None = None,
    absent: tuple[str, str, str] = ("", "", ""),
) -> Response:
    address = sheet.page.address if address is None else address
    look = moment.look
    stands_still = glance.moment is not None or state.asked or _shown(look).station.as_of
    bar = Bar(
        address=address,
        run=state.run,
        number=look.number,
        moment=moment_words(moment.as_of, zone),
        field=moment.as_of.astimezone(zone).strftime("%Y-%m-%dT%H:%M"),
        zone=zone.key,
        is_chosen=glance.moment is not None,
        own_path=Glance(None, glance.held).path(address, zone),
        held=glance.held,
        held_path=Glance(glance.moment, not glance.held).path(address, zone),
        copy=state.room.copy(moment, sheet),
        proof=sheet.proof,
        stale=not look.stale.isdisjoint(sheet.files),
        faults_elsewhere=sum(finding.spot.path not in sheet.files for finding in look.reading.faults),
        absent=absent[0],
        absent_path=absent[1],
        absent_link=absent[2],
        problem=look.theme_problem,
        main=sheet.main,
        files=tuple(sorted(sheet.files)),
    )
    body = with_bar(sheet.data, bar, moment.as_of if stands_still else None)
    return Response(status, {"Content-Type": HTML, "Content-Security-Policy": FRAME_POLICY}, body)


def _absent(state: State, moment: Moment, glance: Glance, address: str, zone: ZoneInfo) -> Response:
    """The page for the lost, or the faults of the file that this page would be of; and why there is nothing here at this moment."""
    sheet = state.room.sheet(moment, addresses.NOT_FOUND, glance.root(zone))
    if sheet is None:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    story = next((each for each in _shown(moment.look).stories if addresses.story(each.id) == address), None)
    why = _why(state, moment, glance, story, zone) if story is not None else None
    if story is not None:
        sheet = replace(sheet, main=story.origin.spot.path)
    look = moment.look
    path = file_at(address, look.findings_by_file)
    found = look.findings_by_file.get(path, ())
    faults = sum(each.weight is Weight.FAULT for each in found)
    if not faults:
        return _page(state, moment, glance, sheet, zone, HTTPStatus.NOT_FOUND, address, why or _NOTHING)
    many = "a fault" if faults == 1 else f"{faults} faults"
    words = f"{path} has {many}. Until {'it is' if faults == 1 else 'they are'} mended, no build takes new copy, and no page is made of what cannot be read."
    told = desk_page(state, "sorry.html", title="A file with faults", words=words, findings=found)
    assert isinstance(told.body, bytes)  # a page of the desk is never sent in pieces
    sheet = replace(sheet, data=told.body, main=path, files=frozenset({path}), copy=found, proof=())
    why = why or (f"The file behind this address, {path}, has {many}.", "", "")
    shown = _page(state, moment, glance, sheet, zone, HTTPStatus.NOT_FOUND, address, why)
    return replace(shown, headers=told.headers)  # under the policy of the desk's own pages


_NOTHING = ("There is no such page at this moment.", "", "")


def file_at(address: str, paths: Iterable[str]) -> str:
    """The path, among those given, of the file whose page has an address; empty where none has."""
    made_at = {
        "story": addresses.story,
        "place": addresses.place,
        "episode": addresses.episode,
        "page": "{}/".format,
    }
    wanted = f"{address.rstrip('/')}/"
    for path in paths:
        form = form_for(path)
        if form is not None:
            inside = path.removeprefix(f"content/{form.folder}/").removesuffix(form.suffix)
            if made_at[form.kind](inside) == wanted:
                return path
    return ""


def _why(
    state: State, moment: Moment, glance: Glance, story: Story, zone: ZoneInfo
) -> tuple[str, str, str] | None:
    """Why a story's page is not there, where it can be seen all the same, and what that link is called; None where its record does not
    say why."""
    newsroom = state.room.newsroom(moment)
    episodes = {each.id: each for each in newsroom.episodes}
    times, address = plan_story(story, episodes, zone), addresses.story(story.id)
    if times.held and not glance.held:
        lifted = Glance(glance.moment, True).path(address, zone)
        return "This story is on hold: viewers don’t see it.", lifted, "Show it as if it were not held"
    if moment.as_of < times.release:
        there = Glance(times.release, glance.held).path(address, zone)
        words = moment_words(times.release, zone)
        return f"This story is released on {words}.", there, "See the site as of then"
    return None


def _sorry(state: State, status: HTTPStatus, words: str, title: str = "This cannot be shown") -> Response:
    return desk_page(
        state, "sorry.html", status, title=title, words=words, findings=state.latest().reading.faults
    )
