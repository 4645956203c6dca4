"""Relative links agree with how the URL standard resolves them."""

from __future__ import annotations

from urllib.parse import urljoin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.typeset.addresses import href

FOLDERS = st.lists(st.sampled_from(["a", "b", "stories", "2026", "x-y"]), max_size=4).map(
    lambda parts: "".join(f"{part}/" for part in parts)
)
ADDRESSES = st.one_of(FOLDERS, st.tuples(FOLDERS, st.sampled_from(["404.html", "c.css"])).map("".join))
FRAGMENTS = st.sampled_from(["", "#asks", "#"])


@given(
    ADDRESSES,
    ADDRESSES,
    FRAGMENTS,
    st.sampled_from(["https://example.org/", "https://example.org/in/folder/"]),
)
def test_a_browser_arrives_at_the_address_meant(here: str, there: str, fragment: str, root: str) -> None:
    link = href(here, there + fragment)
    assert link and not link.startswith("/")
    assert urljoin(root + here, link) == (root + there + fragment).removesuffix("#")


@pytest.mark.parametrize(
    ("here", "there", "link"),
    [
        ("stories/2026/coats/", "counties/tidewick/#places", "../../../counties/tidewick/#places"),
        ("", "", "./"),
        ("a/", "a/", "./"),
        ("a/", "a/#b", "#b"),
        ("a/b/", "a/", "../"),
        ("", "a:b/", "./a:b/"),
        ("404.html", "a/", "a/"),
    ],
)
def test_links_are_short(here: str, there: str, link: str) -> None:
    assert href(here, there) == link
