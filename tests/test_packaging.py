"""The constraints file: an exact version for everything a declared dependency needs, and no place to get it from."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
CONSTRAINTS = (ROOT / ".ci" / "constraints.txt").read_text("utf-8")


def pinned() -> dict[str, str]:
    lines = [line for line in CONSTRAINTS.splitlines() if line and not line.startswith("#")]
    return dict(line.split("==") for line in lines)


def declared() -> list[Requirement]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    texts = [
        *project["build-system"]["requires"],
        *project["project"]["dependencies"],
        *project["project"]["optional-dependencies"]["test"],
    ]
    return [Requirement(text) for text in texts]


def test_each_line_is_a_name_and_a_version() -> None:
    for line in CONSTRAINTS.splitlines():
        assert line.startswith("#") or re.fullmatch(r"[a-z0-9-]+==[0-9][0-9a-z.]*", line), line
    assert "://" not in CONSTRAINTS
    assert list(pinned()) == sorted(pinned())


def test_everything_needed_is_pinned_within_what_is_declared() -> None:
    waiting, seen, unseen = declared(), set[str](), set[str]()
    while waiting:
        needed = waiting.pop()
        name = canonicalize_name(needed.name)
        assert name in pinned(), f"{name} has no version in .ci/constraints.txt"
        assert needed.specifier.contains(pinned()[name], prereleases=True), (
            f"{name} {pinned()[name]} is not {needed.specifier}"
        )
        if name in seen:
            continue
        seen.add(name)
        try:
            requires = distribution(name).requires or []
        except PackageNotFoundError:
            # What pip needs to build a wheel it installs apart, so its further needs are not known here.
            unseen.add(name)
            continue
        for text in requires:
            further = Requirement(text)
            if further.marker is None or further.marker.evaluate({"extra": ""}):
                waiting.append(further)
    assert unseen <= {"hatchling"}
    if not unseen:
        assert pinned().keys() <= seen, f"nothing needs {sorted(pinned().keys() - seen)}"
