"""Choosing what to write: the station's files to open, and the few questions from which a new one begins."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from sitegen.desk.exchange import FormError, Request, Response, plain, see_other
from sitegen.desk.pages import page
from sitegen.desk.state import State
from sitegen.desk.words import WRITE, date_words
from sitegen.desk.write import editor, saving
from sitegen.desk.write.entered import Entered, entered_of, pasted, posted
from sitegen.desk.write.offers import offers
from sitegen.desk.write.view import Page, id_of
from sitegen.newsroom.drafting import DraftError, draft
from sitegen.newsroom.forms import FORMS, Entry, Form
from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.slugs import slug

NEW = WRITE + "new/"
ASKED = {
    "story": ("headline", "aired", "county", "town"),
    "episode": ("aired", "title"),
    "place": tuple(entry.key for entry in editor.NEW_PLACE),
    "page": ("title", "summary"),
}
"""What is asked before a file is there, by kind: what its name comes from, and what it cannot be without."""
MOST_LISTED = 40
"""Of one kind; the rest is found by words."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A file to choose."""

    address: str
    title: str
    about: str


@dataclass(frozen=True, slots=True)
class Shelf:
    """The files of one kind."""

    form: Form
    files: tuple[Listed, ...]
    more: int
    """How many there are beside these."""


def show(request: Request, state: State) -> Response:
    """All that can be opened, or a file's page."""
    if request.path != WRITE:
        return editor.show(request, state)
    newsroom = state.latest().newsroom
    if newsroom is None:
        return page(state, "sorry.html", title="Nothing can be written yet", words="content/station.yaml cannot be read; mend it first.",
                    findings=state.latest().reading.faults)  # fmt: skip
    words = request.asked("words")
    unread = sorted(
        {
            finding.spot.path
            for finding in state.latest().reading.faults
            if finding.spot.path not in _paths(newsroom) and _may_open(finding.spot.path)
        }
    )
    shelves = [_shelf(FORMS[kind], files, words) for kind, files in _files(newsroom).items()]
    return page(
        state,
        "write_choose.html",
        title="Write",
        words=words,
        shelves=shelves,
        unread=unread,
        write=WRITE,
        new=NEW,
    )


def _may_open(path: str) -> bool:
    try:
        saving.allowed(path)
    except saving.NameRefusedError:
        return False
    return True


def _paths(newsroom: Newsroom) -> set[str]:
    origins = (
        *(each.origin for each in newsroom.stories),
        *(each.origin for each in newsroom.places),
        *(each.origin for each in newsroom.episodes),
        *(each.origin for each in newsroom.pages),
    )
    return {origin.spot.path for origin in origins}


def _files(newsroom: Newsroom) -> dict[str, list[Listed]]:
    """Every file that could be read, by kind; stories and episodes newest first."""
    names = {county.key: county.name for county in newsroom.station.counties}

    def address(path: str) -> str:
        return WRITE + path.removeprefix("content/")

    stories = sorted(newsroom.stories, key=lambda story: (story.aired.day, story.id), reverse=True)
    episodes = sorted(newsroom.episodes, key=lambda episode: (episode.aired.day, episode.id), reverse=True)
    places = sorted(newsroom.places, key=lambda place: place.name)
    return {
        "story": [
            Listed(address(each.origin.spot.path), each.headline, date_words(each.aired.day) + (", on hold" if each.hold else ""))
            for each in stories
        ],
        "place": [
            Listed(address(each.origin.spot.path), each.name, f"{each.town}, {names.get(each.county, each.county)}") for each in places
        ],
        "episode": [Listed(address(each.origin.spot.path), each.title or each.id, date_words(each.aired.day)) for each in episodes],
        "page": [Listed(address(each.origin.spot.path), each.title, "") for each in newsroom.pages],
    }  # fmt: skip


