"""Asking a draft's few questions at a terminal, writing its file where none is yet, and the schemas beside content/."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TextIO

from sitegen.newsroom.drafting import Question
from sitegen.newsroom.schemas import ID, NAMES, schema_text
from sitegen.newsroom.visible import one_line
from sitegen.site.errors import MachineError, RefusedError
from sitegen.site.onestep import put, put_new


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
            words_out.write(f"{one_line(f'{question.words} (such as: {question.example})')}\n> ")
            words_out.flush()
            line = answers_in.readline()
            if not line:
                raise RefusedError("Stopped; nothing was written.")
            problem = question.check(line.strip())
            if problem:
                words_out.write(f"{one_line(problem)}\n")
            else:
                answers[question.key] = line.strip()
    return answers


def write_drafts(root: Path, texts: Mapping[str, str]) -> None:
    """Writes new files below the root, by their paths: all, or none. Raises RefusedError when there is one already, MachineError
    when the disk refuses."""
    try:
        put_new({root / path: text.encode() for path, text in texts.items()})
    except FileExistsError as error:
        raise RefusedError(
            f"'{_below(root, error)}' exists already. Choose another name, or edit that file. Nothing was written."
        ) from None
    except OSError as error:
        raise MachineError(
            f"'{_below(root, error)}' cannot be written: {error.strerror or error}. Nothing was written."
        ) from error


def _below(root: Path, error: OSError) -> str:
    """The file that an error of `onestep` names, from the root."""
    return Path(error.filename).relative_to(root).as_posix()


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
        try:
            put(root / path, text.encode())
        except OSError as error:
            raise MachineError(f"'{path}' cannot be written: {error.strerror or error}.") from error
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
