"""The command line: parse arguments, call one function, print. The only place that reads the present moment."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TextIO

from sitegen import __version__

if TYPE_CHECKING:
    from sitegen.newsroom.records import Newsroom, Reading, Station
    from sitegen.proof.report import Report
    from sitegen.site.build import Built
    from sitegen.site.press import Progress

PREVIEW_PORT = 8237
"""No service is registered at it (from memory)."""

DONE, ERRORS_FOUND, MACHINE_FAILED = 0, 1, 3
"""Wrong usage ends with 2: the reader of arguments itself says so."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit status: 0 done, 1 errors in content or pages, 2 wrong usage,
    3 the machine failed."""
    parser = _parser()
    options, more = parser.parse_known_args(arguments)
    if more:
        # argparse closes the list of answers at the first option; those behind it are answers too.
        if options.run is not _draft or any(word.startswith("-") or "=" not in word for word in more):
            parser.error(f"unrecognized arguments: {' '.join(more)}")
        options.answers += more
    from sitegen.site.errors import SiteError

    for stream in (sys.stdout, sys.stderr):
        with suppress(AttributeError, ValueError):  # not a stream of text, or closed
            stream.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    if getattr(options, "format", "text") != "text":
        with suppress(AttributeError, ValueError):
            sys.stdout.reconfigure(encoding="utf-8")  # type: ignore[union-attr]  # JSON is (RFC 8259)
    try:
        return int(options.run(options))
    except SiteError as error:
        _say(f"sitegen: {error}", sys.stderr)
        return error.exit_status
    except KeyboardInterrupt:
        _say("sitegen: stopped; the site is as it was or the next build finishes the work.", sys.stderr)
        return MACHINE_FAILED
    except OSError as error:
        name = f" '{error.filename}'" if error.filename else ""
        _say(f"sitegen: the machine refused{name}: {error.strerror or error}.", sys.stderr)
        return MACHINE_FAILED


def run() -> NoReturn:
    """The command as a process of its own, which ends here.

    Records and models are trees that live as long as the process: neither does the collector of garbage find anything in them
    (it took about a fifth of a build after one edit among ten thousand stories), nor need they be taken apart at the end.
    """
    gc.disable()
    _open_what_was_closed()
    try:
        status = main()
    except Exception:
        # Python itself would end with 1, which says that something is wrong with the content.
        import traceback

        _say_all(traceback.format_exc().rstrip(), sys.stderr)
        _say(
            "sitegen: the program itself failed; the lines above say where. What stood before stands, or the next run mends it.",
            sys.stderr,
        )
        status = MACHINE_FAILED
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):  # closed, or taken away by `main`
            stream.flush()
    os._exit(status)


def _open_what_was_closed() -> None:
    """Opens on nothing each of the three streams that the process was started without: the next files opened would have their
    numbers, and whatever a library writes to a stream would go into them."""
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        try:
            os.fstat(number)
            is_open = getattr(sys, name) is not None
        except OSError:
            is_open = False
        if not is_open:
            nothing = os.open(os.devnull, os.O_RDWR)
            if nothing != number:
                os.dup2(nothing, number)
                os.close(nothing)
            os.set_inheritable(number, True)
            stream = os.fdopen(number, "w" if number else "r", encoding="utf-8", closefd=False)
            setattr(sys, name, stream)


def _say(line: str, stream: TextIO | None = None) -> None:
    """One line, whatever names and texts of files stand in it."""
    from sitegen.newsroom.visible import one_line

    _say_all(one_line(line), stream)


def _say_all(text: str, stream: TextIO | None = None) -> None:
    """Lines, or JSON, of which each was made one line by whoever made them."""
    from sitegen.newsroom.visible import visible

    text = visible(text)
    try:
        print(text, file=stream or sys.stdout)
    except BrokenPipeError:
        # The reader of our output went away (a pager that was closed): nothing is left to say, but what was found still counts.
        sys.stdout = None
    except OSError as error:
        raise OSError(error.errno, error.strerror, "standard output") from error


def _present() -> datetime:
    return datetime.now(UTC).replace(microsecond=0)


# --- arguments -------------------------------------------------------------------------------


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="sitegen",
        description="Builds a local station's good-news archive: every story, and what a viewer can do until when.",
        epilog="Exit status: 0 done; 1 errors found in content or pages; 2 wrong usage; 3 the machine failed.",
    )
    parser.add_argument("--version", action="version", version=f"sitegen {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    root = argparse.ArgumentParser(add_help=False)
    root.add_argument(
        "--root",
        type=Path,
        default=Path(),
        metavar="DIR",
        help="the folder that holds content/ (default: this one)",
    )
    when = argparse.ArgumentParser(add_help=False)
    when.add_argument(
        "--as-of", default="", metavar="WHEN",
        help="the moment to be true for: 2026-12-02, '2026-12-02 18:00' in the station's time, or with an offset (default: as_of in station.yaml, else the present)",
    )  # fmt: skip
    checks = argparse.ArgumentParser(add_help=False)
    checks.add_argument("--strict", action="store_true", help="count every concern as a fault")
    checks.add_argument(
        "--level",
        choices=("A", "AA", "AAA"),
        default="AA",
        help="the WCAG level pages are held to (default: AA)",
    )
    checks.add_argument(
        "--format", choices=("text", "json", "sarif"), default="text", help="how to report (default: text)"
    )

    work = argparse.ArgumentParser(add_help=False)
    work.add_argument(
        "--jobs",
        type=_processes,
        default=_processors(),
        metavar="N",
        help="how many processes make pages and pictures (default: one for each processor, here %(default)s)",
    )

    build = commands.add_parser(
        "build", parents=[root, when, checks, work], help="build the site, if nothing stands against it",
        description="Builds the whole site as of one moment into a folder, or changes nothing.",
    )  # fmt: skip
    build.add_argument(
        "--out", type=Path, metavar="DIR", help="the folder of the site (default: build/site below the root)"
    )
    build.add_argument(
        "--fresh",
        action="store_true",
        help="make everything anew, whatever the last build left in its ledger",
    )
    build.add_argument(
        "--quiet",
        action="store_true",
        help="say nothing where all went well, as under cron; what stands against it is said as ever",
    )
    build.set_defaults(run=_build)

    proof = commands.add_parser(
        "proof", parents=[root, when, checks, work], help="check the copy and the pages, and publish nothing",
        description="Checks what was written and the pages made of it. Says file, line, what is wrong and what to write instead.",
    )  # fmt: skip
    proof.add_argument("--pages", type=Path, metavar="DIR", help="check any folder of built HTML instead")
    proof.add_argument(
        "--scenarios",
        choices=("default", "all"),
        default="default",
        help="with --pages: light, wide, on a screen, at rest; or every scenario (default: default)",
    )
    proof.add_argument(
        "--palette",
        action="store_true",
        help="list the theme's text and background colours in use, with their contrast; also as build/reports/palette.html",
    )
    proof.set_defaults(run=_proof)

    draft = commands.add_parser(
        "draft", parents=[root], help="begin a story, episode, place or page file; or write the schemas for editors",
        description="Asks a few questions and writes a new file under content/ that says what is still to fill in. "
        "`draft schemas` writes JSON Schemas of all files into schemas/, for editors that check as you type.",
    )  # fmt: skip
    draft.add_argument(
        "what", choices=("story", "episode", "place", "page", "schemas"), help="what to begin, or the schemas"
    )
    draft.add_argument(
        "answers",
        nargs="*",
        default=[],  # else it would be said to be required
        metavar="KEY=ANSWER",
        help="answers given beforehand, such as headline='A closet of coats'",
    )
    draft.set_defaults(run=_draft)

    intake = commands.add_parser(
        "intake", parents=[root], help="draft an episode's stories and promises from its captions and rundown",
        description="Cuts captions (WebVTT, SRT or TTML) into stories, and writes an episode and one draft story for each, on hold, with what was said where it belongs. Never writes over a file.",
    )  # fmt: skip
    intake.add_argument(
        "captions", type=Path, metavar="CAPTIONS", help="the caption file of the whole programme"
    )
    intake.add_argument(
        "--rundown",
        type=Path,
        metavar="CSV",
        help="its rundown: any of page, slug, start or clock time, length, headline",
    )
    intake.add_argument(
        "--stories",
        type=_count,
        metavar="N",
        help="how many stories were aired, where there is no rundown (default: by the speech)",
    )
    intake.add_argument(
        "--aired", default="", metavar="WHEN",
        help="when it aired: 2026-11-21 or '2026-11-21 18:30' (default: from the episode that has these captions, or the file's name)",
    )  # fmt: skip
    intake.add_argument("--dry-run", action="store_true", help="print the files instead of writing them")
    intake.add_argument(
        "--format", choices=("text", "json"), default="text", help="how to report (default: text)"
    )
    intake.set_defaults(run=_intake)

    due = commands.add_parser(
        "due", parents=[root, when], help="what opens and closes, what needs confirming, when to build next",
        description="Lists what opens, closes and needs a call soon, and the next moment at which any page would differ.",
    )  # fmt: skip
    due.add_argument("--format", choices=("text", "json"), default="text", help="how to list (default: text)")
    alone = due.add_mutually_exclusive_group()
    alone.add_argument(
        "--next", action="store_true", help="print only the instant the next build is due, or 'never'"
    )
    alone.add_argument(
        "--overdue",
        action="store_true",
        help="say only until when the site that was built is true; exit status 1 where that is over",
    )
    due.add_argument(
        "--out", type=Path, metavar="DIR", help="with --overdue: the folder of the site (default: build/site)"
    )
    due.set_defaults(run=_due)

    preview = commands.add_parser(
        "preview", parents=[root, when], help="look at the site and at the desk in a browser, and publish nothing",
        description="Shows the site as of any moment, and the producer's desk, on this machine alone. Ends with Ctrl-C.",
    )  # fmt: skip
    preview.add_argument(
        "--port",
        type=_port,
        default=PREVIEW_PORT,
        metavar="N",
        help="where to answer, 0 for any free port (default: %(default)s)",
    )
    preview.set_defaults(run=_preview)

    onair = commands.add_parser(
        "onair", parents=[root, when], help="an episode's sheets for host and phone, and its graphics",
        description="Writes the host's sheet, the phone sheet, and full-screen and lower-strip graphics with QR codes, for one episode. "
        "Before it airs they are true for the broadcast.",
    )  # fmt: skip
    onair.add_argument("episode", metavar="EPISODE", help="the episode's file name, such as 2026-11-21")
    onair.add_argument(
        "--out", type=Path, metavar="DIR", help="the folder of the pack (default: build/onair/EPISODE)"
    )
    onair.set_defaults(run=_onair)
    return parser


def _port(text: str) -> int:
    number = int(text) if text.isdecimal() else -1
    if not 0 <= number <= 65535:
        raise argparse.ArgumentTypeError("write a port, 1 to 65535, or 0 for any that is free")
    return number


def _processes(text: str) -> int:
    count = int(text) if text.isdecimal() else 0
    if count < 1:
        raise argparse.ArgumentTypeError("write a number of processes, 1 or more")
    return count


def _count(text: str) -> int:
    number = int(text) if text.isdecimal() else 0
    if number < 1:
        raise argparse.ArgumentTypeError("write a number of stories, 1 or more")
    return number


def _processors() -> int:
    """How many processors this process may use."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:
        return os.cpu_count() or 1


