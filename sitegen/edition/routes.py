"""Who has which address, and where the links of a body lead.

Two things at one address is a fault, and so is a link of ours that leads nowhere. Addresses of what is not
published are known too, so that a link to it loses its target, silently for viewers, and nothing leaks.
"""

from __future__ import annotations

from collections.abc import Container

from sitegen.edition import addresses
from sitegen.edition.models import Body
from sitegen.edition.published import Published, PublishedStory
from sitegen.edition.views import story_order
from sitegen.newsroom.records import Finding, Link, Spot, Story, Weight


class Routes:
    """The addresses of one edition."""

    def __init__(self, published: Published) -> None:
        self.published = published
        self.findings: list[Finding] = []
        self.known: Container[str] = frozenset()
        """Every address of the edition; filled before bodies are made."""
        self._stories = {story.id: story for story in published.newsroom.stories}
        self._hidden = {
            addresses.story(story.id)
            for story in published.newsroom.stories
            if story.id not in published.stories
        }
        shown = {episode.id for episode in published.episodes}
        self._hidden |= {
            addresses.episode(episode.id)
            for episode in published.newsroom.episodes
            if episode.id not in shown
        }
        self._check_station_pages()
        self.leads = self._leads()

    def _fault(self, spot: Spot, check: str, message: str, instead: str) -> None:
        self.findings.append(Finding(spot, Weight.FAULT, check, message, instead))

    def _check_station_pages(self) -> None:
        for page in self.published.newsroom.pages:
            if page.id.split("/")[0] in addresses.TAKEN:
                self._fault(page.origin.spot, "address-taken", f"The address /{page.id}/ is one of the site's own.", "Rename the file.")  # fmt: skip

    # --- short and old addresses ---

    def _leads(self) -> dict[str, Story]:
        """Which story each short and each old address leads to."""
        owners: dict[str, str] = {
            f"{page.id}/": f"the station page {page.id}" for page in self.published.newsroom.pages
        }
        leads: dict[str, Story] = {}
        for story in self.published.newsroom.stories:
            for address in story.old_addresses:
                self._old_address(address, story, owners, leads)
        words: dict[str, list[Story]] = {}
        for story in self.published.newsroom.stories:
            for word in dict.fromkeys((story.say_on_air, *story.heard_as)):
                if word:
                    words.setdefault(word, []).append(story)
        for word in sorted(words):
            self._word(word, words[word], owners, leads)
        return leads

    def _old_address(
        self, address: str, story: Story, owners: dict[str, str], leads: dict[str, Story]
    ) -> None:
        first = address.split("/")[0]
        spot = story.origin.of("old_addresses")
        story_part = address.removeprefix(addresses.STORIES).rstrip("/")
        if not addresses.DEVICES.isdisjoint(address.split("/")):
            self._no_file(spot, address)
        elif first in addresses.TAKEN and (
            first != "stories" or story_part in self._stories or not story_part
        ):
            self._fault(
                spot, "address-taken", f"The old address /{address} is one of the site's own.", "Remove it."
            )
        elif address in owners:
            self._fault(spot, "address-taken", f"The address /{address} already belongs to {owners[address]}.", "Keep it in one of them.")  # fmt: skip
        else:
            owners[address] = f"the story {story.id}"
            if story.id in self.published.stories:
                leads[address] = story

    def _no_file(self, spot: Spot, address: str) -> None:
        self._fault(spot, "address-impossible", f"Some hosts cannot have a file at /{address}: Windows keeps that name for a device.", "Choose another word.")  # fmt: skip

    def _word(self, word: str, stories: list[Story], owners: dict[str, str], leads: dict[str, Story]) -> None:
        address = f"{word}/"
        key = {story.id: "say_on_air" if story.say_on_air == word else "heard_as" for story in stories}
        taken = "one of the site's own addresses" if word in addresses.TAKEN else owners.get(address, "")
        if word in addresses.DEVICES:
            for story in stories:
                self._no_file(story.origin.of(key[story.id]), address)
            return
        if taken:
            for story in stories:
                if owners.get(address) != f"the story {story.id}":
                    self._fault(
                        story.origin.of(key[story.id]), "address-taken", f"The short address /{address} already belongs to {taken}.", "Choose another word."
                    )  # fmt: skip
            return
        shown = [self.published.stories[story.id] for story in stories if story.id in self.published.stories]
        live = [each for each in shown if each.has_live_ask]
        if len(live) > 1:
            names = ", ".join(each.story.id for each in live)
            for each in live:
                self._fault(
                    each.story.origin.of(key[each.story.id]), "word-twice", f"The short address /{address} belongs to stories that all have open asks: {names}.", "Choose another word for all but one."
                )  # fmt: skip
        winner = _newest(live) or _newest(shown)
        if winner is not None:
            leads[address] = winner.story

    # --- bodies ---

    def body(self, galley: str, links: tuple[Link, ...], path: str) -> Body:
        """A body with where its links into the site lead."""
        return Body(galley, self.targets(links, path))

    def targets(self, links: tuple[Link, ...], path: str) -> tuple[tuple[str, str], ...]:
        """Where the links of a body into the site lead, as `Body.links`."""
        found: dict[str, str] = {}
        for link in links:
            target = link.target.strip()
            if (
                not link.picture
                and not target.startswith("#")
                and (target.startswith("/") or ":" not in target.split("/")[0])
            ):
                found[link.target] = self._resolve(target, link.spot(path))
        return tuple(sorted(found.items()))

    def _resolve(self, target: str, spot: Spot) -> str:
        name, mark, fragment = target.partition("#")
        if name.startswith("/"):
            address = name.lstrip("/")
            if address not in self.known and f"{address}/" in self.known:
                address = f"{address}/"
        else:
            address = addresses.story(name)
        if address in self.known and address not in self._hidden:
            return address + mark + fragment
        if address in self._hidden or f"{address}/" in self._hidden:
            self.findings.append(
                Finding(
                    spot, Weight.CONCERN, "link-unpublished", f"The link leads to {target}, which is not published as of this moment; its words stay without the link.", "Nothing to do if that is meant."
                )
            )  # fmt: skip
            return ""
        if name.startswith("/"):
            self._fault(
                spot,
                "link-nowhere",
                f"The link leads to {target}, and this site has no such address.",
                "Check the address.",
            )
        return ""


def _newest(stories: list[PublishedStory]) -> PublishedStory | None:
    return min(stories, key=story_order, default=None)
