"""Names: what a listener hears for each picture, link, button, field, frame and heading."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from typing import Final
from urllib.parse import unquote, urlsplit

from sitegen.proof.aria import FIELDS, LINKS
from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element
from sitegen.proof.semantics import input_type, is_summary_of_its_details

PICTURE = Rule("picture-name", "1.1.1", "A", ("23a2a8",))
FILE_NAME = Rule("picture-file-name", "1.1.1", "A", ("9eb3f6",))
DRAWING = Rule("drawing-name", "1.1.1", "A", ("7d6734",))
IMAGE_BUTTON = Rule("image-button-name", "1.1.1", "A", ("59796f",))
OBJECT = Rule("object-name", "1.1.1", "A", ("8fc3b6",))
LINK = Rule("link-name", "2.4.4", "A", ("c487ae",))
BUTTON = Rule("button-name", "4.1.2", "A", ("97a4e1",))
SUMMARY = Rule("summary-name", "4.1.2", "A", ("2t702h",))
MENU_ITEM = Rule("menuitem-name", "4.1.2", "A", ("m6b1q3",))
FIELD = Rule("field-name", "4.1.2", "A", ("e086e5",))
UNMAPPED_FIELD = Rule("field-label", "1.3.1", "A")
FRAME = Rule("frame-name", "4.1.2", "A", ("cae760",))
HEADING = Rule("heading-name", "1.3.1", "A", ("ffd0e9",))


def _check(page: Page) -> Iterator[PageFinding]:
    yield from _pictures(page)
    yield from _links(page)
    yield from _buttons(page)
    yield from _fields(page)
    yield from _frames(page)
    name = page.names.name
    for heading in page.with_role("heading", "h1", "h2", "h3", "h4", "h5", "h6"):
        if not name(heading):
            yield page.fails(
                HEADING, heading, "This heading is empty.", "Write what the part below it is about."
            )


def _pictures(page: Page) -> Iterator[PageFinding]:
    document, semantics, name = page.document, page.semantics, page.names.name
    roled = document.having("role")
    pictures = document.tagged("img")
    for picture in [*pictures, *(e for e in roled if e.tag != "img")] if roled else pictures:
        if picture.namespace != "html" or semantics.role(picture) != "img" or picture.tag == "object":
            continue
        words = name(picture)
        if semantics.is_hidden(picture):
            continue
        if not words:
            yield page.fails(
                PICTURE,
                picture,
                "This picture has no alternative text.",
                'Say what it shows in alt, or write alt="" where it only decorates.',
            )
        elif picture.tag == "img":
            yield from _file_name(page, picture, words)
    for drawing in roled:
        if (
            drawing.namespace == "svg"
            and semantics.role(drawing) in {"img", "graphics-document", "graphics-symbol"}
            and not semantics.is_hidden(drawing)
            and not name(drawing)
        ):
            yield page.fails(
                DRAWING,
                drawing,
                "This drawing has a role but no name.",
                "Give it a title element or an aria-label.",
            )
    for thing in document.tagged("object"):
        yield from _object(page, thing)


_PICTURE_ENDING: Final = re.compile(r"\.(?:avif|bmp|gif|ico|jpe?g|jfif|png|svg|tiff?|webp)\Z", re.IGNORECASE)
# A camera's or a program's own numbering, or a checksum: digits and letters that are no word in any language.
_NO_LANGUAGE: Final = re.compile(
    r"(?=.*\d)(?:[0-9a-f]{8,}|[a-z]{0,4}[-_ ]?\d{3,}[-_\d]*|[\d\W_]+)\Z", re.IGNORECASE
)


def _file_name(page: Page, picture: Element, words: str) -> Iterator[PageFinding]:
    spoken = words.lower()
    written = _written(picture)
    if "%" not in written and spoken not in written.lower():
        return
    files = {file.lower() for file in _files(picture)}
    stems = {_PICTURE_ENDING.sub("", file) for file in files}
    if spoken not in files and spoken not in stems:
        return
    if _PICTURE_ENDING.search(spoken) or _NO_LANGUAGE.match(spoken):
        yield page.fails(
            FILE_NAME,
            picture,
            f'The alternative text is a file\'s name: "{words}".',
            "Say what the picture shows.",
        )
    else:
        yield page.unsure(
            FILE_NAME,
            picture,
            f'The alternative text is also the file\'s name: "{words}".',
            "Make sure that it says what the picture shows.",
        )


def _sources(picture: Element) -> list[str]:
    """What `srcset` says of a picture, on it and on the sources it may be taken from."""
    written = [picture.attrs.get("srcset", "")]
    if picture.parent is not None and picture.parent.tag == "picture":
        written += [
            source.attrs.get("srcset", "")
            for source in picture.parent.children
            if isinstance(source, Element) and source.tag == "source"
        ]
    return written


def _written(picture: Element) -> str:
    return " ".join([picture.attrs.get("src", ""), *_sources(picture)])


def _files(picture: Element) -> Iterator[str]:
    written = [picture.attrs.get("src", "")]
    for srcset in _sources(picture):
        written += _candidates(srcset)
    for address in written:
        try:
            yield posixpath.basename(unquote(urlsplit(address.strip(WHITESPACE)).path))
        except ValueError:
            continue


def _candidates(srcset: str) -> list[str]:
    return [words[0] for part in srcset.split(", ") if (words := part.split())]


_EMBEDDED: Final = re.compile(
    r"\.(?:avif|bmp|gif|jpe?g|png|svg|webp|mp3|m4a|oga|ogg|opus|wav|flac|mp4|m4v|mov|ogv|webm)\Z",
    re.IGNORECASE,
)


def _object(page: Page, thing: Element) -> Iterator[PageFinding]:
    if "role" in thing.attrs and page.semantics.written_role(thing) not in ("", "none"):
        return
    address, kind = (
        thing.attrs.get("data", "").strip(WHITESPACE),
        thing.attrs.get("type", "").strip(WHITESPACE).lower(),
    )
    if not address or page.semantics.is_hidden(thing):
        return
    if page.semantics.written_role(thing) == "none" and not page.semantics.keeps_its_role(thing):
        return
    try:
        path = urlsplit(address).path
    except ValueError:
        return
    media = kind.startswith(("image/", "audio/", "video/")) or (
        not kind and _EMBEDDED.search(path) is not None
    )
    if media and not page.names.name(thing):
        yield page.fails(
            OBJECT, thing, "This object has no name.", "Say in aria-label or title what it holds."
        )


def _links(page: Page) -> Iterator[PageFinding]:
    links = page.with_role("link", "a", "area")
    if page.document.having("role"):
        links = [*links, *(link for role in LINKS[1:] for link in page.with_role(role))]
    for link, name in zip(links, page.names.of(links), strict=True):
        if not name:
            yield page.fails(LINK, link, "This link has no name.", "Put words in it that say where it leads.")


def _buttons(page: Page) -> Iterator[PageFinding]:
    name = page.names.name
    for button in page.with_role("button", "button", "input"):
        is_picture = button.tag == "input" and input_type(button) == "image"
        if not name(button):
            if is_picture:
                yield page.fails(
                    IMAGE_BUTTON, button, "This image button has no name.", "Say in alt what it does."
                )
            else:
                yield page.fails(
                    BUTTON, button, "This button has no name.", "Put words in it that say what it does."
                )
    for summary in page.document.tagged("summary"):
        if (
            is_summary_of_its_details(summary)
            and page.semantics.role(summary) == ""
            and not page.semantics.is_hidden(summary)
            and not name(summary)
        ):
            yield page.fails(SUMMARY, summary, "This summary is empty.", "Say in it what opening it shows.")
    for item in page.with_role("menuitem"):
        if not name(item):
            yield page.fails(
                MENU_ITEM, item, "This menu item has no name.", "Put words in it that say what it does."
            )


def _fields(page: Page) -> Iterator[PageFinding]:
    document, semantics, name = page.document, page.semantics, page.names.name
    fields = document.tagged("input", "select", "textarea")
    for field in [
        *fields,
        *(e for e in document.having("role") if e.tag not in {"input", "select", "textarea"}),
    ]:
        role = semantics.role(field)
        if role in FIELDS:
            if not semantics.is_hidden(field) and not name(field):
                yield page.fails(FIELD, field, "This field has no name.", "Give it a label element.")
        elif (
            field.tag == "input"
            and role == ""
            and input_type(field) != "hidden"
            and not semantics.is_hidden(field)
            and not name(field)
        ):
            yield page.fails(UNMAPPED_FIELD, field, "This field has no label.", "Give it a label element.")


def _frames(page: Page) -> Iterator[PageFinding]:
    for frame in page.document.tagged("iframe"):
        if not page.semantics.takes_tab_focus(frame) or page.semantics.is_hidden(frame):
            continue
        if page.semantics.written_role(frame) == "none":  # marked as decoration; another rule sees to that
            continue
        if not page.names.name(frame):
            yield page.fails(FRAME, frame, "This frame has no name.", "Say in title what it holds.")


FAMILY = Family(
    (
        PICTURE,
        FILE_NAME,
        DRAWING,
        IMAGE_BUTTON,
        OBJECT,
        LINK,
        BUTTON,
        SUMMARY,
        MENU_ITEM,
        FIELD,
        UNMAPPED_FIELD,
        FRAME,
        HEADING,
    ),
    _check,
)