# --- commands --------------------------------------------------------------------------------


def _build(options: argparse.Namespace) -> int:
    from sitegen.site.errors import RefusedError, ShelfChangedError
    from sitegen.site.ledger import Ledger
    from sitegen.site.lock import only_builder
    from sitegen.site.order import (
        Order,
        ground_of,
        look,
        nothing_to_do,
        prepare,
        refuse_missing_content,
        workshop_for,
    )
    from sitegen.site.writing import refuse_folder

    workshop = workshop_for(options.root, options.out)
    order = Order(
        options.root,
        workshop,
        options.as_of,
        _present(),
        options.strict,
        options.level,
        options.jobs,
        options.fresh,
    )
    refuse_missing_content(options.root)
    # Before anything is written beside the folder.
    refuse_folder(workshop.site, options.root)
    prepare(workshop)
    with only_builder(workshop.ledger, order.present) as lock:
        ground = ground_of(order)
        sources = look(options.root, order.present)
        if options.format == "text":
            facts = nothing_to_do(order, ground, sources, Ledger(workshop.ledger))
            if facts is not None and options.quiet:
                return DONE
            if facts is not None:
                until = datetime.fromisoformat(facts.until) if facts.until else None
                count = len(facts.files) - 1
                _tell(facts.pages, facts.concerns, workshop.site, (0, 0, 0, count), until, facts.time_zone)
                return DONE

        from sitegen.site.accepted import station_of
        from sitegen.site.build import build, without_collector
        from sitegen.site.content import read_content
        from sitegen.site.moments import moment_for
        from sitegen.site.processes import Spread
        from sitegen.site.shelf import RecordShelf

        spread = Spread(options.jobs, lock)

        def build_from(fresh: bool) -> tuple[Station | None, Built]:
            with (
                without_collector(),
                RecordShelf(workshop.ledger, ground, sources, fresh, spread, is_alone=True) as shelf,
            ):
                reading = read_content(options.root, shelf=shelf)
            station = station_of(reading, workshop)
            as_of = (
                moment_for(station, options.as_of, order.present) if station is not None else order.present
            )
            if as_of > order.present and options.out is None and not (station is not None and station.as_of):
                raise RefusedError(
                    "--as-of lies in the future. Give the folder such a site may go to: --out DIR"
                )
            return station, build(
                reading, order, as_of, sources, ground, marks=shelf.marks, lock=lock, progress=_progress()
            )

        try:
            station, built = build_from(options.fresh)
        except ShelfChangedError:
            # A part of a record is looked at when it is asked for, and may turn out to be damaged then.
            station, built = build_from(True)
    report = built.made.report
    done = built.publication
    # Said even by a quiet build: no later one can.
    once = report.said_once
    if not built.is_new or (options.format != "text" and (once.copy or not options.quiet)):
        _report(report.without_concerns() if options.format == "text" else report, options)
    if not built.is_new or done is None:
        stands = (
            f"'{workshop.site}' is as it was"
            if done is None or not (done.added or done.changed or done.removed)
            else f"'{workshop.site}' holds the copy accepted before, less what was taken back, as of this moment"
        )
        _say(f"Nothing new was published; {stands}.", sys.stderr)
        return ERRORS_FOUND
    if options.format != "text":
        return DONE
    from sitegen.proof.report import copy_lines

    edition = built.made.edition
    for line in copy_lines(once):
        _say(line)
    if options.quiet:
        return DONE
    _tell(
        edition.count if edition else 0,
        report.concerns - len(once.copy),
        workshop.site,
        (len(done.added), len(done.changed), len(done.removed), done.unchanged),
        built.true_until,
        station.time_zone if station else "UTC",
    )
    return DONE


