"""What one file says of another: every name and every link must lead to something that is there."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence

from sitegen.newsroom.body import outside_address
from sitegen.newsroom.fields import Findings, did_you_mean
from sitegen.newsroom.records import Episode, Link, Origin, Spot, StationPage, Story


def check_names(
    findings: Findings,
    stories: Sequence[Story],
    episodes: Sequence[Episode],
    known: Collection[str],
    language: str,
) -> None:
    """Every story that another file names must exist; a translation must be one. `known` are the ids of all stories, `language`
    the station's."""
    ids = sorted(known)

    def check(name: str, origin: Origin, key: str) -> None:
        if name and name not in known:
            findings.fault(
                origin.of(key),
                "unknown-story",
                f"There is no story {name}.",
                did_you_mean(name, ids, limit=0) or "Write a story's path under content/stories, without .md",
            )

    for episode in episodes:
        told: set[str] = set()
        for entry in episode.rundown:
            check(entry.story, entry.origin, "story")
            if entry.story in told:
                findings.concern(
                    entry.origin.of("story"),
                    "story-twice",
                    f"{entry.story} stands twice in this rundown.",
                    "Remove one of them.",
                )
            told.add(entry.story)
        for promise in episode.promises:
            # An episode's own name stands for all its stories.
            if promise.kept_by != episode.id:
                check(promise.kept_by, promise.origin, "kept_by")
    for story in stories:
        check(story.follows, story.origin, "follows")
        if story.follows == story.id:
            findings.fault(
                story.origin.of("follows"),
                "unknown-story",
                "A story cannot follow itself.",
                "Name the earlier story, or remove the line.",
            )
        check(story.translates, story.origin, "translates")
    _check_translations(findings, stories, language)


def _check_translations(findings: Findings, stories: Sequence[Story], station: str) -> None:
    """A translation names a story that is none itself, in another language."""
    by_id = {story.id: story for story in stories}
    for story in stories:
        original = by_id.get(story.translates)
        if original is None:
            continue
        spot = story.origin.of("translates")
        if original.translates:
            findings.fault(
                spot,
                "translation",
                f"{original.id} is a translation itself."
                if original is not story
                else "A story cannot be a translation of itself.",
                "Name the story that was told first, or remove the line.",
            )
        elif (story.language or station).lower() == (original.language or station).lower():
            findings.fault(
                spot,
                "translation",
                f"{original.id} is in the same language as this story.",
                "Write this story's language, such as: language: es",
            )


def check_links(
    findings: Findings, records: Iterable[Story | Episode | StationPage], known: Collection[str]
) -> None:
    """Every link in a text must lead somewhere that a page can lead to. `known` are the ids of all stories."""
    for record in records:
        for link in record.links:
            _check_link(findings, link, link.spot(record.origin.spot.path), known)


def _check_link(findings: Findings, link: Link, spot: Spot, known: Collection[str]) -> None:
    target = link.target.strip()
    if link.picture:
        findings.concern(
            spot,
            "picture-in-body",
            "A picture inside the text is not shown; only its words are.",
            "Name the picture under photo: in the front matter.",
        )
    elif target.startswith("#"):
        findings.concern(
            spot,
            "link-in-page",
            f"The link to '{target[:60]}' leads to a part of its own page; such links are not made.",
            "Remove it, or name the story or address that is meant.",
        )
    elif target.startswith("/") and not target.startswith("//"):
        return  # the edition knows the addresses of the site, and checks it
    elif target.startswith("//") or ":" in target.split("/", 1)[0]:
        # Asked of the function that makes the link, so that what is refused there is told here.
        if not outside_address(target):
            findings.fault(
                spot,
                "link-scheme",
                f"The link to '{target[:60]}' is not one this site makes.",
                "Use a whole https:, http:, mailto: or tel: address, or a story's name such as 2026/coat-closet",
            )
    else:
        name = target.split("#", 1)[0]
        whole = "" if name in known else _meant_as_address(target)
        if whole:
            findings.fault(
                spot,
                "link-scheme",
                f"The link leads to '{target[:60]}', which is not a whole address.",
                f"Write instead: {whole}",
            )
        elif not target:
            findings.fault(
                spot,
                "unknown-story",
                "The link has no address: nothing stands between its brackets.",
                "Write a whole address there, or a story's path such as 2026/coat-closet; or take the brackets away.",
            )
        elif name not in known:
            meant = _story_meant(name, known)
            findings.fault(
                spot,
                "unknown-story",
                f"The link leads to '{target[:60]}', and there is no such story.",
                (f"Write instead: {meant}" if meant else did_you_mean(name, sorted(known), limit=0))
                or "Write a story's path under content/stories, without .md",
            )


_HOST = re.compile(
    r"(?:[a-z0-9-]+\.)+(?:com|org|net|edu|gov|info|us|example)(?:[:/?#]|\Z)|www\.", re.IGNORECASE
)
"""How an address begins that lacks its `https://`: with `www.`, or with a host under a usual name (common practice, no source)."""


def _meant_as_address(target: str) -> str:
    """The address that leaves the site for a target without its scheme; empty for one that is none."""
    if _HOST.match(target):
        whole = f"https://{target}"
    elif re.fullmatch(r"[^\s@/]+@[^\s@/]+\.[^\s@/]+", target):
        whole = f"mailto:{target}"
    else:
        return ""
    return whole if outside_address(whole) else ""


def _story_meant(target: str, known: Collection[str]) -> str:
    """The one story whose file a link names: by its path from elsewhere, with `.md`, or by its last part; empty for none or several."""
    name = re.sub(r"\A(?:\.{0,2}/)*(?:content/)?(?:stories/)?", "", target.removesuffix(".md"))
    meant = [each for each in known if name and (each == name or each.endswith(f"/{name}"))]
    return meant[0] if len(meant) == 1 else ""
