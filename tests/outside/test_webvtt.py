"""Captions against a browser's own reading of them, through the text track of a video."""

from __future__ import annotations

import base64
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from sitegen.newsroom.captions import read_captions

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

FILES = {
    "plain": "WEBVTT\n\n00:01.000 --> 00:02.000\nHello\n",
    "hours": "WEBVTT\n\n01:00:01.000 --> 123:00:02.000\nHello\n",
    "one digit of hours": "WEBVTT\n\n1:00:01.000 --> 1:00:02.000\nHello\n",
    "mark and line ends": "\ufeffWEBVTT x\r\n\r\nid\r\n00:01.000 --> 00:02.000\r\nHello\r\nthere\r\n",
    "carriage returns": "WEBVTT\r\r00:01.000 --> 00:02.000\rHello\r",
    "header lines": "WEBVTT\nKind: captions\n\n00:01.000 --> 00:02.000\nHello\n",
    "no blank after the header": "WEBVTT\n00:01.000 --> 00:02.000\nHello\n",
    "comments": "WEBVTT\n\nNOTE one\ntwo\n\n00:01.000 --> 00:02.000\nHello\n\nNOTE\nx\n",
    "a caption in a comment": "WEBVTT\n\nNOTE\n00:01.000 --> 00:02.000\nHello\n",
    "styles and regions": "WEBVTT\n\nSTYLE\n::cue{}\n\nREGION\nid:a\n\n00:01.000 --> 00:02.000\nHello\n",
    "settings": "WEBVTT\n\n00:01.000 --> 00:02.000 align:start line:0 position:10%\nHello\n",
    "words after the time": "WEBVTT\n\n00:01.000 --> 00:02.000 Hello\nthere\n",
    "narrow arrow": "WEBVTT\n\n00:01.000-->00:02.000\nHello\n",
    "tabs": "WEBVTT\n\n00:01.000\t-->\t00:02.000\nHello\n",
    "voices": "WEBVTT\n\n00:01.000 --> 00:02.000\n<v Ada>Hello</v>\n<v.loud Bo>there\n",
    "markup": "WEBVTT\n\n00:01.000 --> 00:02.000\n<c.a.b>He</c><i>l<b>l</b></i><u>o</u> <00:01.500>you <lang en>there</lang>\n",
    "entities": "WEBVTT\n\n00:01.000 --> 00:02.000\n&amp; &lt;b&gt; &nbsp;&eacute;&#233; R&D &unknown;\n",
    "a stray sign": "WEBVTT\n\n00:01.000 --> 00:02.000\none < two > three\n",
    "a sign to the end": "WEBVTT\n\n00:01.000 --> 00:02.000\none < two\nthree\n",
    "no blank between": "WEBVTT\n\n00:01.000 --> 00:02.000\nHello\n00:03.000 --> 00:04.000\nthere\n",
    "words without a time": "WEBVTT\n\n00:01.000 --> 00:02.000\nHello\n\nlost\n\n00:03.000 --> 00:04.000\nthere\n",
    "out of order": "WEBVTT\n\n00:03.000 --> 00:04.000\nthere\n\n00:01.000 --> 00:02.000\nHello\n",
    "sixty minutes": "WEBVTT\n\n60:01.000 --> 60:02.000\nHello\n",
    "frames": "WEBVTT\n\n00:00:01:10 --> 00:00:02:10\nHello\n",
    "null": "WEBVTT\n\n00:01.000 --> 00:02.000\nHel\0lo\n",
}  # fmt: skip

# Read by us for their plain meaning, with a problem beside; dropped by browsers.
FORGIVEN = {
    "commas": "WEBVTT\n\n00:00:01,000 --> 00:00:02,000\nHello\n",
    "no header": "00:01.000 --> 00:02.000\nHello\n",
    "few digits": "WEBVTT\n\n00:01.5 --> 00:02.5\nHello\n",
}

READ = """async (address) => {
  document.body.innerHTML = '<video><track kind="captions"></video>';
  const element = document.querySelector('track');
  element.track.mode = 'hidden';
  await new Promise((done) => { element.onload = done; element.onerror = done; element.src = address; });
  return Array.from(element.track.cues || [], (cue) =>
    [Math.round(cue.startTime * 1000), Math.round(cue.endTime * 1000), cue.getCueAsHTML().textContent]);
}"""


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page()
    yield opened
    opened.close()


def browsers(page: Page, text: str) -> list[tuple[int, int, str]]:
    data = base64.b64encode(text.encode("utf-8")).decode("ascii")
    cues: list[list[Any]] = page.evaluate(READ, f"data:text/vtt;base64,{data}")
    return [(start, end, " ".join(words.split())) for start, end, words in cues]


def ours(text: str) -> list[tuple[int, int, str]]:
    """Our cues, those of one caption together again."""
    joined: dict[tuple[int, int], list[str]] = {}
    for cue in read_captions(text)[0]:
        joined.setdefault((cue.start, cue.end), []).append(cue.text)
    return [(start, end, " ".join(words)) for (start, end), words in joined.items()]


@pytest.mark.parametrize("name", sorted(FILES))
def test_a_browser_reads_the_same(page: Page, name: str) -> None:
    assert ours(FILES[name]) == browsers(page, FILES[name])


@pytest.mark.parametrize("name", sorted(FORGIVEN))
def test_what_a_browser_drops_has_a_problem(page: Page, name: str) -> None:
    assert browsers(page, FORGIVEN[name]) == []
    assert ours(FORGIVEN[name]) and read_captions(FORGIVEN[name])[1]


def test_the_demonstrations_captions_are_read_alike(page: Page) -> None:
    folder = Path(__file__).parents[2] / "content" / "captions"
    for file in sorted(folder.glob("*.vtt")):
        text = file.read_text("utf-8")
        assert ours(text) == browsers(page, text), file.name