def _shelf(form: Form, files: list[Listed], words: str) -> Shelf:
    sought = [word for word in slug(words).split("-") if word]
    found = [
        each
        for each in files
        if all(word in slug(f"{each.title} {each.about} {each.address}") for word in sought)
    ]
    return Shelf(form, tuple(found[:MOST_LISTED]), max(0, len(found) - MOST_LISTED))


# --- a new one ----------------------------------------------------------------------------------


def ask(request: Request, state: State) -> Response:
    """The few questions."""
    form = FORMS.get(request.path.removeprefix(NEW))
    if form is None:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    return _asking(state, form, entered_of(_entries(form), {}), "")


def take(request: Request, state: State) -> Response:
    """Writes the new file and leads to its page."""
    form = FORMS.get(request.path.removeprefix(NEW))
    if form is None:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    try:
        entries = _entries(form)
        entered = entered_of(entries, {}) | posted(entries, request.form().fields)
        if request.form().get("do").startswith("town"):
            return _asking(state, form, _with_town(state, entered), "")
        path = editor.begin_place(state, entered) if form.kind == "place" else _begin(state, form, entered)
    except FormError as error:
        return page(
            state,
            "sorry.html",
            HTTPStatus.BAD_REQUEST,
            title="Nothing was begun",
            words=str(error),
            findings=(),
        )
    except (DraftError, saving.DiskError, saving.NameRefusedError, editor.NotThereError) as error:
        return _asking(state, form, entered, f"Nothing was begun. {error}", HTTPStatus.UNPROCESSABLE_ENTITY)
    return see_other(f"{WRITE}{path.removeprefix('content/')}?done=begun")


def ask_again(request: Request, state: State) -> Response:
    """The questions of an earlier run's page, with what was answered. Begins nothing."""
    form = FORMS.get(request.path.removeprefix(NEW))
    if form is None:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    entries = _entries(form)
    entered = entered_of(entries, {}) | posted(entries, request.form().fields)
    return _asking(state, form, entered, f"Nothing was begun. {editor.OUTDATED}", HTTPStatus.FORBIDDEN)


def _entries(form: Form) -> tuple[Entry, ...]:
    return tuple(next(entry for entry in form.fields if entry.key == key) for key in ASKED[form.kind])


def _with_town(state: State, entered: Entered) -> Entered:
    newsroom = state.latest().newsroom
    town = entered.get("town")
    at = (
        offers(state.root, newsroom).positions.get(town.strip())
        if newsroom is not None and isinstance(town, str)
        else None
    )
    return entered | ({"position": f"{at[0]:g}\n{at[1]:g}"} if at is not None else {})


def _asking(
    state: State, form: Form, entered: Entered, trouble: str, status: HTTPStatus = HTTPStatus.OK
) -> Response:
    newsroom = state.latest().newsroom
    if newsroom is None:
        return page(state, "sorry.html", title="Nothing can be written yet", words="content/station.yaml cannot be read; mend it first.",
                    findings=state.latest().reading.faults)  # fmt: skip
    offered = offers(state.root, newsroom)
    cells = Page(form, offered, ()).cells(_entries(form), entered, "")
    return page(
        state, "write_new.html", status, title=f"Begin {form.name}", form=form, cells=cells, trouble=trouble, offered=offered,
        address=NEW + form.kind, id_of=id_of,
    )  # fmt: skip


def _begin(state: State, form: Form, entered: Entered) -> str:
    """Writes a draft and returns its path."""
    newsroom = state.latest().newsroom
    if newsroom is None:
        raise DraftError("content/station.yaml cannot be read; mend it first.")
    answers = {
        entry.key: pasted(entry, text).replace("\n", ", ")
        for entry in _entries(form)
        if isinstance(text := entered.get(entry.key), str)
    }
    path, text = draft(form.kind, answers, newsroom)
    saving.allowed(path)
    try:
        saving.create(state.root, path, text)
    except saving.ThereAlreadyError:
        raise DraftError(f"{path} is there already. Open it, or choose other words.") from None
    return path
