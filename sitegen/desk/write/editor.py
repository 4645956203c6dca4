"""The page at which one file is changed: shown, checked as it is typed, and saved under what was seen when it was opened."""

from __future__ import annotations

import base64
import binascii
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from http import HTTPStatus
from pathlib import PurePosixPath

from sitegen.desk.exchange import Form as Posted
from sitegen.desk.exchange import FormError, Request, Response, plain, see_other
from sitegen.desk.pages import page
from sitegen.desk.state import State
from sitegen.desk.words import WRITE
from sitegen.desk.write import saving
from sitegen.desk.write.checking import BODY, Told, beside, check
from sitegen.desk.write.entered import Entered, Row, entered_of, is_blank, names, pasted, posted, wanted_of
from sitegen.desk.write.merging import Side, merge
from sitegen.desk.write.offers import offers
from sitegen.desk.write.uploads import missing, take_in
from sitegen.desk.write.view import Noted, Page, counted, found_as_html, id_of, noted
from sitegen.newsroom.aside import taken_up
from sitegen.newsroom.drafting import DraftError, draft
from sitegen.newsroom.editing import EditError, Trail, Wanted, read_document, rewrite
from sitegen.newsroom.forms import FORMS, Entry, Form, Input
from sitegen.newsroom.pictures import PictureError
from sitegen.newsroom.places import places_called
from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.spans import Value

CHECK = WRITE + "check/"
NEW = "/new/"
"""In the names of fields: between a list of places and what is asked of a new one for it."""
NEW_PLACE = tuple(
    entry for entry in FORMS["place"].fields
    if entry.key in ("name", "street", "town", "county", "postal_code", "position", "hours", "step_free", "phone")
)  # fmt: skip
"""What is asked of a place that is begun beside an ask."""


class NotThereError(Exception):
    """There is no such file, or it cannot be read as one of the form's; the text says why."""


OUTDATED = "The preview was started anew since this page was opened. All that you wrote stands below: press the button once more."


@dataclass(slots=True)
class Sheet:
    """A file in the form, on its way."""

    path: str
    form: Form
    base: str
    """The text of the file as it was opened."""
    entered: Entered | None
    """None where the file can be changed only in its text."""
    text: str
    """As it would be saved."""
    body: str = ""
    theirs: str = ""
    """The text as it is now, where it was changed since it was opened."""
    why_text: str = ""
    """Why only its text can be changed."""
    told: tuple[Told, ...] = ()
    news: str = ""
    """What was just done."""
    warning: str = ""
    """What comes of what was just done."""
    trouble: str = ""
    """What was not done, and why."""
    focus: str = ""
    """Id of the element to go on at."""
    new_places: dict[str, Entered] = field(default_factory=dict)
    """What was entered of places that could not be made, by the list they were for."""
    can_hold: bool = False
    """It was not saved for its faults, and can be on hold."""
    is_taken_up: bool = False
    """The ask that stands in comments is one of the form's."""

    @property
    def source(self) -> str:
        """The text that is rewritten."""
        return _source(self.base, self.form, self.is_taken_up)

    @property
    def is_held(self) -> bool:
        return self.form.can_wait and self.entered is not None and self.entered.get("hold") == "true"


def _source(text: str, form: Form, is_taken_up: bool) -> str:
    """A file's text, or the same with the ask that stands in its comments taken up, where there still is one."""
    return (taken_up(text, form.has_body) if is_taken_up else None) or text


# --- showing ------------------------------------------------------------------------------------


def show(request: Request, state: State) -> Response:
    """The page of one file."""
    path = _path_of(request.path, WRITE)
    try:
        sheet = _opened(state, path, as_text=request.asked("as") == "text")
    except (NotThereError, saving.NameRefusedError, saving.DiskError) as error:
        return _sorry(state, HTTPStatus.NOT_FOUND, str(error))
    if request.asked("done") == "saved":
        sheet.news = "Saved."
    elif request.asked("done") == "begun":
        sheet.news = f"Begun as {path}."
    faults = sum(each.is_fault for each in sheet.told)
    if sheet.news and faults:
        sheet.warning = (
            "Its fault, listed below, keeps every build of the station from taking new copy until it is mended, on hold or not."
            if faults == 1
            else f"Its {faults} faults, listed below, keep every build of the station from taking new copy until they are mended, on hold or not."
        )
    return _page(state, sheet)


