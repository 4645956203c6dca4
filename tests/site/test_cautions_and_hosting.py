"""A built site as its bytes: what must not hurt anyone is in no output, and any static host may serve it safely."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from datetime import UTC, datetime
from hashlib import sha256
from html import unescape
from pathlib import Path

import pytest
from PIL import Image

from sitegen.site.build import Made, make
from sitegen.site.content import read_content
from sitegen.site.derived import DerivedStore
from sitegen.site.manifest import IMMUTABLE, MANIFEST_NAME
from sitegen.site.writing import publish
from tests.samples.station_folder import story, write_folder

NOW = datetime(2026, 11, 25, 15, tzinfo=UTC)
CHECKOUT = Path(__file__).parents[2]

REFUGE = """name: The Gull House
street: 77 Hidden Lane
postal_code: HF-SECRET
town: Lowgate
county: Heron Flats
position: [34.98765, -60.12345]
hours: unknown
phone: 237-555-0166
address: withheld
"""
GIVING = """photo: {file: pupils.png, alt: Pupils at a piano, children: true}
asks:
  - title: Help refill the fund
    kind: give
    deadline: 2026-12-15
    payee: Friends of Lowgate
    goes_to: organization
    if_too_much: goes to the reading fund
  - title: Bring blankets
    kind: bring
    deadline: 2026-12-15
    where: [gull-house]
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    root = tmp_path_factory.mktemp("station")
    (root / "themes").symlink_to(CHECKOUT / "themes")
    write_folder(root, {"stories/2026/a.md": story(GIVING), "places/gull-house.yaml": REFUGE})
    (root / "content/photos").mkdir()
    Image.new("RGB", (40, 30), (200, 10, 10)).save(root / "content/photos/pupils.png")
    reading = read_content(root)
    assert not reading.faults
    done = make(reading, root, NOW, DerivedStore(None))
    assert done.files and not done.report.stops("AA")
    return done


def pages(made: Made) -> dict[str, str]:
    return {
        path: data.decode()
        for path, data in made.files.items()
        if path.endswith(".html") and isinstance(data, bytes)
    }


def test_a_withheld_address_is_in_no_output(made: Made) -> None:
    for path, data in made.files.items():
        assert isinstance(data, bytes)
        for secret in (b"Hidden Lane", b"HF-SECRET", b"34.98", b"-60.12"):
            assert secret not in data, path
    assert any(b"The Gull House" in data for data in made.files.values() if isinstance(data, bytes))


def test_a_childs_picture_without_consent_is_in_no_output(made: Made) -> None:
    assert not [path for path in made.files if path.startswith("pictures/") and "share-" not in path]
    assert not [path for path, text in pages(made).items() if "Pupils at a piano" in text]


def test_giving_comes_with_whom_it_goes_to_and_how_to_check(made: Made) -> None:
    text = pages(made)["stories/2026/a/index.html"]
    for said in (
        "Friends of Lowgate",
        "goes to the reading fund",
        "charity regulator",
        "State law",
        "leaves a record",
    ):
        assert said in text, said


def test_where_hours_are_not_known_viewers_are_told_to_call_first(made: Made) -> None:
    for path in ("stories/2026/a/index.html", "places/gull-house/index.html", "find/index.html"):
        text = pages(made)[path]
        assert "call first" in text, path
        assert "237-555-0166" in text, path


def test_every_page_holds_a_strict_policy_and_nothing_inline(made: Made) -> None:
    for path, text in pages(made).items():
        policy = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">', text)
        assert len(policy) == 1, path
        rules = dict(part.strip().split(" ", 1) for part in unescape(policy[0]).split(";"))
        assert rules["default-src"] == "'none'" and rules["base-uri"] == "'none'"
        assert "unsafe" not in policy[0] and "*" not in policy[0]
        # Besides files of the site itself the policy names the page's own data, which nobody runs, and nothing else.
        data = re.findall(r'<script type="application/ld\+json">(.*?)</script>', text, re.DOTALL)
        own = {f"'sha256-{b64encode(sha256(block.encode()).digest()).decode()}'" for block in data}
        sources = {source for sources in rules.values() for source in sources.split()}
        assert sources == {"'none'", "'self'"} | own, path
        assert not any(own & set(rules[name].split()) for name in rules if name != "script-src"), path
        assert all(json.loads(block)["@graph"] for block in data), path
        # The policy counts only for what stands after it.
        assert text.index("Content-Security-Policy") < min(text.find("<link"), text.find("<title")), path
        assert len(re.findall(r'<meta name="referrer" content="strict-origin-when-cross-origin">', text)) == 1
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=", text), path
        for script in re.findall(r"<script([^>]*)>", text):
            assert "src=" in script or script == ' type="application/ld+json"', path


def test_nothing_is_fetched_from_elsewhere_or_from_the_hosts_root(made: Made) -> None:
    for path, text in pages(made).items():
        fetched = re.findall(
            r'<(?:img|script|source|track|video|link rel="(?:icon|stylesheet)")[^>]*?\s(?:src|href)="([^"]+)"',
            text,
        )
        for address in fetched:
            assert not re.match(r"[a-z]+:|//", address), (path, address)
            assert not address.startswith("/") or path == "404.html", (path, address)


def test_the_manifest_advises_to_keep_exactly_what_can_never_change(made: Made, tmp_path: Path) -> None:
    publish(
        tmp_path / "site", made.files, generator="t", address="https://www.example.com/", root=tmp_path / "root", immutable=made.immutable
    )  # fmt: skip
    rows = json.loads((tmp_path / "site" / MANIFEST_NAME).read_bytes())["files"]
    assert len(rows) == len(made.files)
    for row in rows:
        has_digest = re.search(r"[-/][0-9a-f]{10,20}(-\d+)?\.[a-z0-9]+$", row["address"]) is not None
        assert (row["cache"] == IMMUTABLE) == has_digest, row
        assert row["type"] != "application/octet-stream"
