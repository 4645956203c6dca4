"""Taking in a picture: asked for its words, credit and consent, made anew from its pixels, stored under a plain name."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from sitegen.desk.exchange import Upload
from sitegen.desk.write.saving import create_picture
from sitegen.newsroom.pictures import MOST_BYTES, PictureError
from sitegen.typeset.pictures import fresh_copy

MOST_SIDE = 3000
"""Pixels of the longer side that is kept: more than any page shows."""


def missing(said: Mapping[str, str]) -> dict[str, str]:
    """What must be said of a picture before it is taken in, by key of the photo: problems in plain words."""
    problems: dict[str, str] = {}
    if not said.get("alt", "").strip():
        problems["alt"] = "Say what the picture shows, for people who do not see it."
    if not said.get("credit", "").strip():
        problems["credit"] = "Say who took it."
    children = said.get("children", "")
    if children not in ("true", "false"):
        problems["children"] = "Say whether children can be recognized in it."
    elif children == "true" and not said.get("consent", "").strip():
        problems["consent"] = (
            "Children can be recognized: say where the consent of those who care for them is kept."
        )
    return problems


def take_in(root: Path, upload: Upload) -> str:
    """The name in content/photos under which a picture now lies. Raises PictureError for what cannot be one of ours, and what
    `create_picture` raises.

    What is stored is a new JPEG: position, names and all other data of the file are gone.
    """
    if not upload.data:
        raise PictureError("The picture is empty: it has no bytes.", "Choose it again.")
    if len(upload.data) > MOST_BYTES:
        raise PictureError(f"The picture has more than {MOST_BYTES // 1048576} MB.", "Export it smaller.")
    return create_picture(root, upload.name, fresh_copy(upload.data, MOST_SIDE))
