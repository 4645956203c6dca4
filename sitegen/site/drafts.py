"""Asking a draft's few questions at a terminal, writing its file where none is yet, and the schemas beside content/."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TextIO

from sitegen.newsroom.drafting import Question
from sitegen.newsroom.schemas import ID, NAMES, schema_text
from sitegen.site.errors import MachineError, RefusedError


def ask_questions(
    questions: Sequence[Question], given: Iterable[str], answers_in: TextIO, words_out: TextIO
) -> dict[str, str]:
    """The answers by key: those `given` as KEY=ANSWER, the rest asked at a terminal, each until it can be used.

    Where the input is no terminal nothing is asked, and what was not given is left open. Raises RefusedError
    for what is not KEY=ANSWER, a key that no question has, and an input that ends in the middle.
    """
    answers: dict[str, str] = {}
    keys = list(dict.fromkeys(question.key for question in questions))
    for pair in given:
        key, sign, answer = pair.partition("=")
        if not sign or key not in keys:
            raise RefusedError(
                f"'{pair}' answers no question. Write KEY=ANSWER with one of: {', '.join(keys)}."
            )
        answers[key] = answer
    if not answers_in.isatty():
        return answers
    for question in questions:
        while question.key not in answers and question.needed(answers):
            words_out.write(f"{question.words} (such as: {question.example})\n> ")
            words_out.flush()
            line = answers_in.readline()
            if not line:
                raise RefusedError("Stopped; nothing was written.")
            problem = question.check(line.strip())
            if problem:
                words_out.write(f"{problem}\n")
            else:
                answers[question.key] = line.strip()
    return answers


def write_draft(root: Path, path: str, text: str) -> None:
    """Writes a new file below the root. Raises RefusedError when there is one already, MachineError when the
    disk refuses."""
    target = root / path
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        # O_EXCL: never over a file that appeared since the question was asked.
        descriptor = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
    except FileExistsError:
        raise RefusedError(f"'{path}' exists already. Choose another name, or edit that file.") from None
    except OSError as error:
        raise MachineError(f"'{path}' cannot be written: {error.strerror or error}.") from error
    with os.fdopen(descriptor, "w", encoding="utf-8", newline="\n") as file:
        file.write(text)


SCHEMAS = "schemas"
"""The folder of the schemas, beside content/: seen by who must show it to an editor, read by no build."""


def write_schemas(root: Path) -> tuple[str, ...]:
    """Writes the schemas of a producer's files into the station's folder, over older ones; their paths below the root.

    Raises RefusedError when a file of somebody else's is in the way, MachineError when the disk refuses.
    """
    texts = {f"{SCHEMAS}/{name}.schema.json": schema_text(name) for name in NAMES}
    for path in texts:
        if not _is_ours(root / path):
            raise RefusedError(f"'{path}' is not a schema of this program's. Move it away first.")
    for path, text in texts.items():
        part = root / f"{path}.part"
        try:
            part.parent.mkdir(parents=True, exist_ok=True)
            part.write_text(text, "utf-8", newline="\n")
            part.replace(root / path)
        except OSError as error:
            raise MachineError(f"'{path}' cannot be written: {error.strerror or error}.") from error
        finally:
            part.unlink(missing_ok=True)
    return tuple(texts)


def _is_ours(path: Path) -> bool:
    """True for a schema of ours, of whatever version, and for nothing at all."""
    try:
        held = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return True
    except (OSError, ValueError):
        return False
    return isinstance(held, dict) and str(held.get("$id", "")).startswith(ID)
