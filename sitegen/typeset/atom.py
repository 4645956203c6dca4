"""Feeds as Atom (RFC 4287): whole stories with what is asked and until when, for people who read elsewhere.

A feed is XML made by the standard library; the stories in it are HTML, made of the same words as the pages. Links are
absolute, for a reader shows a story on a page of its own.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from functools import lru_cache
from xml.etree import ElementTree

from markupsafe import Markup, escape

from sitegen.edition.models import Body, PictureView
from sitegen.edition.outlets import FeedAsk, FeedEntry, FeedFile
from sitegen.newsroom.records import Kind
from sitegen.newsroom.slugs import slug
from sitegen.typeset.addresses import absolute
from sitegen.typeset.dates import Dates
from sitegen.typeset.markdown import render_body
from sitegen.typeset.timing import timing_lines
from sitegen.typeset.words import base_of, sentence

NAMESPACE = "http://www.w3.org/2005/Atom"
_LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
# All but XML 1.0's production 2: they cannot stand in a document at all. To compile the negation of that would take a hundredth of
# a second.
_NOT_XML = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")

Speaker = Callable[[str], Dates]
"""The words and dates of the theme for a language, or of the station's language where the theme does not speak it."""
Sizes = Callable[[str], int | None]
"""How many bytes the published file at a site address has; None where that is not known."""


def feed_bytes(feed: FeedFile, speaker: Speaker, size_of: Sizes) -> bytes:
    """The feed as XML, UTF-8."""
    frame = feed.frame
    dates = speaker(frame.language)
    root = ElementTree.Element("feed", {"xmlns": NAMESPACE, _LANGUAGE: frame.language})
    _add(root, "id", absolute(frame.address, feed.address))
    _add(root, "title", feed_title(feed, dates))
    page = feed.county.address if feed.county is not None else ""
    _link(root, "self", frame.address, feed.address, "application/atom+xml")
    _link(root, "alternate", frame.address, page, "text/html")
    _add(root, "updated", _instant(feed.updated))
    author = ElementTree.SubElement(root, "author")
    _add(author, "name", frame.station)
    _add(author, "uri", frame.address)
    if frame.email:
        _add(author, "email", frame.email)
    for entry in feed.entries:
        _entry(root, entry, frame.address, speaker, size_of)
    ElementTree.indent(root, " ")
    return bytes(ElementTree.tostring(root, encoding="utf-8", xml_declaration=True)) + b"\n"


def feed_title(feed: FeedFile, dates: Dates) -> str:
    """The programme's name, after the county's where the feed is of one."""
    frame = feed.frame
    if feed.county is None:
        return frame.programme
    name = feed.county.label
    area = dates.words.known(f"area.{frame.area_word}", frame.area_word)
    said = (
        dates.words.say("county.name", name=name, area=area.capitalize())
        if name
        else dates.words.say("county.beyond")
    )
    return f"{said} | {frame.programme}"


def _entry(root: ElementTree.Element, entry: FeedEntry, base: str, speaker: Speaker, size_of: Sizes) -> None:
    dates = speaker(entry.language)
    said = ElementTree.SubElement(root, "entry", {_LANGUAGE: entry.language})
    _add(said, "id", entry.id)
    _add(said, "title", entry.headline)
    _link(said, "alternate", base, entry.address, "text/html")
    if entry.photo is not None:
        _enclosure(said, entry.photo, base, dates, size_of)
    _add(said, "published", _instant(entry.published))
    _add(said, "updated", _instant(entry.updated))
    if entry.reporter:
        _add(ElementTree.SubElement(said, "author"), "name", entry.reporter)
    for topic in entry.topics:
        ElementTree.SubElement(said, "category", {"term": slug(topic.label), "label": _plain(topic.label)})
    # Readers often show the summary alone, and who paid must not be lost there.
    sponsor = dates.words.say("story.sponsored", name=entry.sponsored_by) if entry.sponsored_by else ""
    summary = " ".join(part for part in (sponsor, entry.summary) if part)
    if summary:
        _add(said, "summary", summary)
    content = _add(said, "content", entry_html(entry, base, dates))
    content.set("type", "html")


