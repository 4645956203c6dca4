"""Which pictures and videos may be shown, and the names of the files derived for them.

A derived file's name is a digest of its source and the recipe, so it changes exactly when either does.
"""

from __future__ import annotations

import hashlib

from sitegen.clock.stories import rights_run
from sitegen.edition import addresses
from sitegen.edition.models import Asset, CopyAsset, PictureAsset, PictureView, TranscriptLine, VideoView
from sitegen.edition.published import Published
from sitegen.newsroom.records import Captions, Photo, Picture, Video

WIDEST = 1280
"""Pixels; twice the text measure of the widest layout."""
RECIPE = "jpeg-82-1"
"""Format, quality and the version of the way pictures are made."""
SPEECH = 45_000
"""Milliseconds after which a new line of the transcript begins although the same person speaks."""


class Gallery:
    """Views of pictures and videos; remembers the files they need."""

    def __init__(self, published: Published) -> None:
        self.published = published
        self.assets: dict[str, Asset] = {}
        photos = (story.photo for story in published.newsroom.stories)
        # A picture that may not be shown as a photo may not come back as some video's poster either.
        self._barred = {
            photo.picture.digest
            for photo in photos
            if photo is not None and photo.picture and not self._allowed(photo)
        }

    def _allowed(self, photo: Photo) -> bool:
        if photo.air_only or (photo.children and not photo.consent):
            return False
        return self.published.until(rights_run(photo.rights_end, self.published.as_of, self.published.zone))

    def photo(self, photo: Photo | None) -> PictureView | None:
        """A photo's view, or None where it may not be shown: no words for it, air only, rights over,
        children without consent."""
        if photo is None or photo.picture is None or not photo.alt or not self._allowed(photo):
            return None
        return self._picture(photo.picture, photo.alt, photo.credit, photo.courtesy, photo.focus)

    def _picture(
        self,
        picture: Picture,
        alt: str,
        credit: str = "",
        courtesy: str = "",
        focus: tuple[float, float] = (0.5, 0.5),
    ) -> PictureView:
        width = min(picture.width, WIDEST)
        height = max(1, (picture.height * width + picture.width // 2) // picture.width)
        name = hashlib.sha256(f"{picture.digest} {RECIPE} {width}x{height}".encode()).hexdigest()[:20]
        address = f"{addresses.PICTURES}{name}.jpg"
        self.assets[address] = PictureAsset(address, picture.file, width, height)
        return PictureView(address, width, height, alt, credit, courtesy, focus)

    def video(
        self, video: Video | None, language: str, allowed: bool = True
    ) -> tuple[VideoView | None, bool]:
        """A video's view, and whether one waits for its captions."""
        if video is None or video.air_only or not allowed:
            return None, False
        if not self.published.until(rights_run(video.rights_end, self.published.as_of, self.published.zone)):
            return None, False
        if video.captions is None:
            return None, True
        address = self._captions(video.captions)
        poster = None
        if video.poster is not None and video.poster.digest not in self._barred:
            poster = self._picture(video.poster, "")
        view = VideoView(
            video.file, address, language, poster, video.runs, video.described, video.courtesy, transcript(video.captions)
        )  # fmt: skip
        return view, False

    def _captions(self, captions: Captions) -> str:
        address = f"{addresses.CAPTIONS}{captions.digest[:20]}.vtt"
        self.assets[address] = CopyAsset(address, captions.file, captions.digest)
        return address


def transcript(captions: Captions) -> tuple[TranscriptLine, ...]:
    """The captions as lines to read: one for each speaker's turn."""
    lines: list[TranscriptLine] = []
    began = 0
    for cue in captions.cues:
        last = lines[-1] if lines else None
        if last is not None and last.speaker == cue.speaker and cue.start - began < SPEECH:
            lines[-1] = TranscriptLine(last.start, last.speaker, f"{last.text} {cue.text}")
        else:
            began = cue.start
            lines.append(TranscriptLine(cue.start // 1000, cue.speaker, cue.text))
    return tuple(lines)
