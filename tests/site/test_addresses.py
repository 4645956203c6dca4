"""Which file addresses a site may have."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.site.addresses import check_addresses, why_not_an_address
from sitegen.site.errors import AddressError


@pytest.mark.parametrize(
    "address",
    [
        "",
        "/",
        "/index.html",
        "a/",
        "a//b.html",
        "../a.html",
        "a/../b.html",
        "./a.html",
        "a/.",
        "a\\b.html",
        "c:/a.html",
        "a\0.html",
        "a\n.html",
        "a .html/ b",
        "a/b.",
        "a/b ",
        "con/index.html",
        "topics/aux",
        "nul.html",
        "a?.html",
        "x" * 256,
        "é" * 128,
        ".sitegen-part-1",
        "a/.sitegen-unfinished.json",
        "\ud800.html",
    ],
)
def test_not_an_address(address: str) -> None:
    assert why_not_an_address(address)
    with pytest.raises(AddressError):
        check_addresses(["index.html", address])


@pytest.mark.parametrize(
    "address",
    [
        "index.html",
        "stories/2026/coat-closet/index.html",
        ".well-known/security.txt",
        "assets/tidetable-1a2b3c4d5e.css",
        "photos/Peña Baja (1).jpg",
        "x" * 255,
        "console/index.html",
        "_/a",
    ],
)
def test_an_address(address: str) -> None:
    assert why_not_an_address(address) == ""


@pytest.mark.parametrize(
    "addresses",
    [
        ["a.html", "A.html"],
        ["a/x.html", "A/y.html"],
        ["a", "a/b"],
        ["a/b", "a"],
        ["A", "a/b"],
        ["peña.html", "PEÑA.html"],
        ["pe\u00f1a.html", "pen\u0303a.html"],
        ["a.html", "a.html"],
        ["straße.html", "strasse.html"],
    ],
)
def test_addresses_that_cannot_stand_together(addresses: list[str]) -> None:
    with pytest.raises(AddressError):
        check_addresses(addresses)


def test_neighbours_may_stand_together() -> None:
    check_addresses(["index.html", "a/index.html", "a/b/index.html", "ab/index.html", "a.b/index.html"])


@given(st.text(st.sampled_from("ab/._-AConux1"), max_size=12))
def test_the_quick_way_agrees_with_the_thorough_one(address: str) -> None:
    """Lower-case ASCII is judged by a pattern, the rest name by name; a capital sends it the long way."""
    if address:
        assert bool(why_not_an_address(address.lower())) == bool(why_not_an_address("É/" + address.lower()))
