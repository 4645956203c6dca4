"""What the search knows of each story by itself, worked out in several processes before it is asked for."""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.edition.searching import TOLD, words_of
from sitegen.newsroom.keeping import Drawer
from sitegen.newsroom.records import Story
from sitegen.site.processes import Spread
from sitegen.site.shelf import CHUNK, MANY


def work_out_ahead(stories: Sequence[Story], drawer: Drawer, spread: Spread) -> None:
    """Fills the drawer where it lacks much; changes nothing that is read from it."""
    missing = [story for story in stories if drawer.take(TOLD, story) is None]
    if len(missing) < MANY:
        return

    def words(chunk: int) -> list[bytes]:
        return [words_of(story) for story in missing[chunk * CHUNK : (chunk + 1) * CHUNK]]

    chunks = spread(words, -(-len(missing) // CHUNK))
    for story, value in zip(missing, (each for chunk in chunks for each in chunk), strict=True):
        drawer.put(TOLD, story, value)
