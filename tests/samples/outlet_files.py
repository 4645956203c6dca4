"""What leaves an edition besides its pages, and chosen pages, as bytes: for tests that look at many moments."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import Edition, File, Page
from sitegen.newsroom.records import Newsroom
from sitegen.typeset.pages import Typesetter, output_path
from sitegen.typeset.theme import load_theme

CHECKOUT = Path(__file__).parents[2]


class Outlets:
    """Sets the editions of one station. Models that stay the same from moment to moment are set once."""

    def __init__(self, newsroom: Newsroom) -> None:
        self.newsroom = newsroom
        self._typesetter = Typesetter(load_theme(CHECKOUT, newsroom.station.theme), newsroom.station.language)
        self._set: dict[Page | File, bytes] = {}

    def edition(self, moment: datetime) -> Edition:
        return compose_edition(self.newsroom, moment).edition

    def files(self, edition: Edition) -> dict[str, bytes]:
        """What is not a page, by site address; what scripts fetch first under the name without a digest."""
        found = {file.address: self._bytes(file) for file in edition.files}
        for file in edition.files:
            found |= self._typesetter.parts(file)
        return found

    def pages(self, edition: Edition, wanted: Callable[[Page], bool] = lambda page: True) -> dict[str, bytes]:
        """The pages that are wanted, by the paths of their files."""
        return {output_path(page.address): self._bytes(page) for page in edition.pages if wanted(page)}

    def _bytes(self, model: Page | File) -> bytes:
        if model not in self._set:
            if isinstance(model, File):
                self._set[model] = self._typesetter.file(model)
            else:
                self._set[model] = self._typesetter.page(model)
        return self._set[model]
