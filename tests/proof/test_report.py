"""The reports of a proof."""

from __future__ import annotations

import json
import random

from sitegen.proof.pagecheck import PageFinding
from sitegen.proof.report import CopyFinding, Report, as_json, as_sarif, as_text

PAGES = (
    PageFinding("b.html", 2, "link-name", ("c487ae",), "2.4.4", "A", "fails", "No name.", "Write one."),
    PageFinding("a.html", 9, "text-contrast", ("afw4f7",), "1.4.3", "AA", "unsure", "Look.", ""),
    PageFinding("a.html", 10, "enhanced", (), "1.4.6", "AAA", "fails", "Grey.", ""),
)
COPY = (CopyFinding("stories/a.md", 3, 1, "concern", "asks", "Said on air.", "Say when."),)


def test_json_has_what_programs_rely_on() -> None:
    whole = json.loads(as_json(Report(PAGES, COPY)))
    assert whole["findings"][0] == {
        "page": "a.html", "line": 9, "check": "text-contrast", "act": ["afw4f7"], "criterion": "1.4.3", "level": "AA",
        "verdict": "unsure", "message": "Look.", "instead": "",
    }  # fmt: skip
    assert whole["copy"] == [
        {"file": "stories/a.md", "line": 3, "column": 1, "weight": "concern", "check": "asks", "message": "Said on air.",
         "instead": "Say when."},
    ]  # fmt: skip
    assert "2779a5" in whole["rules"]


def test_reports_do_not_depend_on_the_order_of_findings() -> None:
    for seed in range(6):
        shuffled = random.Random(seed).sample(PAGES, len(PAGES))
        assert as_json(Report(tuple(shuffled), COPY)) == as_json(Report(PAGES, COPY))
        assert as_text(Report(tuple(shuffled), COPY)) == as_text(Report(PAGES, COPY))


def test_sarif_has_the_parts_its_schema_requires() -> None:
    whole = json.loads(as_sarif(Report(PAGES, COPY)))
    assert whole["version"] == "2.1.0"
    (run,) = whole["runs"]
    assert run["tool"]["driver"]["name"] == "sitegen"
    known = {rule["id"] for rule in run["tool"]["driver"]["rules"]}
    for result in run["results"]:
        assert result["ruleId"] in known
        assert result["level"] in {"none", "note", "warning", "error"}
        assert result["message"]["text"]
        (location,) = result["locations"]
        assert location["physicalLocation"]["region"]["startLine"] >= 1
        assert " " not in location["physicalLocation"]["artifactLocation"]["uri"]
    files = [
        result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for result in run["results"]
    ]
    assert files == ["stories/a.md", "a.html", "a.html", "b.html"]
    assert [result["level"] for result in run["results"]] == ["note", "warning", "error", "error"]
    assert as_sarif(Report(tuple(reversed(PAGES)), COPY)) == as_sarif(Report(PAGES, COPY))


def test_text_names_place_and_remedy() -> None:
    text = as_text(Report(PAGES, COPY), "AAA")
    assert "b.html:2: fails: No name. (WCAG 2.4.4, A)\n    Write one.\n" in text
    assert "stories/a.md:3:1: concern: Said on air.\n    Say when.\n" in text
    assert text.index("a.html:9") < text.index("a.html:10") < text.index("b.html:2")
    assert text.endswith("1 concern, 2 failures on pages, 1 place to look at.\n")


def test_text_counts_what_lies_above_the_level_and_puts_faults_first() -> None:
    fault = CopyFinding("stories/z.md", 1, 1, "fault", "missing", "No headline.", "")
    text = as_text(Report(PAGES, (*COPY, fault)), "AA")
    assert "a.html:10" not in text and "1 more on pages above level AA" in text
    assert text.index("stories/z.md") < text.index("stories/a.md")


def test_what_stops_a_publication() -> None:
    assert Report(PAGES[:1]).stops("A")
    assert not Report(PAGES[1:2]).stops("A")
    assert Report(PAGES[1:2]).stops("AA")
    assert not Report(PAGES[2:]).stops("AA")
    assert Report(PAGES[2:]).stops("AAA")
    assert not Report((), COPY).stops("AAA")
    assert Report((), (CopyFinding("a.md", 1, 1, "fault", "c", "m", ""),)).stops("A")
