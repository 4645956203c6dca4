"""The shape of the program: imports point one way, the clock is read once, the network never, the start is light."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "sitegen"
ROOMS = (
    "newsroom", "intake", "geography", "clock", "edition", "typeset", "proof", "site", "desk", "cli",
)  # fmt: skip
"""A module imports only from its own room and from rooms to its left.

There is no exception: the newsroom's reader of folders is handed geography's reader of maps by whoever calls it.
"""
MODULES = sorted(SOURCE.rglob("*.py"))
NETWORK = frozenset(
    {
        "aiohttp", "asyncio", "ftplib", "http", "httpx", "imaplib", "poplib", "requests", "smtplib", "socket",
        "socketserver", "ssl", "telnetlib", "urllib3", "webbrowser", "xmlrpc",
    }
)  # fmt: skip
LISTENING = frozenset({"http", "http.server", "socketserver"})
"""What the desk may import: it answers on this machine, and asks nobody."""
HEAVY = ("jinja2", "PIL", "markdown_it", "babel", "yaml", "selectolax", "icalendar")


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"), str(path))


def room(module: str) -> str:
    """`newsroom` of `sitegen.newsroom.hours`; empty for the package itself, which only has the version."""
    names = module.split(".")
    return names[1] if len(names) > 1 else ""


def name_of(path: Path) -> str:
    names = path.relative_to(SOURCE.parent).with_suffix("").parts
    return ".".join(names[:-1] if names[-1] == "__init__" else names)


def imported(tree: ast.Module, module: str, is_package: bool) -> Iterator[str]:
    """Every module that is imported, inside functions too, relative imports made absolute."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            if node.level:
                base = module.split(".")[: len(module.split(".")) - node.level + is_package]
                yield ".".join([*base, *([node.module] if node.module else [])])
            elif node.module == "sitegen":
                # `from sitegen import x` names a room, or the version.
                yield from (f"sitegen.{alias.name}" for alias in node.names if alias.name != "__version__")
            elif node.module:
                yield node.module


def test_every_room_is_in_the_order() -> None:
    rooms = {room(name_of(path)) for path in MODULES} - {"", "__main__"}
    assert rooms == set(ROOMS)


def test_the_map_shows_every_room_in_the_order() -> None:
    """The diagram and the table for developers; data without code (`schemas`) has a line in the table alone."""
    text = (SOURCE.parent / "DEVELOPERS.md").read_text("utf-8")
    diagram = text.partition("```")[2].partition("```")[0]
    drawn = [name for name in re.findall(r"─▶ (\w+)(?= |$)", diagram, re.M) if name != "a"]
    assert drawn == [name for name in ROOMS if name != "cli"]
    listed = set(re.findall(r"^\| `sitegen/(\w+)(?:/|\.py)` \|", text, re.M))
    assert listed == {*ROOMS, "schemas"}


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_imports_point_left(path: Path) -> None:
    module = name_of(path)
    here = room(module)
    for used in imported(parsed(path), module, path.name == "__init__.py"):
        if used.split(".")[0] != "sitegen" or used == "sitegen":
            continue
        if here == "__main__":
            assert room(used) == "cli"
        else:
            assert ROOMS.index(room(used)) <= ROOMS.index(here), f"{module} must not import {used}"


def test_the_direction_is_read_from_every_kind_of_import() -> None:
    tree = ast.parse(
        "import sitegen.a.b\nfrom sitegen.c import d\nfrom sitegen import e\nfrom . import f\nfrom ..g import h\ndef i():\n import sitegen.j"
    )
    found = set(imported(tree, "sitegen.x.y", False))
    assert found == {"sitegen.a.b", "sitegen.c", "sitegen.e", "sitegen.x", "sitegen.g", "sitegen.j"}


READERS = frozenset({"now", "utcnow", "today", "time_ns", "localtime", "gmtime", "ctime"})


def clock_calls(tree: ast.Module) -> Iterator[int]:
    """Lines that read the present moment, hand on what reads it, or import it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in READERS:
            yield node.lineno
        elif isinstance(node, ast.Attribute) and node.attr in READERS | {"time"}:
            owner = (
                node.value.attr if isinstance(node.value, ast.Attribute) else getattr(node.value, "id", "")
            )
            if (owner in ("datetime", "date") and node.attr != "time") or owner == "time":
                yield node.lineno
        elif isinstance(node, ast.ImportFrom) and node.module == "time":
            yield node.lineno


@pytest.mark.parametrize("path", [path for path in MODULES if name_of(path) != "sitegen.cli"], ids=name_of)
def test_only_the_command_line_reads_the_clock(path: Path) -> None:
    assert not list(clock_calls(parsed(path)))


def test_the_clock_is_recognised() -> None:
    for line in (
        "datetime.now(UTC)",
        "date.today()",
        "time.time()",
        "from time import time",
        "factory=datetime.now",
        "datetime.datetime.utcnow()",
    ):
        assert list(clock_calls(ast.parse(line))), line
    assert not list(
        clock_calls(
            ast.parse(
                "from datetime import time\nx = when.time()\nclock = time(12, 0)\nsoon = check.now + hour"
            )
        )
    )


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_nothing_reaches_for_the_network(path: Path) -> None:
    allowed = LISTENING if room(name_of(path)) == "desk" else frozenset()
    for used in imported(parsed(path), name_of(path), path.name == "__init__.py"):
        assert used in allowed or used.split(".")[0] not in NETWORK, used
        assert used not in ("urllib.request", "urllib.robotparser"), used


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_the_first_lines_say_what_a_module_is_for(path: Path) -> None:
    described = ast.get_docstring(parsed(path))
    assert described
    assert len(described.splitlines()[0]) >= 20


def test_the_start_is_light() -> None:
    """`sitegen --help` and a command that stops early must not wait for libraries they do not use."""
    listed = subprocess.run(
        [sys.executable, "-X", "importtime", "-c", "import sitegen.cli"],
        capture_output=True,
        text=True,
        check=True,
    ).stderr
    loaded = {line.rpartition("|")[2].strip().split(".")[0] for line in listed.splitlines()}
    assert "sitegen" in loaded
    assert not loaded & set(HEAVY)