def _path_of(address: str, below: str) -> str:
    return "content/" + address.removeprefix(below)


def _opened(state: State, path: str, as_text: bool = False) -> Sheet:
    form = saving.allowed(path)
    text = saving.read(state.root, path)
    if text is None:
        raise NotThereError(f"There is no file {path}.")
    sheet = _sheet(path, form, text, as_text)
    _check(state, sheet)
    return sheet


def _sheet(path: str, form: Form, text: str, as_text: bool = False, is_taken_up: bool = False) -> Sheet:
    """A file as it stands in the form when it is opened."""
    try:
        document = read_document(_source(text, form, is_taken_up), form.has_body)
    except EditError as error:
        why = f"Line {error.line}: {error} Until that is mended, only the whole text can be changed."
        return Sheet(path, form, text, None, text, why_text=why)
    if as_text:
        return Sheet(path, form, text, None, text)
    entered = entered_of(form.fields, document.values)
    return Sheet(path, form, text, entered, text, document.body or "", is_taken_up=is_taken_up)


def _newsroom(state: State) -> Newsroom:
    newsroom = state.latest().newsroom
    if newsroom is None:
        raise NotThereError("content/station.yaml cannot be read yet; mend it first.")
    return newsroom


def _check(state: State, sheet: Sheet) -> None:
    """Finds what is wrong with a sheet's text, beside its fields."""
    _newsroom(state)
    look, as_of, path = state.latest(), state.moment(), sheet.path
    found = check(
        state.root, look.reading, as_of, path, sheet.text,
        unsaid=lambda reading: state.room.unsaid(look, as_of, reading, (path,)),
    )  # fmt: skip
    if sheet.entered is None:
        sheet.told = tuple(Told("", finding, finding.instead) for finding in found)
        return
    where = dict(names(sheet.form.fields, sheet.entered))
    sheet.told = beside(sheet.form, sheet.text, where, found, sheet.path)


def _page(state: State, sheet: Sheet, status: HTTPStatus = HTTPStatus.OK) -> Response:
    offered = offers(state.root, _newsroom(state))
    comments = _comments(sheet)
    view = Page(sheet.form, offered, sheet.told, comments)
    inside = sheet.path.removeprefix("content/")
    title = sheet.entered.get(sheet.form.title_key) if sheet.entered is not None else ""
    return page(
        state,
        "write.html" if sheet.entered is not None else "write_text.html",
        status,
        title=f"Write: {title if isinstance(title, str) and title else inside}",
        heading=title if isinstance(title, str) and title else PurePosixPath(inside).stem,
        sheet=sheet,
        parts=view.parts(sheet.entered) if sheet.entered is not None else [],
        base=packed(sheet.base),
        offered=offered,
        address=WRITE + inside,
        check=CHECK + inside,
        seen_at=_seen_at(sheet),
        said=counted(sheet.told),
        id_of=id_of,
        notes=[each for each in comments if each.is_to_do or not each.name],
        can_take_up=sheet.entered is not None and not sheet.entered.get("asks") and taken_up(sheet.base, sheet.form.has_body) is not None,
        new_place=lambda name: view.cells(NEW_PLACE, sheet.new_places.get(name) or _blank(NEW_PLACE), name + NEW),
    )  # fmt: skip


def _comments(sheet: Sheet) -> tuple[Noted, ...]:
    if sheet.entered is None:
        return ()
    return noted(sheet.form, sheet.text, dict(names(sheet.form.fields, sheet.entered)))


def _seen_at(sheet: Sheet) -> str:
    """Where the preview shows a file's page; empty where it has none of its own."""
    name = sheet.path.removeprefix("content/").removesuffix(sheet.form.suffix)
    glance = "/_desk/held/now/" if sheet.is_held and sheet.form.kind == "story" else "/"
    return "" if sheet.form.kind == "page" else f"{glance}{name}/"


