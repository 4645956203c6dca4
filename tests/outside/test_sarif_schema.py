"""The SARIF report against the standard: Static Analysis Results Interchange Format 2.1.0, OASIS Standard with errata 01
(https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/sarif-v2.1.0-errata01-os-complete.html).

The fragment below states in JSON Schema what the standard requires of the objects our report is made of; the numbers name its
sections. Where the published schema closes an object to properties it does not list, so does this one, with those we may use.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError

from sitegen.proof.pagecheck import PageFinding
from sitegen.proof.report import CopyFinding, Report, as_json, as_sarif

STRING = {"type": "string"}
NOT_EMPTY = {"type": "string", "minLength": 1}


def closed(required: list[str], **properties: object) -> dict[str, object]:
    """An object with these properties and no others."""
    return {
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": False,
    }


BAG = {
    "type": "object",
    "properties": {"tags": {"type": "array", "items": STRING, "uniqueItems": True}},
}  # 3.8
MESSAGE = closed(
    ["text"], text=NOT_EMPTY, markdown=STRING, id=STRING, arguments={"type": "array"}
)  # 3.11.2, 3.11.8
ARTIFACT_LOCATION = closed(
    [], uri={"type": "string", "format": "uri-reference", "minLength": 1}, uriBaseId=STRING
)  # 3.4.3
POSITIVE = {"type": "integer", "minimum": 1}
REGION = closed(
    [], startLine=POSITIVE, startColumn=POSITIVE, endLine=POSITIVE, endColumn=POSITIVE
)  # 3.30.5, 3.30.6
PHYSICAL = closed(
    ["artifactLocation"], artifactLocation=ARTIFACT_LOCATION, region=REGION, properties=BAG
)  # 3.29.3, 3.29.4
LOCATION = closed([], physicalLocation=PHYSICAL, message=MESSAGE, properties=BAG)  # 3.28.3
DESCRIPTOR = closed(  # 3.49.3, 3.49.12
    ["id"],
    id=NOT_EMPTY,
    name=STRING,
    shortDescription=MESSAGE,
    fullDescription=MESSAGE,
    helpUri={"type": "string", "format": "uri", "pattern": "^https://"},
    properties=BAG,
)
DRIVER = closed(  # 3.19.2: name is the one required property of a tool component
    ["name"],
    name=NOT_EMPTY,
    version=NOT_EMPTY,
    semanticVersion=STRING,
    informationUri={"type": "string", "format": "uri"},
    rules={"type": "array", "items": DESCRIPTOR, "uniqueItems": True},  # 3.19.23
)
RESULT = closed(
    ["message"],  # 3.27.11
    ruleId=NOT_EMPTY,  # 3.27.5
    ruleIndex={"type": "integer", "minimum": -1},  # 3.27.6
    kind={"enum": ["notApplicable", "pass", "fail", "review", "open", "informational"]},  # 3.27.9
    level={"enum": ["none", "note", "warning", "error"]},  # 3.27.10
    message=MESSAGE,
    locations={"type": "array", "items": LOCATION},  # 3.27.12
    properties=BAG,
)
RUN = closed(
    ["tool"],  # 3.14.6
    tool=closed(["driver"], driver=DRIVER, properties=BAG),  # 3.18.2
    results={"type": ["array", "null"], "items": RESULT},  # 3.14.23
    columnKind={"enum": ["utf16CodeUnits", "unicodeCodePoints"]},  # 3.14.17
    properties=BAG,
)
LOG = closed(
    ["version", "runs"],  # 3.13.2, 3.13.4
    **{"$schema": {"type": "string", "format": "uri"}},
    version={"const": "2.1.0"},
    runs={"type": ["array", "null"], "items": RUN},
    properties=BAG,
)  # fmt: skip

PAGES = (
    PageFinding("stories/año nuevo/", 1, "link-name", ("c487ae",), "2.4.4", "A", "fails", "No name.", "Write one."),
    PageFinding("", 9, "text-contrast", ("afw4f7",), "1.4.3", "AA", "unsure", "Look.", ""),
    PageFinding("404.html", 4, "time-readable", (), "", "", "fails", "No time.", ""),
)  # fmt: skip
COPY = (
    CopyFinding("stories/a story.md", 3, 9, "fault", "county", "No county.", "Did you mean it?"),
    CopyFinding("station.yaml", 1, 1, "concern", "asks", "Said on air.", ""),
)
REPORTS = [Report(), Report(PAGES), Report((), COPY), Report(PAGES, COPY)]


def sarif(report: Report) -> Any:
    return json.loads(as_sarif(report))


@pytest.mark.parametrize("report", REPORTS)
def test_reports_are_what_the_standard_requires(report: Report) -> None:
    Draft202012Validator.check_schema(LOG)
    Draft202012Validator(LOG, format_checker=Draft202012Validator.FORMAT_CHECKER).validate(sarif(report))


@pytest.mark.parametrize("report", REPORTS)
def test_every_result_names_a_rule_of_the_driver_once(report: Report) -> None:
    (run,) = sarif(report)["runs"]
    known = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
    assert len(known) == len(set(known))  # 3.49.3: ids of one component's rules differ
    assert {result["ruleId"] for result in run["results"]} == set(known)
    assert len(run["results"]) == len(report.pages) + len(report.copy)


BREAKINGS: list[Callable[[Any], object]] = [
    lambda log: log.pop("version"),
    lambda log: log.update(version="2.0.0"),
    lambda log: log["runs"][0].pop("tool"),
    lambda log: log["runs"][0]["tool"]["driver"].pop("name"),
    lambda log: log["runs"][0]["results"][0].pop("message"),
    lambda log: log["runs"][0]["results"][0]["message"].clear(),
    lambda log: log["runs"][0]["results"][0].update(level="fatal"),
    lambda log: log["runs"][0]["results"][0].update(check="mine"),
    lambda log: log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"].update(
        startLine=0
    ),
    lambda log: log["runs"][0]["tool"]["driver"]["rules"][0].pop("id"),
]


@pytest.mark.parametrize("number", range(len(BREAKINGS)))
def test_the_fragment_refuses_what_the_standard_refuses(number: int) -> None:
    log = copy.deepcopy(sarif(Report(PAGES, COPY)))
    BREAKINGS[number](log)
    with pytest.raises(ValidationError):
        Draft202012Validator(LOG).validate(log)


# Our own format, as DEVELOPERS.md describes it.
JSON_REPORT = closed(
    ["findings", "copy", "rules"],
    findings={
        "type": "array",
        "items": closed(
            ["page", "line", "check", "act", "criterion", "level", "verdict", "message", "instead"],
            page=STRING,
            line=POSITIVE,
            check=NOT_EMPTY,
            act={"type": "array", "items": {"type": "string", "pattern": "^[a-z0-9]{6}$"}},
            criterion={"type": "string", "pattern": r"^(|[1-4]\.\d\.\d{1,2})$"},
            level={"enum": ["", "A", "AA", "AAA"]},
            verdict={"enum": ["fails", "unsure"]},
            message=NOT_EMPTY,
            instead=STRING,
        ),
    },
    copy={
        "type": "array",
        "items": closed(
            ["file", "line", "column", "weight", "check", "message", "instead"],
            file=NOT_EMPTY,
            line=POSITIVE,
            column=POSITIVE,
            weight={"enum": ["fault", "concern"]},
            check=NOT_EMPTY,
            message=NOT_EMPTY,
            instead=STRING,
        ),
    },
    rules={"type": "array", "items": {"type": "string"}, "uniqueItems": True},
)


@pytest.mark.parametrize("report", REPORTS)
def test_the_json_report_keeps_its_shape(report: Report) -> None:
    Draft202012Validator(JSON_REPORT).validate(json.loads(as_json(report)))


# The rules of which bytes decide every case: W3C, ACT rules, August 2026.
CORE = frozenset(
    [
        "09o5cg",
        "23a2a8",
        "24afc2",
        "2779a5",
        "2t702h",
        "307n5z",
        "3ea0c8",
        "46ca7f",
        "4e8ab6",
        "59796f",
        "5b7ae0",
        "5c01ea",
        "5f99a7",
        "674b10",
        "6a7281",
        "6cfa84",
        "73f2c2",
        "78fd32",
        "7d6734",
        "8fc3b6",
        "97a4e1",
        "9e45ec",
        "a25f45",
        "afw4f7",
        "b4f0c3",
        "b5c3f8",
        "bc4a75",
        "bc659a",
        "bf051a",
        "bisz58",
        "c487ae",
        "cae760",
        "d0f69e",
        "de46e4",
        "e086e5",
        "e6952f",
        "ff89c9",
        "ffd0e9",
        "in6db8",
        "kb1m8s",
        "m6b1q3",
    ]
)


def test_every_core_rule_is_listed_and_no_check_cites_a_criterion_that_is_gone() -> None:
    from sitegen.proof.checks import FAMILIES

    assert len(CORE) == 41
    assert set(json.loads(as_json(Report()))["rules"]) >= CORE
    for family in FAMILIES:
        for rule in family.rules:
            assert rule.criterion != "4.1.1"  # WCAG 2.2 has no such criterion any more
            assert bool(rule.criterion) == bool(rule.level)
