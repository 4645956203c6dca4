"""Every text and background colour in use on an edition's pages, as a table and as a sheet to look at."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

from sitegen.proof.contrast.engine import ContrastEngine, all_scenarios
from sitegen.proof.contrast.palette import as_swatches, as_table, palette
from sitegen.proof.document import parse
from sitegen.site.build import Made
from sitegen.site.errors import MachineError
from sitegen.site.making import content_bytes
from sitegen.site.onestep import put


def palette_of(made: Made, address: str) -> tuple[str, str]:
    """The palette of some made pages as lines of text and as an HTML page. `address` is the site's public one."""

    def load(path: str) -> bytes | None:
        return content_bytes(made.files[path]) if path in made.files else None

    engine = ContrastEngine(load, urlsplit(address).path.lstrip("/"))
    pages = (
        (path, parse(content_bytes(content)))
        for path, content in sorted(made.files.items())
        if path.endswith(".html")
    )
    pairs = palette(engine, pages, all_scenarios())
    return as_table(pairs), as_swatches(pairs)


def write_sheet(folder: Path, sheet: str) -> Path:
    """Writes the sheet into the folder of reports. Raises MachineError when the disk refuses; then the old sheet stands."""
    target = folder / "palette.html"
    try:
        put(target, sheet.encode())
    except OSError as error:
        raise MachineError(f"'{target}' cannot be written: {error.strerror or error}.") from error
    return target
