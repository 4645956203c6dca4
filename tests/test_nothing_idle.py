"""Nothing in the program stands there for nobody, or twice: no name that only tests use, no parameter that is never looked at, no table of the same."""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "sitegen"
THEMES = SOURCE.parent / "themes"
ASKED_FOR_BY_NAME = re.compile(r"_|__\w+__")
"""What the language itself asks for, and the name of what nobody needs."""


@cache
def parsed() -> dict[str, ast.Module]:
    return {
        str(path.relative_to(SOURCE.parent)): ast.parse(path.read_text("utf-8"))
        for path in sorted(SOURCE.rglob("*.py"))
    }


def words_of_templates() -> set[str]:
    files = [*THEMES.rglob("*.html"), *THEMES.rglob("*.xml"), *SOURCE.rglob("*.html")]
    return {word for path in files for word in re.findall(r"\w+", path.read_text("utf-8"))}


def loaded(trees: Iterable[ast.Module]) -> set[str]:
    """Every name that is read anywhere: as it is, behind a dot, or in an annotation written as text. An import reads nothing."""
    found: set[str] = set()
    for tree in trees:
        for node in ast.walk(tree):
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
                found.add(node.id)
            elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load):
                found.add(node.attr)
    return found


def targets(node: ast.AST) -> Iterator[ast.expr]:
    if isinstance(node, ast.Assign):
        yield from node.targets
    elif isinstance(node, ast.AnnAssign):
        yield node.target


def defined(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """(line, name) of what a module, and a class that inherits from nothing, defines; and of what objects keep for themselves.

    Methods of other classes may be those that a library calls.
    """
    for statement in tree.body:
        if isinstance(statement, ast.FunctionDef | ast.ClassDef):
            yield statement.lineno, statement.name
        for target in targets(statement):
            for each in ast.walk(target):
                if isinstance(each, ast.Name):
                    yield statement.lineno, each.id
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef) and not node.bases:
            for method in node.body:
                if isinstance(method, ast.FunctionDef):
                    yield method.lineno, method.name
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            for target in targets(node):
                if isinstance(target, ast.Attribute) and target.attr.startswith("_"):
                    yield node.lineno, target.attr


def idle_names(trees: dict[str, ast.Module], elsewhere: set[str]) -> list[str]:
    used = loaded(trees.values()) | elsewhere
    return [
        f"{path}:{line} {name}"
        for path, tree in trees.items()
        for line, name in sorted(set(defined(tree)))
        if name not in used and not ASKED_FOR_BY_NAME.fullmatch(name)
    ]


def idle_parameters(trees: dict[str, ast.Module]) -> list[str]:
    """Parameters that a private function never reads, where it is only ever called by name: nobody prescribes their number."""
    uses: Counter[str] = Counter()
    calls: Counter[str] = Counter()
    for tree in trees.values():
        for node in ast.walk(tree):
            for each, count in ((node, uses), (node.func if isinstance(node, ast.Call) else None, calls)):
                if isinstance(each, ast.Name):
                    count[each.id] += 1
                elif isinstance(each, ast.Attribute):
                    count[each.attr] += 1
    found = []
    for path, tree in trees.items():
        for node in ast.walk(tree):
            if not isinstance(node, ast.FunctionDef) or not node.name.startswith("_"):
                continue
            if node.name.startswith("__") or node.decorator_list or uses[node.name] != calls[node.name]:
                continue
            read = loaded([ast.Module(node.body, [])])
            parameters = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
            found += [
                f"{path}:{node.lineno} {node.name}({each.arg})"
                for each in parameters
                if each.arg not in read and each.arg not in ("self", "cls")
            ]
    return found


LONGEST_VALUE, LARGEST_BODY = 40, 16
"""Signs of a value and parts of a body that may stand in several modules: a type's other name, a conversion of two lines."""


def same_twice(trees: dict[str, ast.Module]) -> list[list[str]]:
    """Values that several modules write out, and functions that do the same by the same words."""
    found: dict[str, list[str]] = {}
    for path, tree in trees.items():
        for statement in tree.body:
            if isinstance(statement, ast.Assign | ast.AnnAssign) and statement.value is not None:
                written = ast.unparse(statement.value)
                if len(written) >= LONGEST_VALUE:
                    found.setdefault(written, []).append(f"{path}:{statement.lineno}")
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                told = ast.get_docstring(node) is not None
                body = ast.Module(node.body[told:], [])
                if sum(1 for _ in ast.walk(body)) - 1 > LARGEST_BODY:
                    written = f"{ast.unparse(node.args)}: {ast.unparse(body)}"
                    found.setdefault(written, []).append(f"{path}:{node.lineno}")
    return [places for places in found.values() if len(places) > 1]


def test_every_name_has_a_user_in_the_program() -> None:
    assert idle_names(parsed(), words_of_templates()) == []


def test_every_parameter_of_a_private_function_is_looked_at() -> None:
    assert idle_parameters(parsed()) == []


def test_nothing_is_written_out_twice() -> None:
    assert same_twice(parsed()) == []


def test_what_is_idle_is_recognised() -> None:
    tree = ast.parse(
        "A, B = 1, 2\n"
        "class C:\n def __init__(self): self._kept = A\n def m(self): return self.n()\n def n(self): pass\n"
        "class D(C):\n def called_by_a_library(self): pass\n"
        "def _f(x, y, *, z): return x\n"
        "def _in_a_table(x): pass\n"
        "T = [_in_a_table]\n"
        "D()\n_f(1, 2, z=T)\n"
    )
    trees = {"it.py": tree}
    assert idle_names(trees, set()) == ["it.py:1 B", "it.py:3 _kept", "it.py:4 m"]
    assert idle_names(trees, {"B", "m"}) == ["it.py:3 _kept"]
    assert idle_parameters(trees) == ["it.py:8 _f(y)", "it.py:8 _f(z)"]
    twice = {
        "one.py": ast.parse(
            "MONTHS = ('January', 'February', 'March', 'April')\nDAYS = ('Mo', 'Tu')\ndef f(): return 1"
        ),
        "two.py": ast.parse(
            "_M = ('January','February','March', 'April')\nDAYS = ('Mo', 'Tu')\ndef f(): return 1"
        ),
    }
    assert same_twice(twice) == [["one.py:1", "two.py:1"]]
    body = "\n return sorted((day for day in days if day.when > near), key=str)"
    one, other = (
        ast.parse(f"def {name}(days, near):{more}{body}") for name, more in (("f", ""), ("g", "\n 'Said.'"))
    )
    assert same_twice({"one.py": one, "two.py": other}) == [["one.py:1", "two.py:1"]]