def _tell(
    pages: int,
    concerns: int,
    site: Path,
    files: tuple[int, int, int, int],
    until: datetime | None,
    zone: str,
) -> None:
    """What a build did; `files` are (new, changed, removed, unchanged)."""
    if concerns:
        counted = "1 concern" if concerns == 1 else f"{concerns} concerns"
        _say(f"{counted} in the copy; `sitegen proof` lists {'it' if concerns == 1 else 'them'}.")
    added, changed, removed, unchanged = files
    _say(
        f"Published {pages} pages to {site}: {added} files new, {changed} changed, {removed} removed, {unchanged} unchanged."
    )
    _say(_until(zone, until))


def _proof(options: argparse.Namespace) -> int:
    from sitegen.site.errors import RefusedError

    if options.pages is not None:
        from sitegen.proof.pagecheck import check_folder, has_pages
        from sitegen.site.manifest import public_address

        if not options.pages.is_dir():
            raise RefusedError(f"There is no folder '{options.pages}'.")
        if options.as_of or options.palette:
            raise RefusedError("--pages checks pages as they are; leave out --as-of and --palette.")
        every = options.scenarios == "all"
        if not has_pages(options.pages):
            raise RefusedError(f"There is no page (*.html, *.htm) in '{options.pages}': nothing was checked.")
        report = check_folder(options.pages, public_address(options.pages), every)
    else:
        if options.scenarios != "default":
            raise RefusedError("Every scenario is judged anyway; --scenarios is for --pages DIR.")
        if options.palette and options.format != "text":
            raise RefusedError("--palette prints a table and writes a sheet; leave out --format.")
        from sitegen.site.accepted import Accepted
        from sitegen.site.build import make
        from sitegen.site.content import read_content
        from sitegen.site.derived import DerivedStore
        from sitegen.site.moments import moment_for
        from sitegen.site.order import look, workshop_for
        from sitegen.site.unsaid import Unsaid

        present = _present()
        sources = look(options.root, present)
        reading = read_content(options.root)
        as_of = moment_for(reading.newsroom.station, options.as_of, present) if reading.newsroom else present
        workshop = workshop_for(options.root, None)
        derived = workshop.derived
        store = DerivedStore(derived if derived.is_dir() else None)
        made = make(
            reading, options.root, as_of, store,
            strict=options.strict, progress=_progress(), jobs=options.jobs,
            told=Unsaid(Accepted(workshop.accepted), options.root).findings(reading, sources, as_of),
        )  # fmt: skip
        report = made.report
        if options.palette and made.files and reading.newsroom is not None:
            from sitegen.site.palette import palette_of, write_sheet

            table, sheet = palette_of(made, reading.newsroom.station.address)
            _say_all(table.rstrip("\n"))
            _say(f"The same as swatches: {write_sheet(options.root / 'build' / 'reports', sheet)}")
            return ERRORS_FOUND if report.stops(options.level) else DONE
    _report(report, options)
    return ERRORS_FOUND if report.stops(options.level) else DONE


