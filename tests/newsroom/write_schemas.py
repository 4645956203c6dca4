"""Writes the schemas of a producer's files into the program's folder, after they changed."""

from __future__ import annotations

from pathlib import Path

from sitegen.newsroom.schemas import NAMES, schema_text

FOLDER = Path(__file__).parents[2] / "sitegen" / "schemas"


def main() -> None:
    for name in NAMES:
        (FOLDER / f"{name}.schema.json").write_text(schema_text(name), "utf-8", newline="\n")


if __name__ == "__main__":
    main()
