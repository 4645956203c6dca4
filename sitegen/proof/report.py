"""Turns findings into reports: text for people, JSON and SARIF for programs. The order is the same whatever order they came in."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from typing import Final, Literal
from urllib.parse import quote

from sitegen import __version__
from sitegen.newsroom.visible import one_line
from sitegen.proof.checks import COVERED
from sitegen.proof.checks.base import Level, PageFinding

_REACHED: Final[dict[Level, tuple[Level, ...]]] = {
    "": ("",),
    "A": ("", "A"),
    "AA": ("", "A", "AA"),
    "AAA": ("", "A", "AA", "AAA"),
}
"""The levels of findings that count at a level; those that belong to no criterion count at every one."""


SILENT_EDIT: Final = "silent-edit"
"""The check of what changed since the copy was accepted."""


@dataclass(frozen=True, slots=True)
class CopyFinding:
    """One thing in what was written that is a fault, or that somebody should look at."""

    file: str
    """Path below the station's root, with forward slashes."""
    line: int
    """Counted from 1."""
    column: int
    """Counted from 1."""
    weight: Literal["fault", "concern"]
    check: str
    message: str
    """What is wrong, in one sentence."""
    instead: str
    """What to write instead; may be empty where the message says it."""


@dataclass(frozen=True, slots=True)
class Report:
    """All that a proof found."""

    pages: tuple[PageFinding, ...] = ()
    copy: tuple[CopyFinding, ...] = ()
    rules: tuple[str, ...] = COVERED
    """Ids of the ACT rules that were checked."""

    def stops(self, level: Level = "AA") -> bool:
        """Whether this may not be published: a fault in the copy, or a page that isn't shown to be right up to this level.

        Findings that belong to no criterion count at every level.
        """
        return any(finding.weight == "fault" for finding in self.copy) or any(
            finding.level in _REACHED[level] for finding in self.pages
        )

    @property
    def concerns(self) -> int:
        """How many concerns there are in the copy."""
        return sum(finding.weight == "concern" for finding in self.copy)

    @property
    def said_once(self) -> Report:
        """What no later report can say again once the copy is published: it was found by what was accepted before."""
        return Report(copy=tuple(finding for finding in self.copy if finding.check == SILENT_EDIT))

    def without_concerns(self) -> Report:
        """The same report with only what keeps a site from being published in its copy."""
        return replace(self, copy=tuple(finding for finding in self.copy if finding.weight == "fault"))


def _pages_in_order(report: Report) -> list[PageFinding]:
    return sorted(report.pages, key=lambda f: (f.page, f.line, f.check, f.verdict, f.message, f.act))


def _copy_in_order(report: Report) -> list[CopyFinding]:
    return sorted(report.copy, key=lambda f: (f.file, f.line, f.column, f.weight, f.check, f.message))


def as_json(report: Report) -> str:
    """The report as one JSON object, ending with a line feed.

    `findings` holds the pages' findings, `copy` the copy's, `rules` the ids of the ACT rules that were checked.
    """
    findings = [
        {
            "page": f.page,
            "line": f.line,
            "check": f.check,
            "act": list(f.act),
            "criterion": f.criterion,
            "level": f.level,
            "verdict": f.verdict,
            "message": f.message,
            "instead": f.instead,
        }
        for f in _pages_in_order(report)
    ]
    copy = [
        {
            "file": f.file,
            "line": f.line,
            "column": f.column,
            "weight": f.weight,
            "check": f.check,
            "message": f.message,
            "instead": f.instead,
        }
        for f in _copy_in_order(report)
    ]
    whole = {"findings": findings, "copy": copy, "rules": sorted(report.rules)}
    return _as_utf8(json.dumps(whole, ensure_ascii=False, indent=1)) + "\n"


def _as_utf8(text: str) -> str:
    """JSON that UTF-8 can hold: bytes of a file's name that are no letter become JSON's own escapes."""
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


_SARIF_LEVELS: Final = {"fails": "error", "fault": "error", "unsure": "warning", "concern": "note"}


