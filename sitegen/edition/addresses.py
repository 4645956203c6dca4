"""The addresses of a site, without a leading slash: "" is the home page, a folder ends with a slash."""

from __future__ import annotations

from sitegen.newsroom.slugs import BEYOND

HOME = ""
COUNTIES = "counties/"
GET_HELP = "get-help/"
FIND = "find/"
DEADLINES = "deadlines/"
STORIES = "stories/"
EPISODES = "episodes/"
ARCHIVE = "archive/"
TOPICS = "topics/"
PLACES = "places/"
NOT_FOUND = "404.html"
ROBOTS = "robots.txt"
SITEMAP = "sitemap.xml"
SECURITY = ".well-known/security.txt"
PICTURES = "pictures/"
CAPTIONS = "captions/"
PLACES_DATA = "data/places.json"
ASKS_DATA = "data/asks.json"
SEARCH_DATA = "data/search.json"
SEARCH_SHARDS = "data/search/"
FEED = "feed.atom"
CALENDAR = "deadlines.ics"

TAKEN = frozenset(
    {
        "counties", "get-help", "find", "deadlines", "stories", "episodes", "archive", "topics", "places", "pictures",
        "captions", "assets", "data", "search", "feed", "manifest", "robots", "sitemap", "index", "404",
    }
)  # fmt: skip
"""First words of addresses that no short or old address and no station page may begin with."""


DEVICES = frozenset(
    {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(1, 10)), *(f"lpt{n}" for n in range(1, 10))}
)
"""Names that Windows keeps for devices, with any suffix (from memory): no file of a site can have them on every host."""


def county(key: str) -> str:
    return f"{COUNTIES}{key}/"


BEYOND_PAGE = county(BEYOND)


def story(story_id: str) -> str:
    return f"{STORIES}{story_id}/"


def ask(story_id: str, key: str) -> str:
    return f"{story(story_id)}#{anchor(key)}"


def county_feed(key: str) -> str:
    return f"{county(key)}{FEED}"


def sitemap_part(number: int) -> str:
    """The nth sitemap of a site that needs more than one."""
    return f"sitemap-{number}.xml"


def ask_calendar(story_id: str, key: str) -> str:
    """The calendar of one ask."""
    return f"{story(story_id)}{key}.ics"


def county_calendar(key: str) -> str:
    return f"{county(key)}{CALENDAR}"


def anchor(key: str) -> str:
    """The fragment id of an ask on its story's page."""
    return f"ask-{key}"


def find_county(key: str) -> str:
    """The address of the list of a county's places."""
    return f"{FIND}{key}/"


def episode(episode_id: str) -> str:
    return f"{EPISODES}{episode_id}/"


def place(place_id: str) -> str:
    return f"{PLACES}{place_id}/"


def topic(slug: str) -> str:
    return f"{TOPICS}{slug}/"


def language(tag: str) -> str:
    """The list of the stories that are told in a language, whatever its region."""
    return f"{ARCHIVE}{tag.split('-')[0].lower()}/"


def year(base: str, number: int) -> str:
    return f"{base}{number}/"


def part(base: str, number: int) -> str:
    """The address of a list's nth page; the first is the list's own."""
    return base if number == 1 else f"{base}page-{number}/"
