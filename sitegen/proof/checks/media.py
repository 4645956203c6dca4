"""Films and sound: captions, words for what is seen or heard, nothing that plays by itself.

What a film shows and says is not in a page's bytes. Where the page offers the usual help nothing is said; where it doesn't,
somebody must look.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element

CAPTIONS = Rule("video-captions", "1.2.2", "A", ("f51b46", "eac66b"))
VIDEO_WORDS = Rule("video-alternative", "1.2.3", "A", ("c5a4ea",))
SILENT_VIDEO_WORDS = Rule("silent-video-alternative", "1.2.1", "A", ("c3232f",))
AUDIO_WORDS = Rule("audio-alternative", "1.2.1", "A", ("e7aa44",))
PLAYS_BY_ITSELF = Rule("plays-by-itself", "1.4.2", "A", ("80f0bf",))

# The beginnings of "transcript" in the languages whose pages we know.
_TRANSCRIPT: Final = ("transcri", "transkri")


def _check(page: Page) -> Iterator[PageFinding]:
    films = [film for film in page.document.tagged("video") if _can_play(page, film)]
    sounds = [sound for sound in page.document.tagged("audio") if _can_play(page, sound)]
    if not films and not sounds:
        return
    has_transcript = any(
        any(beginning in page.names.name(link).lower() for beginning in _TRANSCRIPT)
        for tag in ("a", "summary", "h1", "h2", "h3", "h4", "button")
        for link in page.document.tagged(tag)
    )
    for film in films:
        if not any(_is_track(child, "captions") for child in film.children):
            yield page.unsure(
                CAPTIONS,
                film,
                "This film has no captions file; unless captions are part of its picture or it has no sound, it fails.",
                'Add a track element with kind="captions".',
            )
        if not has_transcript:
            for rule in (VIDEO_WORDS, SILENT_VIDEO_WORDS):
                yield page.unsure(
                    rule,
                    film,
                    "Nothing on this page says what the film shows.",
                    "Link to a transcript beside it.",
                )
    for sound in sounds:
        if not has_transcript:
            yield page.unsure(
                AUDIO_WORDS,
                sound,
                "Nothing on this page says what is heard here.",
                "Link to a transcript beside it.",
            )
    for medium in films + sounds:
        attrs = medium.attrs
        if "autoplay" in attrs and "muted" not in attrs and "controls" not in attrs:
            yield page.unsure(
                PLAYS_BY_ITSELF,
                medium,
                f"This {medium.tag} plays by itself and has no controls; past three seconds of sound it fails.",
                "Take away autoplay.",
            )


def _can_play(page: Page, medium: Element) -> bool:
    if not ("controls" in medium.attrs or "autoplay" in medium.attrs):
        return False
    # Sound needs no place on the screen to be heard.
    return page.semantics.is_rendered(medium) or (medium.tag == "audio" and "autoplay" in medium.attrs)


def _is_track(child: object, kind: str) -> bool:
    return (
        isinstance(child, Element)
        and child.tag == "track"
        and child.attrs.get("kind", "subtitles").strip(WHITESPACE).lower() == kind
        and bool(child.attrs.get("src", "").strip(WHITESPACE))
    )


FAMILY = Family((CAPTIONS, VIDEO_WORDS, SILENT_VIDEO_WORDS, AUDIO_WORDS, PLAYS_BY_ITSELF), _check)
