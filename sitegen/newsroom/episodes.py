"""Reading episodes (content/episodes/*.md) and station pages (content/pages/*.md)."""

from __future__ import annotations

from sitegen.newsroom.context import Context
from sitegen.newsroom.fields import Fields
from sitegen.newsroom.galley import set_body
from sitegen.newsroom.matter import Matter
from sitegen.newsroom.nodes import Scalar, Sequence
from sitegen.newsroom.records import Episode, Promise, RundownEntry, StationPage, When
from sitegen.newsroom.station import is_language
from sitegen.newsroom.stories import NO_DAY, read_video

EPISODE_KEYS = ("aired", "repeats", "hold", "title", "video", "rundown", "promises", "desk")
RUNDOWN_KEYS = ("time", "story")
PROMISE_KEYS = ("time", "said", "kept_by")
PAGE_KEYS = ("title", "summary", "language", "desk")


def read_episode(matter: Matter, path: str, episode_id: str, context: Context) -> Episode | None:
    """An episode's record; None without an air date. That its stories exist is checked by the folder's reader."""
    if matter.node is None:
        return None
    fields = Fields(matter.node, path, context.findings, EPISODE_KEYS, "an episode")
    fields.require("aired", "2026-11-21 18:30")
    aired = fields.when("aired", context.zone)
    fields.near = aired.day if aired is not None else None
    rundown: list[RundownEntry] = []
    for group in fields.groups("rundown", RUNDOWN_KEYS, "a rundown entry", "story"):
        if group.require("story", "2026/coat-closet"):
            rundown.append(RundownEntry(group.text("story"), group.seconds("time"), group.origin))
    promises: list[Promise] = []
    for group in fields.groups("promises", PROMISE_KEYS, "a promise", "said"):
        if group.require("said", "the list of places is on our website"):
            promises.append(
                Promise(group.text("said"), group.seconds("time"), group.text("kept_by"), group.origin)
            )
    galley, links = set_body(matter.body, matter.body_line)
    episode = Episode(
        id=episode_id,
        aired=aired or When(NO_DAY),
        title=fields.text("title"),
        repeats=_repeats(fields, context),
        hold=fields.flag("hold"),
        video=read_video(fields, context, episode=True),
        rundown=tuple(rundown),
        promises=tuple(promises),
        body=matter.body,
        body_line=matter.body_line,
        galley=galley,
        links=links,
        origin=fields.origin,
    )
    return episode if aired is not None else None


def _repeats(fields: Fields, context: Context) -> tuple[When, ...]:
    node = fields.node("repeats")
    if node is None:
        return ()
    found: list[When] = []
    for item in node.items if isinstance(node, Sequence) else (node,):
        if isinstance(item, Scalar):
            when = fields.when_of("repeats", item, context.zone)
            if when is not None:
                found.append(when)
        else:
            fields.fault(
                "repeats",
                "wrong-shape",
                "'repeats' must be a list of dates and times.",
                "Write: repeats: [2026-11-22 09:00]",
            )
    return tuple(sorted(found, key=lambda when: when.order))


def read_page(matter: Matter, path: str, page_id: str, context: Context) -> StationPage | None:
    """A station page's record; its title is the written one."""
    if matter.node is None:
        return None
    fields = Fields(matter.node, path, context.findings, PAGE_KEYS, "a station page")
    fields.require("title", "About us")
    language = fields.text("language")
    if language and not is_language(language):
        fields.fault(
            "language", "language", f"'{language}' is not a language tag.", "Write, for example: language: es"
        )
    galley, links = set_body(matter.body, matter.body_line)
    page = StationPage(
        id=page_id,
        title=fields.text("title"),
        summary=fields.text("summary"),
        language=language,
        body=matter.body,
        body_line=matter.body_line,
        galley=galley,
        links=links,
        origin=fields.origin,
    )
    return page if page.title else None