def _draft(options: argparse.Namespace) -> int:
    from sitegen.newsroom.drafting import DraftError, draft, questions
    from sitegen.site.content import read_content
    from sitegen.site.drafts import SCHEMAS, ask_questions, write_drafts, write_schemas
    from sitegen.site.errors import RefusedError
    from sitegen.site.order import refuse_missing_content

    if options.what == SCHEMAS:
        if options.answers:
            raise RefusedError(f"Nothing is asked for schemas; leave out '{options.answers[0]}'.")
        refuse_missing_content(options.root)
        written = write_schemas(options.root)
        _say(f"Wrote {', '.join(written)}. The README says how an editor finds them.")
        return DONE
    reading = _readable(read_content(options.root))
    answers = ask_questions(questions(options.what, reading), options.answers, sys.stdin, sys.stdout)
    try:
        path, text = draft(options.what, answers, reading)
    except DraftError as error:
        raise RefusedError(str(error)) from error
    write_drafts(options.root, {path: text})
    held = options.what == "story"
    _say(
        f"Wrote {path}{', on hold' if held else ''}. Fill in what its comments name, "
        f"{'remove `hold: true`, ' if held else ''}then run: sitegen proof"
    )
    return DONE


def _intake(options: argparse.Namespace) -> int:
    from sitegen.intake.telling import as_json, as_text
    from sitegen.site.content import read_content
    from sitegen.site.intake import take_in_files, write_taken

    newsroom = _readable(read_content(options.root))
    taken = take_in_files(
        options.root, newsroom, options.captions, options.rundown, options.aired, options.stories
    )
    paths = [each.path for each in taken.stories]
    written = [] if options.dry_run else write_taken(options.root, taken)
    if options.format == "json":
        files = {"episode": [taken.episode.path], "stories": paths, "written": written}
        _say_all(as_json(taken.intake, taken.aired, files).rstrip("\n"))
        return DONE
    _say_all(as_text(taken.intake, paths).rstrip("\n"))
    _say("")
    if options.dry_run:
        for each in (taken.episode, *taken.stories):
            _say_all(f"=== {each.path}\n{each.text}")
        _say("Nothing was written.")
    elif written:
        _say(
            f"Wrote {sum(path in written for path in paths)} stories, all on hold, and their episode {taken.episode.path}, "
            "which is nowhere on the site before one of them is. Read the stories, fill in what their comments name, remove `hold: true`, then run: sitegen proof"
        )
    else:
        _say("These drafts are there already, as they would be written; nothing was changed.")
    return DONE