def _sorry(state: State, status: HTTPStatus, words: str) -> Response:
    return page(state, "sorry.html", status, title="This cannot be written here", words=words, findings=())


def packed(text: str) -> str:
    """A text as it stands in a hidden field, where browsers would change its line ends."""
    return base64.b64encode(text.encode()).decode()


def unpacked(text: str) -> str:
    """Raises FormError for what `packed` did not make."""
    try:
        return base64.b64decode(text.encode("ascii"), validate=True).decode("utf-8")
    except (ValueError, binascii.Error) as error:
        raise FormError("The form that was sent is not whole. Load its page again.") from error


# --- taking -------------------------------------------------------------------------------------


def take(request: Request, state: State) -> Response:
    """A form that was sent: does what its button says."""
    path = _path_of(request.path, WRITE)
    try:
        form, sent = saving.allowed(path), request.form()
        if _is_text(sent):
            return _take_text(state, path, form, sent)
        sheet = _sent(state, path, form, sent)
        _take_picture(state, sheet, sent)
        action, _, rest = sent.get("do", "check").partition(" ")
        if action in ("save", "hold", "resolve"):
            if action == "hold" and form.can_wait and sheet.entered is not None:
                sheet.entered["hold"] = "true"
            return _save(state, sheet, sent, action == "resolve")
        if action == "make-place":
            _make_place(state, sheet, sent, rest)
        else:
            _rearrange(state, sheet, action, rest)
        _rewrite(sheet)
        _check(state, sheet)
        return _page(state, sheet)
    except FormError as error:
        return _sorry(state, HTTPStatus.BAD_REQUEST, str(error))
    except (NotThereError, saving.NameRefusedError) as error:
        return _sorry(state, HTTPStatus.NOT_FOUND, str(error))
    except saving.DiskError as error:
        return _sorry(
            state,
            HTTPStatus.INTERNAL_SERVER_ERROR,
            f"{error} Nothing was saved; go back, what you wrote is still there.",
        )
    except EditError as error:
        return _sorry(
            state,
            HTTPStatus.UNPROCESSABLE_ENTITY,
            f"Line {error.line}: {error} Nothing was saved; change it in the file's text.",
        )


def check_typed(request: Request, state: State) -> Response:
    """What is wrong with a form as it stands, for the script that asks while somebody types."""
    path = _path_of(request.path, CHECK)
    try:
        form, sent = saving.allowed(path), request.form()
        sheet = _sent(state, path, form, sent)
        _rewrite(sheet)
        _check(state, sheet)
    except (FormError, NotThereError, saving.NameRefusedError, saving.DiskError, EditError) as error:
        return plain(HTTPStatus.UNPROCESSABLE_ENTITY, str(error))
    return Response(
        headers={"Content-Type": "application/json"}, body=json.dumps(found_as_html(sheet.told)).encode()
    )


def show_again(request: Request, state: State) -> Response:
    """A form that was sent from an earlier run's page, with every word of it. Does nothing of what its button says."""
    path = _path_of(request.path, WRITE)
    try:
        form, sent = saving.allowed(path), request.form()
        if _is_text(sent):
            sheet = Sheet(path, form, unpacked(sent.get("base")), None, _text_of(sent))
        else:
            sheet = _sent(state, path, form, sent)
        sheet.trouble = f"Nothing was saved. {OUTDATED}"
        if sent.file("picture") is not None:
            sheet.trouble += " Choose the picture again first."
        if sent.get("do") == "resolve" and sheet.entered is not None:
            now = saving.read(state.root, path)
            if now is not None and now != sheet.base:
                return _settle(state, sheet, sent, now, True)
        if sheet.entered is not None:
            _rewrite(sheet)
        _check(state, sheet)
        return _page(state, sheet, HTTPStatus.FORBIDDEN)
    except (FormError, NotThereError, saving.NameRefusedError, saving.DiskError, EditError) as error:
        return _sorry(state, HTTPStatus.FORBIDDEN, f"Nothing was saved. {error}")


