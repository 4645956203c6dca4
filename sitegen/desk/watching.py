"""Watching a station's folders: a thread that tells which files were touched, as soon as the system says so.

The system's word (inotify and its like) comes within milliseconds and costs nothing while nobody writes. It may get lost, on
network disks above all; so at long intervals everything is to be looked at anyway. It may be refused, too, where others watch
all that the system allows: then everything is looked at every few seconds, and the system is asked again.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Event, Thread

from sitegen.desk.log import say, say_mistake
from sitegen.typeset.pycache import FOLDER as COMPILED

STEP_MILLISECONDS = 15
"""An editor's save is several events; they are told together once it was quiet for so long."""
LONGEST_MILLISECONDS = 200
LOOK_ANYWAY_MILLISECONDS = 20_000
LOOK_UNTOLD_SECONDS = 2.0
"""Between looks while the system tells nothing: such a look asks for the state of every file."""
LOOKS_BEFORE_ASKING = 10
"""How many of them, before the system is asked again."""

Tell = Callable[["frozenset[str] | None"], object]
"""Told the paths that were touched, relative to the root, with forward slashes; None for `look at everything`."""


class Watch:
    """Watches from its making until it is stopped."""

    def __init__(self, root: Path, folders: tuple[Path, ...], tell: Tell) -> None:
        self._root = root.resolve()
        self._folders = tuple(folder.resolve() for folder in folders)
        self._tell = tell
        self._over = Event()
        self._thread = Thread(target=self._run, name="watch", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        self._over.set()
        self._thread.join()

    def _run(self) -> None:
        said = ""
        while True:
            try:
                self._as_told()
                why = "it gives no reason"
            except Exception as error:
                why = str(error)
            if self._over.is_set():
                return
            if why != said:
                say(
                    f"The system does not tell of saves ({why}); they are looked for every {LOOK_UNTOLD_SECONDS:g} seconds."
                )
                said = why
            for _ in range(LOOKS_BEFORE_ASKING):
                if self._over.wait(LOOK_UNTOLD_SECONDS):
                    return
                self._look(None)

    def _as_told(self) -> None:
        """Looks whenever the system says so, until it is stopped. Raises what the system has against being asked."""
        from watchfiles import watch

        for changes in watch(
            *(folder for folder in self._folders if folder.is_dir()),
            watch_filter=None,
            debounce=LONGEST_MILLISECONDS,
            step=STEP_MILLISECONDS,
            rust_timeout=LOOK_ANYWAY_MILLISECONDS,
            yield_on_timeout=True,
            stop_event=self._over,
            raise_interrupt=False,
        ):
            if self._over.is_set():
                return
            self._look(self._paths({path for _, path in changes}))

    def _look(self, paths: frozenset[str] | None) -> None:
        try:
            self._tell(paths)
        except Exception:
            # Whatever one look came to, the next save is to be seen.
            say_mistake()

    def _paths(self, touched: set[str]) -> frozenset[str] | None:
        found: set[str] = set()
        for name in touched:
            path = Path(name)
            if not path.is_relative_to(self._root):
                return None
            # What editors write beside a file that they save, and the program beside its templates.
            is_beside = path.name.startswith(".") or path.name.endswith(("~", ".swp", ".tmp"))
            if not is_beside and COMPILED not in path.parts:
                found.add(path.relative_to(self._root).as_posix())
        return frozenset(found) if touched else None