def _add(parent: ElementTree.Element, name: str, text: str) -> ElementTree.Element:
    child = ElementTree.SubElement(parent, name)
    child.text = _plain(text)
    return child


def _link(parent: ElementTree.Element, relation: str, base: str, address: str, media_type: str) -> None:
    ElementTree.SubElement(
        parent, "link", {"rel": relation, "type": media_type, "href": absolute(base, address)}
    )


def _enclosure(
    parent: ElementTree.Element, photo: PictureView, base: str, dates: Dates, size_of: Sizes
) -> None:
    """The story's picture; its title is what people hear who do not see it, and whom it is owed to."""
    owed = [
        dates.words.say(f"picture.{key}", name=name)
        for key, name in (("credit", photo.credit), ("courtesy", photo.courtesy))
        if name
    ]
    attributes = {
        "rel": "enclosure",
        "type": "image/jpeg",
        "href": absolute(base, photo.address),
        "title": _plain(" ".join([sentence(photo.alt), *owed])),
    }
    size = size_of(photo.address)
    if size is not None:
        attributes["length"] = str(size)
    ElementTree.SubElement(parent, "link", attributes)


def _plain(text: str) -> str:
    return _NOT_XML.sub("", text)


def _instant(moment: datetime) -> str:
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


# --- a story as HTML ---------------------------------------------------------------------------


def entry_html(entry: FeedEntry, base: str, dates: Dates) -> str:
    """The whole story as HTML with absolute links: who paid, what was corrected, what one can do, and what was told."""
    words = dates.words
    # The theme may not speak the story's language; its own words then say which one they are in.
    foreign = base_of(words.language) != base_of(entry.language)
    mark = Markup(' lang="{}"').format(words.language) if foreign else Markup("")
    story_mark = Markup(' lang="{}"').format(entry.language) if foreign else Markup("")
    parts: list[Markup] = []

    def paragraph(text: Markup | str) -> None:
        parts.append(Markup("<p{}>{}</p>").format(mark, text))

    aired = "story.aired_some_ended" if entry.some_ended else "story.aired"
    paragraph(words.say(aired, moment=dates.day(entry.aired.day, year=True)))
    if entry.sponsored_by:
        paragraph(words.say("story.sponsored", name=entry.sponsored_by))
    for correction in entry.corrections:
        kind = words.say(f"correction.{correction.kind.value}")
        day = dates.day(correction.date, year=True)
        paragraph(Markup("<b>{}, {}:</b> <span{}>{}</span>").format(kind, day, story_mark, correction.text))
    page = Markup('<a href="{}">{}</a>').format(absolute(base, entry.address), words.say("feed.page"))
    if entry.asks:
        parts.append(Markup("<h2{}>{}</h2>").format(mark, words.say("story.do")))
        parts.append(_asks(entry.asks, base, dates, mark, story_mark))
        if any(ask.kind is Kind.GIVE for ask in entry.asks):
            paragraph(words.say("care.check"))
    if entry.help:
        parts.append(Markup("<h2{}>{}</h2>").format(mark, words.say("help.heading")))
        parts.append(_asks(entry.help, base, dates, mark, story_mark))
    if entry.asks or entry.help:
        paragraph(escape(words.form("feed.where")).format(page=page))
    parts.append(_body(entry.body, entry.address, base))
    return "\n".join(part for part in parts if part)


@lru_cache(maxsize=512)
def _body(body: Body, address: str, base: str) -> Markup:
    """A story's body as HTML. Kept: the newest stories stand in the station's feed and in those of their counties."""
    return Markup(render_body(body, address, 2, base=base)).strip()


def _asks(asks: Iterable[FeedAsk], base: str, dates: Dates, mark: Markup, story_mark: Markup) -> Markup:
    rows = [
        Markup('<li{}>{}: <a href="{}"{}>{}</a>. {}</li>').format(
            mark,
            dates.words.say(f"kind.{ask.kind.name.lower()}"),
            absolute(base, ask.address),
            story_mark,
            ask.title,
            " ".join(sentence(line) for line in timing_lines(ask.timing, dates)),
        )
        for ask in asks
    ]
    return Markup("<ul>\n{}\n</ul>").format(Markup("\n").join(rows))