def _is_text(sent: Posted) -> bool:
    """True for the form of a file's whole text."""
    return bool(sent.get("text")) or sent.get("do") == "save-text"


def _sent(state: State, path: str, form: Form, sent: Posted) -> Sheet:
    """The sheet as a form has it."""
    base = unpacked(sent.get("base"))
    sheet = _sheet(path, form, base, is_taken_up=bool(sent.get("taken-up")))
    if sheet.entered is None:
        raise FormError("This file can be changed only in its text.")
    # What the form does not send has no field there, and stays.
    sheet.entered = sheet.entered | posted(form.fields, sent.fields)
    newsroom = state.latest().newsroom
    if newsroom is not None:
        _take_names(form.fields, sheet.entered, newsroom)
    if form.has_body and any(name == BODY for name, _ in sent.fields):
        sheet.body = sent.get(BODY)
    lists = dict.fromkeys(name.rpartition(NEW)[0] for name, _ in sent.fields if NEW in name)
    for name in lists:
        place = _new_place(name, sent)
        if not is_blank(place):
            sheet.new_places[name] = place
    return sheet


def _take_names(fields: Sequence[Entry], entered: Entered, newsroom: Newsroom) -> None:
    """Puts a shared place's file where its name was typed, if no other has that name."""
    for entry in fields:
        value = entered.get(entry.key)
        if isinstance(value, dict):
            _take_names(entry.fields, value, newsroom)
        elif isinstance(value, list):
            for row in value:
                _take_names(entry.fields, row.fields, newsroom)
        elif entry.input is Input.PLACE and value and not any(value == place.id for place in newsroom.places):
            called = places_called(value, newsroom.places)
            if len(called) == 1:
                entered[entry.key] = called[0].id


def _new_place(name: str, sent: Posted) -> Entered:
    """What stands in the fields of a new place, by the list it is for."""
    prefix = name + NEW
    pairs = [(key.removeprefix(prefix), text) for key, text in sent.fields if key.startswith(prefix)]
    return _blank(NEW_PLACE) | posted(NEW_PLACE, pairs)


def _wanted(sheet: Sheet) -> Mapping[str, Wanted]:
    before = read_document(sheet.source, sheet.form.has_body).values
    return wanted_of(sheet.form.fields, before, sheet.entered or {})


def _rewrite(sheet: Sheet) -> None:
    body = sheet.body if sheet.form.has_body else None
    sheet.text = rewrite(sheet.source, sheet.form.has_body, _wanted(sheet), body, sheet.form.layout)


# --- buttons ------------------------------------------------------------------------------------


def _rearrange(state: State, sheet: Sheet, action: str, rest: str) -> None:
    """Adds, removes or moves an entry of a list, or takes a town's position. Anything else is a check."""
    entered = sheet.entered
    assert entered is not None
    target, _, more = rest.partition(" ")
    if action == "add":
        entry, rows = _rows_at(sheet.form.fields, entered, target)
        fields = _blank(entry.fields)
        if more:
            fields["kind"] = more
        rows.append(Row(fields))
        sheet.focus = id_of(f"{target}/{len(rows) - 1}/{entry.fields[0].key}")
        sheet.news = f"{entry.one.capitalize()} {len(rows)} is added below."
    elif action in ("remove", "up", "down"):
        name, _, index = target.rpartition("/")
        entry, rows = _rows_at(sheet.form.fields, entered, name)
        number = int(index) if index.isascii() and index.isdigit() else -1
        other = {"remove": number, "up": number - 1, "down": number + 1}[action]
        if not (0 <= number < len(rows) and 0 <= other < len(rows)):
            return
        moves = (
            {number: None} | {at: at - 1 for at in range(number + 1, len(rows))}
            if action == "remove"
            else {number: other, other: number}
        )
        sheet.new_places = _moved(sheet.new_places, name, moves)
        if action == "remove":
            del rows[number]
            sheet.focus = id_of(name)
            sheet.news = f"{entry.one.capitalize()} {number + 1} is removed, once you save."
        else:
            rows[number], rows[other] = rows[other], rows[number]
            sheet.focus = id_of(f"{name}/{other}")
            sheet.news = f"{entry.one.capitalize()} {number + 1} is now number {other + 1}."
    elif action == "town":
        _take_town(state, sheet, target)
    elif action == "take-up":
        _take_up(sheet)


