"""Which pictures and videos may be shown, and the names of the files derived for them.

A derived file's name is a digest of its source and the recipe, so it changes exactly when either does.
"""

from __future__ import annotations

import hashlib
from functools import lru_cache
from typing import TypeAlias

from sitegen.clock.stories import rights_run
from sitegen.edition import addresses
from sitegen.edition.models import (
    Asset,
    CopyAsset,
    PictureAsset,
    PictureSource,
    PictureView,
    TranscriptLine,
    VideoView,
)
from sitegen.edition.published import Published
from sitegen.newsroom.records import Captions, Photo, Picture, Video

WIDTHS = (480, 960, 1600)
"""Pixels: a phone, a phone's sharp screen or the text column, and the column on a sharp screen."""
PLAIN_WIDTH = 960
"""The widest file for programs that cannot choose, and for posters."""
SCREEN = (16, 9)
"""The shape of a television picture. A poster is cut to it, so that nothing moves when the video begins."""
FORMATS = (("image/webp", "webp"), ("image/jpeg", "jpg"))
"""(media type, ending of the name), best first."""
RECIPE = "webp-75 jpeg-82 2"
"""Formats, qualities and the version of the way pictures are made."""
SPEECH = 45_000
"""Milliseconds after which a new line of the transcript begins although the same person speaks."""

Box: TypeAlias = tuple[int, int, int, int]
"""(left, top, right, bottom) in pixels of the upright picture."""


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
        self._focus: dict[str, tuple[float, float]] = {}
        for each in published.stories.values():
            if each.story.photo is not None and each.story.photo.picture is not None:
                self._focus.setdefault(each.story.photo.picture.digest, each.story.photo.focus)

    def _allowed(self, photo: Photo) -> bool:
        if photo.air_only or (photo.children and not photo.consent):
            return False
        return self.published.until(rights_run(photo.rights_end, self.published.as_of, self.published.zone))

    def photo(self, photo: Photo | None) -> PictureView | None:
        """A photo's view, or None where it may not be shown: no words for it, air only, rights over,
        children without consent."""
        if photo is None or photo.picture is None or not photo.alt or not self._allowed(photo):
            return None
        picture = photo.picture
        sizes = widths(picture.width)
        sources = tuple(
            PictureSource(
                media_type,
                tuple((self._derived(picture, width, media_type, ending), width) for width in sizes),
            )
            for media_type, ending in FORMATS
        )
        plain = max(width for width in sizes if width <= PLAIN_WIDTH)
        widest = sizes[-1]
        return PictureView(
            address=next(address for address, width in sources[-1].files if width == plain),
            width=widest,
            height=height_for(widest, picture.width, picture.height),
            alt=photo.alt,
            credit=photo.credit,
            courtesy=photo.courtesy,
            sources=sources,
            original=picture.digest,
        )

    def _poster(self, picture: Picture) -> PictureView:
        """A video's poster: the largest part of the picture in the shape of a screen, around its focus."""
        box = screen_box(picture.width, picture.height, self._focus.get(picture.digest, (0.5, 0.5)))
        width = min(box[2] - box[0], PLAIN_WIDTH)
        address = self._derived(picture, width, *FORMATS[-1], box)
        return PictureView(
            address, width, height_for(width, box[2] - box[0], box[3] - box[1]), "", original=picture.digest
        )

    def _derived(
        self, picture: Picture, width: int, media_type: str, ending: str, box: Box | None = None
    ) -> str:
        """The address of a derived file, which is remembered."""
        name = _name(picture.digest, box)
        address = f"{addresses.PICTURES}{name}-{width}.{ending}"
        left, top, right, bottom = box or (0, 0, picture.width, picture.height)
        height = height_for(width, right - left, bottom - top)
        self.assets[address] = PictureAsset(
            address, picture.file, picture.digest, width, height, media_type, box
        )
        return address

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
            poster = self._poster(video.poster)
        view = VideoView(
            video.file, address, language, poster, video.runs, video.described, video.courtesy, transcript(video.captions)
        )  # fmt: skip
        return view, False

    def _captions(self, captions: Captions) -> str:
        address = f"{addresses.CAPTIONS}{captions.digest[:20]}.vtt"
        self.assets[address] = CopyAsset(address, captions.file, captions.digest)
        return address


@lru_cache(maxsize=16)
def _name(digest: str, box: Box | None) -> str:
    """What the files derived of a picture, or of a part of it, have in common; asked for each of them in turn."""
    return hashlib.sha256(f"{digest} {RECIPE} {box}".encode()).hexdigest()[:20]


def widths(source: int) -> tuple[int, ...]:
    """The widths to derive of a picture so many pixels wide, ascending; none is wider than the picture."""
    return (*(width for width in WIDTHS if width < source), source) if source < WIDTHS[-1] else WIDTHS


def height_for(width: int, source_width: int, source_height: int) -> int:
    """The height, 1 or more, that keeps a picture's shape at a width."""
    return max(1, (source_height * width + source_width // 2) // source_width)


def screen_box(width: int, height: int, focus: tuple[float, float]) -> Box:
    """The largest part of a picture in the shape of a screen, with the point of interest as near its middle
    as the picture's edges allow."""
    across, down = SCREEN
    box_width = max(1, min(width, height * across // down))
    box_height = max(1, min(height, width * down // across))
    left = min(max(round(width * focus[0] - box_width / 2), 0), width - box_width)
    top = min(max(round(height * focus[1] - box_height / 2), 0), height - box_height)
    return left, top, left + box_width, top + box_height


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
