"""The page checks against the published examples of the ACT rules (https://www.w3.org/WAI/standards-guidelines/act/rules/).

The examples are data beside the checkout; without them this is skipped. A failing example must be found to fail, or left undecided where
bytes do not tell; an example that passes or lies outside its rule must never be found to fail.
"""

from __future__ import annotations

import json
import re
from collections import defaultdict
from pathlib import Path

import pytest

from sitegen.proof.checks import COVERED
from sitegen.proof.pagecheck import PageProof, check_page, contrast_judge

CASES = Path(__file__).parents[3] / "shared" / "act" / "cases.json"
# Titles such as "Failed Example 3" tell the answer.
TELLING = re.compile(r"(?:Passed|Failed|Inapplicable) Example \d+")


def cases() -> dict[str, list[dict[str, str]]]:
    by_rule: dict[str, list[dict[str, str]]] = defaultdict(list)
    if CASES.is_file():
        for case in json.loads(CASES.read_text("utf-8")):
            if case["rule"] in COVERED:
                by_rule[case["rule"]].append(case)
    return by_rule


PUBLISHED = cases()
ASSETS = CASES.parent / "assets"


def asset(path: str) -> bytes | None:
    """A file that an example refers to, by its path beside the cases."""
    target = (ASSETS / path).resolve()
    return target.read_bytes() if target.is_relative_to(ASSETS.resolve()) and target.is_file() else None


def judged(case: dict[str, str]) -> PageProof:
    return check_page(
        "page.html",
        TELLING.sub("Example", case["html"]).encode(),
        contrast_judge(asset, every_scenario=False),
    )


pytestmark = pytest.mark.skipif(
    not PUBLISHED, reason="the published accessibility cases are not beside this checkout"
)


def test_there_are_cases_for_most_rules() -> None:
    assert len(PUBLISHED) > 50


@pytest.mark.parametrize("rule", sorted(PUBLISHED))
def test_no_published_case_is_judged_wrongly(rule: str) -> None:
    wrong = []
    for case in PUBLISHED[rule]:
        proof = judged(case)
        verdicts = {finding.verdict for finding in proof.findings if rule in finding.act}
        fails = case["outcome"] == "failed"
        undecided = verdicts == {"unsure"} and (case["tier"] == "partial" or fails)
        if not undecided and ("fails" in verdicts) != fails:
            wrong.append((case["id"], sorted(verdicts), case["note"]))
    assert not wrong


def test_core_cases_are_decided() -> None:
    undecided = [
        case["id"]
        for rule, published in PUBLISHED.items()
        for case in published
        if case["tier"] == "core"
        and any(rule in finding.act and finding.verdict == "unsure" for finding in judged(case).findings)
    ]
    assert not undecided