def _take_up(sheet: Sheet) -> None:
    """Makes the ask that stands in the file's comments one of the form's."""
    assert sheet.entered is not None
    fresh = _sheet(sheet.path, sheet.form, sheet.base, is_taken_up=True)
    taken = fresh.entered.get("asks") if fresh.entered is not None else None
    if sheet.is_taken_up or not isinstance(taken, list) or not taken:
        return
    rows = sheet.entered.get("asks")
    sheet.entered["asks"] = [*taken, *(rows if isinstance(rows, list) else [])]
    sheet.is_taken_up = True
    sheet.focus = id_of("asks/0/title")
    sheet.news = "The ask from the comments stands below. Save to keep it."


def _moved(places: Mapping[str, Entered], name: str, moves: Mapping[int, int | None]) -> dict[str, Entered]:
    """New places that are not made yet, by the lists they are for, after the entries of a list around those were moved or (None)
    removed."""
    found: dict[str, Entered] = {}
    for each, entered in places.items():
        index, slash, rest = each.removeprefix(f"{name}/").partition("/")
        if slash and each.startswith(f"{name}/") and index.isdigit():
            number = moves.get(int(index), int(index))
            if number is not None:
                found[f"{name}/{number}/{rest}"] = entered
        else:
            found[each] = entered
    return found


def _rows_at(fields: Sequence[Entry], entered: Entered, name: str) -> tuple[Entry, list[Row]]:
    """A list of the form by its name, such as `asks/0/drop_off`. Raises FormError when there is none."""
    steps = name.split("/")
    while True:
        entry = next((each for each in fields if each.key == steps[0]), None)
        rows = entered.get(steps[0])
        if entry is None or not isinstance(rows, list):
            raise FormError("The form that was sent does not fit its file. Load its page again.")
        if len(steps) == 1:
            return entry, rows
        number = int(steps[1]) if len(steps) > 2 and steps[1].isascii() and steps[1].isdigit() else len(rows)
        if number >= len(rows):
            raise FormError("The form that was sent does not fit its file. Load its page again.")
        fields, entered, steps = entry.fields, rows[number].fields, steps[2:]


def _blank(fields: Sequence[Entry]) -> Entered:
    return entered_of(fields, {})


def _take_town(state: State, sheet: Sheet, name: str) -> None:
    """Gives a place the position of its town, by the name of its position's field."""
    assert sheet.entered is not None
    group = sheet.entered
    if "/" in name:
        listed, _, index = name.rpartition("/")[0].rpartition("/")
        _, rows = _rows_at(sheet.form.fields, group, listed)
        if not index.isdigit() or int(index) >= len(rows):
            raise FormError("The form that was sent does not fit its file. Load its page again.")
        group = rows[int(index)].fields
    town = group.get("town")
    position = offers(state.root, _newsroom(state)).positions.get(
        town.strip() if isinstance(town, str) else ""
    )
    if position is None:
        sheet.trouble = "The station's list has no position for this town. Write latitude and longitude."
    else:
        group["position"] = f"{position[0]:g}\n{position[1]:g}"
        sheet.news = f"The position of {town} is filled in. A position of the door itself is better."
    sheet.focus = id_of(f"{name}/latitude")


def _take_picture(state: State, sheet: Sheet, sent: Posted) -> None:
    """Takes in the picture that came with the form, when all is said that must be."""
    upload = sent.file("picture")
    photo = sheet.entered.get("photo") if sheet.entered is not None else None
    if upload is None or not isinstance(photo, dict):
        return
    said_of = {key: text for key, text in photo.items() if isinstance(text, str)}
    problems = missing(said_of)
    if problems:
        sheet.trouble = (
            "The picture was not taken in. " + " ".join(problems.values()) + " Then choose it again."
        )
        sheet.focus = id_of(f"photo/{next(iter(problems))}")
        return
    try:
        name = take_in(state.root, upload)
    except PictureError as error:
        sheet.trouble = f"The picture was not taken in. {error.message} {error.instead}"
        sheet.focus = "f-picture"
        return
    photo["file"] = name
    sheet.news = f"The picture is stored as content/photos/{name}, without its position or any other data of the camera. Save to use it."
    sheet.focus = id_of("photo/alt")


