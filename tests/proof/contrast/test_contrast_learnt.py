"""What an engine has learnt can be told to another, in another process too: it spares work and changes no verdict."""

from __future__ import annotations

import base64
import os
import subprocess
import sys
from io import BytesIO
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as some
from PIL import Image

from sitegen.proof.contrast.engine import ContrastEngine
from sitegen.proof.contrast.scenario import all_scenarios
from sitegen.proof.document import parse
from sitegen.proof.pagecheck import PageProof, check_page, contrast_judge
from tests.counts import tries
from tests.samples.random_pages import Maker

ROOT = Path(__file__).parents[3]
STYLE = (
    " li:first-child + li { color: #999 } p:hover { color: #aaa } :has(> b) > i { color: #888 }"
    " .c1:hover + p { color: #bbb } p::before { content: 'words'; color: #ccc } @container (width > 3px) { b { color: #ddd } }"
)


def nothing(path: str) -> bytes | None:
    return None


def proofs(pages: list[str], learnt: bytes = b"") -> tuple[list[PageProof], bytes | None]:
    judge = contrast_judge(nothing, learnt=learnt)
    return [check_page("p.html", page.encode(), judge) for page in pages], judge.learnt()


@settings(max_examples=tries(12), deadline=None)
@given(some.integers(0, 10**6), some.booleans())
def test_an_engine_that_was_told_gives_the_same_verdicts(seed: int, is_hard: bool) -> None:
    maker = Maker(seed)
    sheet = maker.sheet() + (STYLE if is_hard else "")
    pages = [maker.page(sheet) for _ in range(4)]
    alone, _ = proofs(pages)
    _, learnt = proofs(pages[:2])
    assert learnt is not None
    told, more = proofs(pages, learnt)
    assert told == alone
    # What was told and what was added to it can be told again.
    again, _ = proofs(pages[::-1], more or learnt)
    assert again == alone[::-1]


PAGE = """<!doctype html><html lang="en"><head><title>t</title><style>{style}</style></head><body>{body}</body></html>"""
BODY = '<main><h1>Some words</h1><p class="b a">one <a href="x">two</a></p><p>three</p><ul><li>four<li>five</ul></main>'
PLAIN = "p + p { color: #333 } .a + p { color: #444 } li:nth-child(2) { color: #222 } .b ~ p { margin: 1px } a:hover { color: #111 }"


def engine_told(page: str, learnt: bytes | None) -> ContrastEngine:
    engine = ContrastEngine(nothing, learnt=learnt or b"")
    engine.judge("p.html", parse(page), all_scenarios())
    return engine


def test_nothing_is_worked_out_twice_and_no_news_is_told() -> None:
    page = PAGE.format(style=PLAIN, body=BODY)
    learnt = engine_told(page, None).learnt()
    assert learnt is not None
    engine = engine_told(page, learnt)
    assert engine.news == 0
    assert engine.learnt() is None


def test_what_was_learnt_of_other_sheets_stays_beside_what_is_new() -> None:
    one, other = (
        PAGE.format(style=PLAIN, body=BODY),
        PAGE.format(style=PLAIN + " b { color: red }", body=BODY),
    )
    learnt = engine_told(other, engine_told(one, None).learnt()).learnt()
    assert engine_told(one, learnt).learnt() is None
    assert engine_told(other, learnt).learnt() is None


def test_what_is_not_whole_or_of_something_else_is_not_used() -> None:
    page = PAGE.format(style="p { color: #ccc }", body=BODY)
    expected, learnt = proofs([page])
    assert expected[0].findings
    assert learnt is not None
    _, other = proofs([PAGE.format(style="p { color: #222 }", body=BODY)])
    assert other is not None
    for place in range(0, len(learnt), 7):
        broken = learnt[:place] + bytes([learnt[place] ^ 1]) + learnt[place + 1 :]
        assert ContrastEngine(nothing, learnt=broken)._told == {}
    for given_bytes in (b"", b"no", learnt[:-1], other, learnt):
        assert proofs([page], given_bytes)[0] == expected


def test_what_depends_on_a_pictures_pixels_is_not_told() -> None:
    picture = BytesIO()
    Image.new("RGB", (4, 4), (255, 255, 255)).save(picture, "PNG")
    address = f"data:image/png;base64,{base64.b64encode(picture.getvalue()).decode()}"
    style = f"p {{ background-image: url('{address}') }}"
    assert proofs([PAGE.format(style=style, body=BODY)])[1] is None


def test_what_was_learnt_serves_a_process_that_orders_sets_otherwise(tmp_path: Path) -> None:
    script = (
        "import sys; from pathlib import Path; import tests.proof.contrast.test_contrast_learnt as here\n"
        "kept = Path(sys.argv[1]); page = here.PAGE.format(style=here.PLAIN, body=here.BODY)\n"
        "engine = here.engine_told(page, kept.read_bytes() if kept.exists() else None)\n"
        "learnt = engine.learnt(); print(learnt is None); kept.write_bytes(learnt or b'')"
    )
    said = []
    for seed in ("1", "2"):
        command = [sys.executable, "-c", script, str(tmp_path / "learnt")]
        done = subprocess.run(
            command, cwd=ROOT, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        )
        said.append(done.stdout.decode().strip())
    assert said == ["False", "True"]
