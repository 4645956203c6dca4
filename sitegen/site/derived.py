"""Pictures derived once and kept between builds, by what they are made from and how."""

from __future__ import annotations

import os
from pathlib import Path

from sitegen.edition.models import PictureAsset
from sitegen.typeset.pictures import derive


class DerivedStore:
    """A folder of derived pictures; without one, every picture is made anew.

    A file's name holds the digest of source and recipe (from the asset's address) and the picture library's
    version, so a kept file is right or has another name. A store that cannot be written to is no error:
    the pictures are then made each time.
    """

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder

    def picture(self, source: Path, asset: PictureAsset) -> bytes:
        """The picture's bytes. Raises PictureError when the source cannot be decoded."""
        from PIL import __version__ as library

        if self.folder is None:
            return derive(source, asset.width, asset.height)
        name = Path(asset.address)
        kept = self.folder / f"{name.stem}-{library}{name.suffix}"
        try:
            data = kept.read_bytes()
            if data:
                return data
        except OSError:
            pass
        data = derive(source, asset.width, asset.height)
        part = kept.with_name(f".{kept.name}.{os.getpid()}.part")
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            part.write_bytes(data)
            part.replace(kept)
        except OSError:
            part.unlink(missing_ok=True)
        return data
