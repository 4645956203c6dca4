"""Every page of the demonstration before the Nu HTML checker: no error and no warning."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.samples.served_site import FOLDER, ROOT

CHECKER = ROOT / "node_modules" / "vnu-jar" / "build" / "dist" / "vnu.jar"
HOST = "https://www.example.org"

pytestmark = [
    pytest.mark.skipif(not CHECKER.exists(), reason="no Nu checker: npm install --ignore-scripts vnu-jar"),
    pytest.mark.skipif(
        shutil.which("java") is None, reason="no Java: apt-get install openjdk-17-jre-headless"
    ),
]


def copy_with_an_address(site: Path, folder: Path) -> Path:
    """A copy of a site's pages that say in full what they ask for, and from where they may.

    Files on a disk have no address, so for the checker their policy's 'self' allows nothing and each stylesheet would
    break it. In the copy 'self' is the site's host and every file is linked by its full address; so the policy and what
    it allows stay under judgement.
    """
    for page in site.rglob("*.html"):
        text = page.read_text("utf-8")
        assert "'self'" in text
        full = re.sub(
            rf'(="|, )(?:\.\./|/{FOLDER}/)*((?:assets|captions|data|pictures)/)',
            rf"\1{HOST}/{FOLDER}/\2",
            text,
        )
        assert full != text
        into = folder / page.relative_to(site)
        into.parent.mkdir(parents=True, exist_ok=True)
        into.write_text(full.replace("'self'", HOST), "utf-8")
    return folder


def messages(folder: Path) -> list[str]:
    """What the checker has to say about every page in a folder, a line for each fault."""
    command = ["java", "-Xss2m", "-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-jar", str(CHECKER)]
    options = ["--format", "json", "--stdout", "--no-langdetect", "--skip-non-html", str(folder)]
    run = subprocess.run([*command, *options], capture_output=True, text=True, check=False)
    return sorted(
        f"{Path(urlsplit(message.get('url', '')).path).relative_to(folder)}:{message.get('lastLine')}: {message['message']}"
        for message in json.loads(run.stdout)["messages"]
    )


def test_every_page_is_valid(demonstration: Path, tmp_path: Path) -> None:
    copy = copy_with_an_address(demonstration, tmp_path / "copy")
    assert len(list(copy.rglob("*.html"))) > 300
    assert messages(copy) == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("</main>", "</p></main>"),
        ("<h1>", '<h1 align="center">'),
        (f"style-src {HOST}", "style-src https://elsewhere.example.org"),
    ],
)
def test_the_checker_sees_what_is_wrong(demonstration: Path, tmp_path: Path, right: str, wrong: str) -> None:
    home = tmp_path / "site" / "index.html"
    home.parent.mkdir()
    shutil.copy(demonstration / "index.html", home)
    copy = copy_with_an_address(home.parent, tmp_path / "copy") / "index.html"
    text = copy.read_text("utf-8")
    assert right in text
    copy.write_text(text.replace(right, wrong), "utf-8")
    assert messages(copy.parent) != []