def _make_place(state: State, sheet: Sheet, sent: Posted, name: str) -> None:
    """Makes the file of a new shared place and names it in an ask's list of places."""
    assert sheet.entered is not None
    entry, rows = _rows_at(sheet.form.fields, sheet.entered, name)
    entered = _new_place(name, sent)
    try:
        path = begin_place(state, entered)
    except DraftError as error:
        sheet.trouble = f"The place was not made. {error}"
        sheet.new_places[name] = entered
        sheet.focus = id_of(f"{name}{NEW}name")
        return
    sheet.new_places.pop(name, None)
    rows.append(Row(_blank(entry.fields) | {"place": PurePosixPath(path).stem}))
    sheet.news = f"{path} is made, and stands as the last place of this ask. Save to keep it there."
    sheet.focus = id_of(f"{name}/{len(rows) - 1}/place")


def begin_place(state: State, entered: Entered) -> str:
    """Writes the file of a new place without faults, and returns its path. Raises DraftError with what is wrong."""
    newsroom = _newsroom(state)
    texts = {
        entry.key: pasted(entry, text)
        for entry in NEW_PLACE
        if isinstance(text := entered.get(entry.key), str)
    }
    answers = {key: texts.get(key, "") for key in ("name", "street", "town", "county", "hours", "phone")}
    path, text = draft("place", answers, newsroom)
    form = saving.allowed(path)
    values = read_document(text, form.has_body).values
    more = {key: texts[key] for key in ("position", "postal_code", "step_free") if texts.get(key)}
    text = rewrite(text, form.has_body, wanted_of(form.fields, values, dict(more)), None, form.layout)
    found = check(state.root, state.latest().reading, state.moment(), path, text)
    where: dict[Trail, str] = {(entry.key,): entry.key for entry in NEW_PLACE}
    faults = [each for each in beside(form, text, where, found, path) if each.is_fault]
    if faults:
        raise DraftError(" ".join(f"{each.finding.message} {each.instead}".strip() for each in faults))
    try:
        saving.create(state.root, path, text)
    except saving.ThereAlreadyError:
        raise DraftError(f"{path} is there already. Choose it, or give the new place another name.") from None
    state.refresh()
    return path


# --- saving -------------------------------------------------------------------------------------


def _save(state: State, sheet: Sheet, sent: Posted, is_resolved: bool) -> Response:
    """Saves what was entered, or shows why not."""
    now = saving.read(state.root, sheet.path)
    if sheet.trouble:
        _rewrite(sheet)
        _check(state, sheet)
        return _page(state, sheet, HTTPStatus.UNPROCESSABLE_ENTITY)
    if now is None:
        raise NotThereError(
            f"{sheet.path} was removed since you opened it. Nothing was saved; go back, what you wrote is still there."
        )
    if now != sheet.base:
        return _settle(state, sheet, sent, now, is_resolved)
    return _write(state, sheet)


def _write(state: State, sheet: Sheet) -> Response:
    """Saves a sheet whose base is the file, unless something stands against it."""
    _rewrite(sheet)
    _check(state, sheet)
    faults = sum(each.is_fault for each in sheet.told)
    if faults and not sheet.is_held:
        sheet.can_hold = sheet.form.can_wait
        many = "a fault" if faults == 1 else f"{faults} faults"
        sheet.trouble = f"Not saved: {sheet.form.name} with {many} keeps every build from taking new copy. They are listed below."
        return _page(state, sheet, HTTPStatus.UNPROCESSABLE_ENTITY)
    if sheet.text != sheet.base:
        try:
            saving.replace(state.root, sheet.path, sheet.text, saving.digest(sheet.base))
        except saving.ChangedError:
            now = saving.read(state.root, sheet.path)
            if now is None:
                raise NotThereError(
                    f"{sheet.path} was removed since you opened it. Nothing was saved."
                ) from None
            return _settle(state, sheet, Posted(), now, False)
    return see_other(f"{WRITE}{sheet.path.removeprefix('content/')}?done=saved")


