"""The manifest: what it says, and that it says the same for the same files."""

from __future__ import annotations

import json
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from sitegen.site.manifest import (
    MANIFEST_NAME,
    Entry,
    Manifest,
    manifest_bytes,
    media_type,
    public_address,
    read_manifest,
)

entries = st.builds(
    Entry,
    st.from_regex(r"[a-z]{4,9}(/[a-zé-]{4,9}){0,2}\.(html|jpg|css)", fullmatch=True),
    st.integers(0, 10**9),
    st.from_regex(r"[0-9a-f]{64}", fullmatch=True),
    st.sampled_from(["text/html; charset=utf-8", "image/jpeg"]),
    st.booleans(),
)
manifests = st.lists(entries, max_size=5, unique_by=lambda entry: entry.address).map(
    lambda found: Manifest("sitegen 1.0", "https://www.example.org/", tuple(found))
)


@given(manifests, st.randoms())
def test_reads_back_sorted_and_whatever_the_order(manifest: Manifest, chance: st.random.Random) -> None:  # type: ignore[name-defined]
    shuffled = list(manifest.entries)
    chance.shuffle(shuffled)
    source = manifest_bytes(Manifest(manifest.generator, manifest.address, tuple(shuffled)))
    assert source == manifest_bytes(manifest)
    again = read_manifest(source)
    assert again.entries == tuple(sorted(manifest.entries, key=lambda entry: entry.address))
    assert (again.generator, again.address) == (manifest.generator, manifest.address)


def test_its_words() -> None:
    entry = Entry("assets/tidetable-1a2b3c4d5e.css", 12, "0" * 64, media_type("x.css"), True)
    page = Entry("index.html", 7, "1" * 64, media_type("index.html"), False)
    held = json.loads(manifest_bytes(Manifest("sitegen 1.0", "https://www.example.org/", (page, entry))))
    assert held == {
        "format": 1,
        "generator": "sitegen 1.0",
        "address": "https://www.example.org/",
        "files": [
            {
                "address": "assets/tidetable-1a2b3c4d5e.css",
                "size": 12,
                "sha256": "0" * 64,
                "type": "text/css; charset=utf-8",
                "cache": "immutable",
            },
            {
                "address": "index.html",
                "size": 7,
                "sha256": "1" * 64,
                "type": "text/html; charset=utf-8",
                "cache": "revalidate",
            },
        ],
    }


def test_media_types() -> None:
    assert media_type("deadlines.ics") == "text/calendar; charset=utf-8"
    assert media_type("feed.atom") == "application/atom+xml"
    assert media_type("a.b/photo.JPG") == "image/jpeg"
    assert media_type("a.html/plain") == "application/octet-stream"


def test_the_public_address_of_a_folder(tmp_path: Path) -> None:
    assert public_address(tmp_path) == ""
    (tmp_path / MANIFEST_NAME).write_bytes(b'{"name": "an app"}')
    assert public_address(tmp_path) == ""
    (tmp_path / MANIFEST_NAME).write_bytes(
        manifest_bytes(Manifest("sitegen 1.0", "https://www.example.org/a/", ()))
    )
    assert public_address(tmp_path) == "https://www.example.org/a/"
