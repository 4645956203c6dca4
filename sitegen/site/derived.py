"""Pictures derived once and kept between builds, by what they are made from and how."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from sitegen.edition.models import PictureAsset
from sitegen.typeset.cards import Card, draw_card
from sitegen.typeset.pictures import Wanted, derive


class DerivedStore:
    """A folder of derived pictures; without one, every picture is made anew.

    A file's name holds the digest of source and recipe (from the asset's address) and the picture library's
    version, and a file beside it the digest of its bytes: so a kept file is right, has another name, or is damaged and
    made anew. A store that cannot be written to is no error: the pictures are then made each time.
    """

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder

    def pictures(self, source: Path, assets: Sequence[PictureAsset]) -> list[bytes | Path]:
        """Each picture's bytes, or the kept file that holds them. All are of one source and one part of it.

        When one is not kept all are made: each size is made of the next larger one, and bytes must not hang
        on which of them a folder had. Raises PictureError when the source cannot be decoded,
        or is no longer the file that the assets are named for.
        """
        kept = [self._place(asset.address) for asset in assets]
        there = [place for place in kept if place is not None and _is_whole(place)]
        if len(there) == len(assets):
            return list(there)
        wanted = [Wanted(asset.width, asset.height, asset.media_type) for asset in assets]
        made = derive(source, wanted, assets[0].box, assets[0].digest)
        return [self._keep(place, data) for place, data in zip(kept, made, strict=True)]

    def card(self, card: Card) -> bytes | Path:
        """A share picture's bytes, or the kept file that holds them."""
        place = self._place(card.address)
        if place is not None and _is_whole(place):
            return place
        return self._keep(place, draw_card(card))

    def _place(self, address: str) -> Path | None:
        if self.folder is None:
            return None
        from PIL import __version__ as library

        name = Path(address)
        return self.folder / f"{name.stem}-{library}{name.suffix}"

    def _keep(self, place: Path | None, data: bytes) -> bytes | Path:
        """The file in which some bytes are now kept, or the bytes when they cannot be."""
        if place is None:
            return data
        part = place.with_name(f".{place.name}.{os.getpid()}.part")
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            # The digest last: killed in between, the file is taken for damaged.
            for target, body in ((place, data), (_digest_of(place), _digest(data))):
                part.write_bytes(body)
                part.replace(target)
        except OSError:
            with suppress(OSError):
                part.unlink()
            return data
        return place


def _is_whole(file: Path) -> bool:
    """A kept file is there, with the bytes it was given."""
    try:
        return _digest_of(file).read_bytes() == _digest(file.read_bytes())
    except OSError:
        return False


def _digest_of(file: Path) -> Path:
    return file.with_name(f"{file.name}.sha256")


def _digest(data: bytes) -> bytes:
    return sha256(data).hexdigest().encode()
