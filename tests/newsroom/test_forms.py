"""The form, the readers and the drafts know the same keys, and every field can be said in words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from sitegen.newsroom import asks, episodes, places, stories
from sitegen.newsroom.drafting import draft
from sitegen.newsroom.editing import Layout
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.forms import ASK, ASK_PARTS, DROP_OFF, FORMS, Entry, Form, Input, form_for, ordered
from sitegen.newsroom.records import Kind
from tests.newsroom import whole_station
from tests.samples.station_folder import write_folder

READERS: dict[str, tuple[str, ...]] = {
    "story": stories.STORY_KEYS,
    "place": places.PLACE_KEYS,
    "episode": episodes.EPISODE_KEYS,
    "page": episodes.PAGE_KEYS,
    "story/asks": asks.ASK_KEYS,
    "story/photo": stories.PHOTO_KEYS,
    "story/video": stories.VIDEO_KEYS,
    "story/corrections": stories.CORRECTION_KEYS,
    "story/withdrawn": stories.WITHDRAWN_KEYS,
    "story/asks/stopped": places.STOP_KEYS,
    "story/asks/goal": asks.GOAL_KEYS,
    "story/asks/contact": asks.CONTACT_KEYS,
    "story/asks/confirmed": asks.CONFIRMED_KEYS,
    "place/home": places.HOME_KEYS,
    "episode/video": (*stories.VIDEO_KEYS, "web_offset"),
    "episode/rundown": episodes.RUNDOWN_KEYS,
    "episode/promises": episodes.PROMISE_KEYS,
}


def groups(fields: tuple[Entry, ...], name: str) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    yield name, fields
    for entry in fields:
        if entry.fields:
            yield from groups(entry.fields, f"{name}/{entry.key}")


ALL = [each for form in FORMS.values() for each in groups(form.fields, form.kind)]
ENTRIES = [(f"{name}/{entry.key}", entry) for name, fields in ALL for entry in fields]


@pytest.mark.parametrize(("name", "fields"), ALL, ids=[name for name, _ in ALL])
def test_every_key_that_is_read_can_be_entered_and_no_other(name: str, fields: tuple[Entry, ...]) -> None:
    keys = [entry.key for entry in fields]
    if name.endswith(("/drop_off", "/where")):
        # A reference and a place written out, in one.
        assert set(keys) == {*places.REFERENCE_KEYS, *places.PLACE_KEYS, *places.WINDOW_KEYS}
        assert len(keys) == len(set(keys))
        return
    shorter = name.replace("/drop_off", "").replace("/where", "").replace("story/asks/home", "place/home")
    assert tuple(keys) == READERS[shorter]


def test_a_key_too_many_or_too_few_is_noticed() -> None:
    with pytest.raises(KeyError):
        ordered(("a", "b"), (Entry("a", "A"),))
    with pytest.raises(KeyError):
        ordered(("a",), (Entry("a", "A"), Entry("b", "B")))


@pytest.mark.parametrize(("name", "entry"), ENTRIES, ids=[name for name, _ in ENTRIES])
def test_every_field_has_words_and_what_its_control_needs(name: str, entry: Entry) -> None:
    assert entry.label and entry.label[0].isupper() and not entry.label.endswith((".", ":"))
    assert not entry.help or entry.help.endswith((".", "?"))
    assert bool(entry.fields) == (entry.input in (Input.GROUP, Input.GROUPS))
    assert bool(entry.one) == (entry.input is Input.GROUPS)
    assert not entry.choices or entry.input is Input.CHOICE
    assert entry.choices or entry.input is not Input.CHOICE or entry.key == "county"


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_every_field_stands_under_a_heading(form: Form) -> None:
    assert {entry.part for entry in form.fields} == set(form.parts)
    assert {entry.part for entry in ASK} == set(ASK_PARTS)


def test_every_kind_of_ask_has_its_fields() -> None:
    of = {kind: {entry.key for entry in ASK if kind in entry.kinds} for kind in Kind}
    assert all({"title", "kind", "contact"} <= keys for keys in of.values())
    for key, kinds in asks.ONLY_FOR.items():
        assert {kind for kind in Kind if key in of[kind]} == set(kinds)
    for kind in (Kind.BRING, Kind.GO, Kind.VOLUNTEER, Kind.GET_HELP):
        assert {"drop_off", "where"} & of[kind], f"places of {kind}"


def test_drafts_name_no_key_that_the_form_lacks(tmp_path: Path) -> None:
    newsroom = read_newsroom(write_folder(tmp_path), lambda text, counties: ((), ())).newsroom
    assert newsroom is not None
    known = {entry.key for _, entry in ENTRIES}
    base = {"headline": "A", "aired": "2026-11-21", "title": "B", "name": "C"}
    for kind in FORMS:
        for ask in Kind if kind == "story" else [None]:
            given = {
                key: base[key]
                for key in {
                    "story": ("headline", "aired"),
                    "place": ("name",),
                    "episode": ("aired",),
                    "page": ("title",),
                }[kind]
            }
            _, text = draft(kind, given | ({"kind": ask.value} if ask else {}), newsroom)
            front = text.split("\n---\n")[0] if kind != "place" else text
            keys = re.findall(r"^(?:# ?)? *(?:- )?([a-z_]+):(?: |$)", front, re.M)
            assert keys and set(keys) <= known, set(keys) - known
            first = next(key for key in keys if key != "kind")
            assert first == FORMS[kind].fields[0].key or kind == "episode"


def test_layouts_follow_the_readers() -> None:
    layout: Layout = FORMS["story"].layout
    assert tuple(layout.keys) == stories.STORY_KEYS
    assert layout.inside["asks"].is_open and not layout.inside["photo"].is_open
    assert tuple(layout.inside["asks"].inside["contact"].keys) == asks.CONTACT_KEYS
    assert DROP_OFF[0].key == "place"


@pytest.mark.parametrize("path", [f"content/{path}" for path in whole_station.FILES])
def test_every_kind_of_file_has_its_form(path: str) -> None:
    form = form_for(path)
    folder = path.split("/")[1]
    assert (form.folder if form else None) == (
        folder if folder in ("stories", "places", "episodes", "pages") else None
    )
