"""Turns findings into reports: text for people, JSON for programs. The order is the same whatever order they came in."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Literal

from sitegen.proof.checks import COVERED
from sitegen.proof.checks.base import Level, PageFinding


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
        reached = {"A": ("", "A"), "AA": ("", "A", "AA"), "AAA": ("", "A", "AA", "AAA"), "": ("",)}[level]
        return any(finding.weight == "fault" for finding in self.copy) or any(
            finding.level in reached for finding in self.pages
        )


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
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def as_text(report: Report) -> str:
    """The report for people: file by file, each finding with its place, what is wrong, and what to write instead."""
    lines: list[str] = []
    for copy in _copy_in_order(report):
        lines.append(f"{copy.file}:{copy.line}:{copy.column}: {copy.weight}: {copy.message}")
        if copy.instead:
            lines.append(f"    {copy.instead}")
    for page in _pages_in_order(report):
        criterion = f" (WCAG {page.criterion}, {page.level})" if page.criterion else ""
        lines.append(f"{page.page}:{page.line}: {page.verdict}: {page.message}{criterion}")
        if page.instead:
            lines.append(f"    {page.instead}")
    lines.append(_summary(report))
    return "\n".join(lines) + "\n"


def _summary(report: Report) -> str:
    counts = [
        (sum(finding.weight == "fault" for finding in report.copy), "fault", "faults"),
        (sum(finding.weight == "concern" for finding in report.copy), "concern", "concerns"),
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
