"""What the desk says at the terminal."""

from __future__ import annotations

import sys

import pytest

from sitegen.desk.log import say, say_mistake

EVIL = "a.md\nNothing was found.\x1b[2J"


def test_neither_a_line_nor_a_mistake_drives_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    say(f"Saved {EVIL}")
    assert capsys.readouterr().err == "Saved a.md\\u000aNothing was found.\\u001b[2J\n"
    try:
        raise ValueError(EVIL)
    except ValueError:
        say_mistake()
    said = capsys.readouterr().err
    assert "Traceback" in said and "ValueError: a.md" in said and "\x1b" not in said


def test_a_terminal_that_is_gone_ends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    class Gone:
        def write(self, text: str) -> int:
            raise BrokenPipeError(32, "Broken pipe")

    monkeypatch.setattr(sys, "stderr", Gone())
    say("Anything.")