def as_sarif(report: Report) -> str:
    """The report as SARIF 2.1.0 (https://docs.oasis-open.org/sarif/sarif/v2.1.0/), ending with a line feed.

    Paths are relative to the folder that was proofed. Each result carries its criterion, level, ACT rules and verdict as properties.
    """
    results: list[dict[str, object]] = []
    for copy in _copy_in_order(report):
        results.append(
            _sarif_result(
                copy.check, copy.weight, copy.message, copy.instead, copy.file, copy.line, copy.column, {}
            )
        )
    for page in _pages_in_order(report):
        properties: dict[str, object] = {
            "criterion": page.criterion,
            "level": page.level,
            "act": list(page.act),
        }
        results.append(
            _sarif_result(
                page.check, page.verdict, page.message, page.instead, page.page, page.line, None, properties
            )
        )
    rules: dict[str, dict[str, object]] = {}
    for finding in _pages_in_order(report):
        rule = rules.setdefault(finding.check, {"id": finding.check})
        if finding.act:
            rule["helpUri"] = f"https://www.w3.org/WAI/standards-guidelines/act/rules/{finding.act[0]}/"
    for written in _copy_in_order(report):
        rules.setdefault(written.check, {"id": written.check})
    driver = {"name": "sitegen", "version": __version__, "rules": [rules[check] for check in sorted(rules)]}
    whole = {
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}],
    }
    return _as_utf8(json.dumps(whole, ensure_ascii=False, indent=1)) + "\n"


def _sarif_result(
    check: str,
    verdict: str,
    message: str,
    instead: str,
    file: str,
    line: int,
    column: int | None,
    properties: dict[str, object],
) -> dict[str, object]:
    region = {"startLine": max(line, 1)} | ({} if column is None else {"startColumn": max(column, 1)})
    place = {"artifactLocation": {"uri": quote(file, errors="surrogateescape") or "."}, "region": region}
    return {
        "ruleId": check,
        "level": _SARIF_LEVELS[verdict],
        "message": {"text": f"{message} {instead}".strip()},
        "locations": [{"physicalLocation": place}],
        "properties": {"verdict": verdict, **properties},
    }


def as_text(report: Report, level: Level = "AA") -> str:
    """The report for people, faults first: each finding with its place, what is wrong, and what to write instead.

    What pages are not held to at this level is counted, not listed.
    """
    lines = copy_lines(report)
    held = [page for page in _pages_in_order(report) if page.level in _REACHED[level]]
    for page in held:
        criterion = f" (WCAG {page.criterion}, {page.level})" if page.criterion else ""
        lines.append(one_line(f"/{page.page}:{page.line}: {page.verdict}: {page.message}{criterion}"))
        if page.instead:
            lines.append(one_line(f"    {page.instead}"))
    lines.append(_summary(replace(report, pages=tuple(held))))
    above = len(report.pages) - len(held)
    if above:
        lines.append(f"{above} more on pages above level {level}; --level AAA lists them.")
    return "\n".join(lines) + "\n"


def copy_lines(report: Report) -> list[str]:
    """What is to be said of the copy, a line or two for each finding, faults first."""
    lines: list[str] = []
    findings = _copy_in_order(report)
    for weight in ("fault", "concern"):
        for copy in findings:
            if copy.weight == weight:
                spot = f"{copy.file}:{copy.line}:{copy.column}"
                lines.append(one_line(f"{spot}: {copy.weight}: {copy.message}"))
                if copy.instead:
                    lines.append(one_line(f"    {copy.instead}"))
    return lines


def _summary(report: Report) -> str:
    counts = [
        (sum(finding.weight == "fault" for finding in report.copy), "fault", "faults"),
        (report.concerns, "concern", "concerns"),
        (
            sum(finding.verdict == "fails" for finding in report.pages),
            "failure on pages",
            "failures on pages",
        ),
        (
            sum(finding.verdict == "unsure" for finding in report.pages),
            "place to look at",
            "places to look at",
        ),
    ]
    said = [f"{count} {one if count == 1 else many}" for count, one, many in counts if count]
    return ", ".join(said) + "." if said else "Nothing found."