def _due(options: argparse.Namespace) -> int:
    if options.overdue:
        return _overdue(options)
    from sitegen.edition.due import due, next_change
    from sitegen.newsroom.times import zone_named
    from sitegen.site.content import read_content
    from sitegen.site.errors import RefusedError
    from sitegen.site.moments import moment_for
    from sitegen.typeset.duelist import due_as_json, due_as_text, instant_text

    if options.out is not None:
        raise RefusedError("--out is for --overdue: the list is made of the content alone.")
    newsroom = _readable(read_content(options.root))
    as_of = moment_for(newsroom.station, options.as_of, _present())
    if options.next:
        _say(instant_text(next_change(newsroom, as_of), zone_named(newsroom.station.time_zone)))
        return DONE
    found = due(newsroom, as_of)
    _say_all((due_as_json if options.format == "json" else due_as_text)(found).rstrip("\n"))
    return DONE


def _overdue(options: argparse.Namespace) -> int:
    """Asks the ledger alone: whoever watches asks often, and of the site as it stands, whatever was written since."""
    from sitegen.site.errors import RefusedError
    from sitegen.site.ledger import Ledger
    from sitegen.site.order import is_true_at, last_built, moment_of, workshop_for

    if options.format != "text":
        raise RefusedError("--overdue says one line and an exit status; leave out --format.")
    workshop = workshop_for(options.root, options.out)
    facts = last_built(workshop, Ledger(workshop.ledger))
    is_true = is_true_at(facts, moment_of(facts, options.as_of, _present()))
    until = datetime.fromisoformat(facts.until) if facts.until else None
    _say(f"{workshop.site}: {_until(facts.time_zone, until)}")
    if not is_true:
        _say(f"{workshop.site}: That is not so at this moment; build again.", sys.stderr)
    return DONE if is_true else ERRORS_FOUND


