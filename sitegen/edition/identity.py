"""Names that last: one for each story and one for each ask, the same in every feed, calendar and data file.

They survive a story that moves to another address, as long as its first old address stays the first.
"""

from __future__ import annotations

from urllib.parse import quote, urlsplit

from sitegen.edition import addresses
from sitegen.newsroom.records import Ask, Station, Story


def story_id(story: Story, station: Station) -> str:
    """A `tag:` URI (RFC 4151): the site's host, the first air date, and the first address the story had.

    `tag:www.example.org,2026-11-21:/small-wonders/stories/2026/coat-closet/`. The site's own path is in it, so that two
    sites on one host never share a name.
    """
    site = urlsplit(station.address)
    # RFC 4151, 2.1: a DNS name in small letters; an international host stands in its ASCII form.
    host = site.hostname or ""
    try:
        host = host.encode("idna").decode("ascii")
    except UnicodeError:
        host = quote(host)  # not a name of a host; the station's address is then the least of its troubles
    first = story.old_addresses[0] if story.old_addresses else addresses.story(story.id)
    path = quote((site.path or "/") + first, safe="/-._~!$&'()*+,;=:@%")
    return f"tag:{host},{story.aired.day.isoformat()}:{path}"


def ask_id(story: Story, ask: Ask, station: Station) -> str:
    """The story's name and the ask's key, which is unique in its story."""
    return story_id(story, station) + ask.key