def _settle(state: State, sheet: Sheet, sent: Posted, now: str, is_resolved: bool) -> Response:
    """The file was changed since it was opened: shows both versions, or saves what was chosen of them unless there is trouble."""
    form = sheet.form
    opened = read_document(sheet.source, form.has_body)
    try:
        theirs = read_document(_source(now, form, sheet.is_taken_up), form.has_body)
    except EditError as error:
        raise NotThereError(
            f"{sheet.path} was changed since you opened it, and cannot be read now: line {error.line}: {error} "
            "Nothing was saved; go back, what you wrote is still there."
        ) from error
    is_seen = is_resolved and sent.get("seen") == saving.digest(now)
    choices = {
        name.removeprefix("keep/"): Side(text)
        for name, text in (sent.fields if is_seen else ())
        if name.startswith("keep/") and text in tuple(Side)
    }
    body = _tidy(sheet.body)
    merged = merge(
        form.fields,
        (opened.values, opened.body or ""),
        (theirs.values, theirs.body or ""),
        (_wanted(sheet), body),
        choices,
    )
    if is_seen and merged.is_decided and not sheet.trouble:
        settled = replace(
            _sheet(sheet.path, form, now, is_taken_up=sheet.is_taken_up),
            entered=entered_of(form.fields, merged.wanted),
            body=merged.body,
        )
        return _write(state, settled)
    return page(
        state,
        "write_settle.html",
        HTTPStatus.FORBIDDEN if sheet.trouble else HTTPStatus.CONFLICT,
        title="Changed by somebody else",
        sheet=sheet,
        base=packed(sheet.base),
        seen=saving.digest(now),
        differences=merged.differences,
        fields=[
            (name, text)
            for name, text in sent.fields
            if not name.startswith("keep/") and name not in ("do", "token", "base", "seen")
        ],
        is_again=is_resolved and not is_seen,
        address=WRITE + sheet.path.removeprefix("content/"),
        id_of=id_of,
    )


def _tidy(body: str) -> str:
    return body.replace("\r\n", "\n").replace("\r", "\n").strip("\n").rstrip()


def _text_of(sent: Posted) -> str:
    text = sent.get("text").replace("\r\n", "\n").replace("\r", "\n")
    return text if text.endswith("\n") else text + "\n"


def _take_text(state: State, path: str, form: Form, sent: Posted) -> Response:
    """Saves a file's whole text, under the same conditions."""
    base = unpacked(sent.get("base"))
    text = _text_of(sent)
    now = saving.read(state.root, path)
    sheet = Sheet(path, form, base, None, text)
    _check(state, sheet)
    if sent.get("do") != "save-text":
        return _page(state, sheet)
    if now is None:
        raise NotThereError(f"{path} was removed since you opened it. Nothing was saved.")
    if now != base:
        sheet.trouble = "Not saved: the file was changed since you opened it. It stands below as it is now; take over into your text what you want to keep of it, then save again."
        sheet.theirs = sheet.base = now
        return _page(state, sheet, HTTPStatus.CONFLICT)
    try:
        values: Mapping[str, Value] = read_document(text, form.has_body).values
    except EditError:
        values = {}
    if any(each.is_fault for each in sheet.told) and not (form.can_wait and values.get("hold") == "true"):
        more = " Mend them, or write hold: true." if form.can_wait else ""
        sheet.trouble = f"Not saved: {form.name} with faults keeps every build from taking new copy.{more}"
        return _page(state, sheet, HTTPStatus.UNPROCESSABLE_ENTITY)
    if text != base:
        try:
            saving.replace(state.root, path, text, saving.digest(base))
        except saving.ChangedError:
            raise NotThereError(f"{path} was changed while it was saved. Go back and save again.") from None
    return see_other(f"{WRITE}{path.removeprefix('content/')}?done=saved")