def _preview(options: argparse.Namespace) -> int:
    from sitegen.desk.server import serve
    from sitegen.site.order import refuse_missing_content

    refuse_missing_content(options.root)
    # It runs for hours, and says itself what need not be searched.
    gc.enable()

    def ready(address: str) -> None:
        _say_all(f"The site: {address}\nThe desk: {address}_desk/\nCtrl-C ends it. Nothing is published.")
        sys.stdout.flush()

    if sys.stderr.isatty():
        _say("Reading what is written…", sys.stderr)
    with suppress(KeyboardInterrupt):
        serve(options.root, options.port, options.as_of, _present, ready)
    return DONE


def _onair(options: argparse.Namespace) -> int:
    from sitegen.site.content import read_content
    from sitegen.site.moments import moment_for
    from sitegen.site.onair import episode_named, in_words, make_pack, pack_folder, put_back, write_pack

    reading = read_content(options.root)
    station = _readable(reading).station
    as_of = moment_for(station, options.as_of, _present())
    episode = episode_named(_readable(reading), options.episode)
    folder = pack_folder(options.root, episode.id, options.out)
    put_back(folder)  # before anything may stand against a new one
    made = make_pack(reading, options.root, episode, as_of, _processors())
    if not made.files:
        from sitegen.proof.report import as_text

        _say_all(as_text(made.report, "AAA").rstrip("\n"))
        _say("No pack was written.", sys.stderr)
        return ERRORS_FOUND
    write_pack(folder, made.files)
    for line in in_words(made, folder):
        _say(line)
    return DONE


# --- shared ----------------------------------------------------------------------------------


def _readable(reading: Reading) -> Newsroom:
    from sitegen.site.errors import SiteError

    if reading.newsroom is None:
        raise SiteError("content/station.yaml cannot be read. Run: sitegen proof")
    return reading.newsroom


def _report(report: Report, options: argparse.Namespace) -> None:
    from sitegen.proof.report import as_json, as_sarif, as_text

    if options.format == "json":
        text = as_json(report)
    elif options.format == "sarif":
        text = as_sarif(report)
    else:
        text = as_text(report, options.level)
    _say_all(text.rstrip("\n"))


def _until(zone: str, until: datetime | None) -> str:
    from sitegen.newsroom.times import zone_named

    if until is None:
        return "It stays true for good."
    local = until.astimezone(zone_named(zone))
    return f"It is true until {local:%Y-%m-%d %H:%M} ({zone}); build again then."


def _progress() -> Progress:
    """Counts on one line of a terminal; nothing where nobody watches."""
    from sitegen.site.build import silent

    if not sys.stderr.isatty():
        return silent

    def show(what: str, done: int, of: int) -> None:
        if done == of or done % 25 == 0:
            end = "\n" if done == of else ""
            print(f"\r{what}: {done} of {of}", end=end, file=sys.stderr, flush=True)

    return show
