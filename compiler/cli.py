"""The command line: words in, functions called, words out. No rule of the trade stands here.

Imports of what is slow to load stand in the bodies of the commands that need it. What is said stands in `told`,
how in `speaking`.
"""

from __future__ import annotations

import gc
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from compiler.counting import counted
from compiler.exits import Exit
from compiler.speaking import STANDARD_OUTPUT, code_of, ended_by, meter, put, say, say_flags, utf8
from compiler.told import told, told_of_new, told_of_next

if TYPE_CHECKING:
    from collections.abc import Callable

    from compiler.pipeline.compile import Compiled
    from compiler.pipeline.desk import RunChoice

SEARCHES = (200_000, 5, 1000)
"""How many new objects are waited for before a search for unused ones, and how many searches before a wider one.

Most objects live to the end of the run, and what does not is large and young: workbooks and files that were drawn. A
search of all there is takes a third of a second with 200 clients, and finds nothing.
"""


def _use_fonts(context: click.Context, _: click.Parameter, files: tuple[Path, ...]) -> None:
    """Put the named fonts to use until the command ends."""
    if not files:
        return
    from compiler.fallback import using
    from compiler.fallback_files import FontRefused, read_fallbacks

    try:
        context.with_resource(using(read_fallbacks(files)))
    except FontRefused as refused:
        raise click.UsageError(refused.message) from None


fallback_font = click.option(
    "--fallback-font",
    metavar="FILE.ttf",
    type=click.Path(path_type=Path),
    multiple=True,
    expose_value=False,
    callback=_use_fonts,
    help="A font for letters that the booklet's own has not got; may be given several times.",
)
"""An option of every command that looks at what can be printed."""


@click.group(epilog="Start here: programme new block.xlsx, fill it in, programme compile block.xlsx")
@click.version_option(package_name="programme-compiler", prog_name="programme")
def programme() -> None:
    """Turn a strength coach's block workbook into booklets with weights that each client can really load."""


@programme.command(
    epilog="\b\nExamples:\n"
    "  programme new block.xlsx --weeks 4 --sessions 3\n"
    "  programme new block.xlsx --weeks 6 --short\n"
    "  programme new january.xlsx --from december.xlsx\n"
    "  programme new try-it.xlsx --sample"
)
@click.argument("workbook", type=click.Path(path_type=Path))
@click.option("--weeks", type=click.IntRange(1, 12), default=4, show_default=True, help="Weeks of the block.")
@click.option("--sessions", type=click.IntRange(1, 7), default=3, show_default=True, help="Sessions a week.")
@click.option("--short", is_flag=True, help="One column a week, for whole prescriptions such as 3 x 8 @ 75%.")
@click.option(
    "--from",
    "old",
    metavar="OLD",
    type=click.Path(path_type=Path),
    help="Take over clients, exercises, kit and what belongs to them from this workbook.",
)
@click.option("--sample", is_flag=True, help="Filled in with an invented example of 4 weeks and 3 sessions.")
@click.option("--force", is_flag=True, help="Write over a file that is there.")
def new(
    workbook: Path, weeks: int, sessions: int, short: bool, old: Path | None, sample: bool, force: bool
) -> Exit:
    """Write an empty block workbook to fill in.

    --from takes over Exercises, Clients, Tests, Restrictions, Sites, Kit, History, the settings that last and the
    changes that are for no session, order or weeks and set no load. OLD stays as it is. Titles, dates, the programme
    and the log are left out; `programme next` is what carries a block on by its log.
    """
    from compiler.files_disk import write_file

    _sample_is_alone(sample)
    if workbook.exists() and (not force or (old is not None and old.exists() and workbook.samefile(old))):
        raise click.UsageError(
            f"{workbook} is there already; choose another name, or add --force to write over it."
        )
    if old is not None:
        return _new_from(old, workbook, weeks, sessions, short=short)
    if sample:
        from compiler.demo.workbooks import demo_workbook

        write_file(workbook, demo_workbook())
        say(f"Wrote {workbook}, filled in with an example. Everybody in it is invented.")
        say(f'Try it: programme compile "{workbook}"')
        return Exit.OK
    from compiler.render.template import render_template

    write_file(workbook, render_template(weeks, sessions, short=short))
    say(f"Wrote {workbook}. Its first sheet says what to fill in, in which order.")
    return Exit.OK


def _sample_is_alone(sample: bool) -> None:
    """Refuse options that would say something else than the sample, which is as it is."""
    given = click.get_current_context().get_parameter_source
    options = {"weeks": "--weeks", "sessions": "--sessions", "short": "--short", "old": "--from"}
    others = [option for name, option in options.items() if given(name) is click.core.ParameterSource.COMMANDLINE]
    if sample and others:
        raise click.UsageError(f"--sample is one example, as it is; leave out {' and '.join(others)}.")


def _new_from(old: Path, workbook: Path, weeks: int, sessions: int, *, short: bool) -> Exit:
    from compiler.files_disk import write_file
    from compiler.pipeline.new import make_new

    made = make_new(old, weeks, sessions, short=short)
    if made.content is None or made.kept is None:
        say_flags(made.flags)
        say(f"Nothing was written: without these columns of {old} it is not certain what its rows mean.")
        return Exit.WORKBOOK_ERRORS
    write_file(workbook, made.content)
    if made.flags:
        say_flags(made.flags)
    say(told_of_new(made.kept, old, workbook))
    return Exit.OK


@programme.command(epilog="Example: programme check block.xlsx --json flags.json")
@click.argument("workbook", type=click.Path(path_type=Path))
@click.option(
    "--json", "json_file", metavar="FILE", help="Write the flags for other programs (JSON); - for standard output."
)
@click.option("--csv", "csv_file", metavar="FILE", help="Write the flags as a table (CSV); - for standard output.")
@click.option("--checked-copy", metavar="FILE", help="Write the workbook again, with every flag on its cell.")
@click.option("--strict", is_flag=True, help="End with code 1 for warnings, too, and not for errors alone.")
@fallback_font
def check(
    workbook: Path, json_file: str | None, csv_file: str | None, checked_copy: str | None, strict: bool
) -> Exit:
    """Read and check a block workbook; print what was found."""
    from compiler.flags.tabular import flags_as_csv, flags_as_json
    from compiler.pipeline.check import check_bytes
    from compiler.source.xlsx import read_file

    if checked_copy and Path(checked_copy).exists() and workbook.exists() and workbook.samefile(checked_copy):
        raise click.UsageError("The checked copy would replace the workbook itself; give it another name.")
    with meter():
        data = read_file(workbook)
        checked = check_bytes(data, workbook.name)
    say_flags(checked.flags)
    if json_file:
        put(json_file, flags_as_json(checked.flags, checked.name).encode())
    if csv_file:
        put(csv_file, flags_as_csv(checked.flags).encode("utf-8-sig"))
    if checked_copy:
        from compiler.render.checked_copy import render_checked_copy

        put(checked_copy, render_checked_copy(data, checked.flags))
    for file in (json_file, csv_file, checked_copy):
        if file and file != STANDARD_OUTPUT:
            say(f"Wrote {file}.")
    return code_of(checked.flags, strict=strict)


def _compiling(command: Callable[..., Exit]) -> Callable[..., Exit]:
    """Give a command the workbook and the options of compiling, which `compile` and `watch` share."""
    options = (
        click.argument("workbook", type=click.Path(path_type=Path)),
        click.option(
            "-o",
            "--out",
            type=click.Path(path_type=Path),
            help="The output folder; without it one beside the workbook.",
        ),
        click.option("--client", "clients", metavar="NAME", multiple=True, help="Only this client into the print run."),
        click.option("--group", "groups", metavar="NAME", multiple=True, help="Only this group into the print run."),
        click.option(
            "--changed", is_flag=True, help="Only what has changed since `programme printed` into the print run."
        ),
        click.option("--simplex", is_flag=True, help="Lay pages out for printing on one side."),
        click.option("--initials", is_flag=True, help="Print initials in place of names."),
        click.option(
            "--jobs",
            type=click.IntRange(min=1),
            metavar="N",
            help="Draw so many booklets at the same time; without it as many as suit this computer.",
        ),
        click.option(
            "--password-file",
            metavar="FILE",
            type=click.Path(path_type=Path),
            help="Lock every PDF with the password on the first line of this file.",
        ),
        fallback_font,
    )
    for option in reversed(options):
        command = option(command)
    return command


@programme.command(name="compile", epilog="Example: programme compile block.xlsx -o december")
@_compiling
@click.option("--strict", is_flag=True, help="End with code 1 for warnings, too, and not for errors alone.")
def compile_command(
    workbook: Path, out: Path | None, strict: bool, jobs: int | None, password_file: Path | None, **choice: Any
) -> Exit:
    """Check a block workbook and write a booklet for every client without an error, and the coach's summary.

    --client and --group may be given several times. They choose what is printed together; the folder of booklets is
    complete all the same.

    With --password-file the PDFs open with the password alone; the workbooks in coach/ cannot be locked so.
    """
    from compiler.pipeline.desk import NotInWorkbook, RunChoice

    password = read_password(password_file) if password_file else ""
    folder = out or default_folder(workbook)
    try:
        return _compile(workbook, folder, RunChoice(**choice), strict=strict, jobs=jobs, password=password)
    except NotInWorkbook as unknown:
        raise click.UsageError(unknown.message) from None


@programme.command(epilog="Example: programme watch block.xlsx -o december")
@_compiling
def watch(workbook: Path, out: Path | None, jobs: int | None, password_file: Path | None, **choice: Any) -> Exit:
    """Compile a block workbook now and again at every save, until Ctrl-C.

    After each save one line says what was changed and how many booklets that changed; of flags only those are shown
    that are new, and those counted that went away. Only booklets that change are drawn again.
    """
    from compiler.pipeline.compile import compile_workbook, silent
    from compiler.pipeline.desk import NotInWorkbook, RunChoice
    from compiler.speaking import Aloud
    from compiler.watch.loop import Watch, outside

    def make(data: bytes) -> Compiled:
        with meter() as shown:
            progress = shown.tell if shown else silent
            return compile_workbook(workbook, folder, progress, RunChoice(**choice), jobs, password, data)

    password = read_password(password_file) if password_file else ""
    folder = out or default_folder(workbook)
    watching = Watch(workbook.name, outside(workbook), make, Aloud())
    try:
        watching.begin()
        watching.run()
    except NotInWorkbook as unknown:
        raise click.UsageError(unknown.message) from None
    except KeyboardInterrupt:
        if watching.working:
            raise
    say("Stopped watching. The output is that of the last save told above.")
    return Exit.OK


@programme.command(epilog="Example: programme printed december")
@click.argument("folder", type=click.Path(path_type=Path))
def printed(folder: Path) -> Exit:
    """Mark the print run in a folder as printed, so that compile --changed leaves it out next time."""
    from compiler.files_printed import mark_printed

    marked = mark_printed(folder)
    say(f"{counted(len(marked), 'booklet')} marked as printed. compile --changed prints only what is new since then.")
    return Exit.OK


@programme.command(name="next", epilog="Example: programme next block.xlsx -o january.xlsx --log log-entry.xlsx")
@click.argument("workbook", type=click.Path(path_type=Path))
@click.option("-o", "--out", type=click.Path(path_type=Path), required=True, help="Next month's workbook.")
@click.option(
    "--log",
    "logs",
    metavar="FILE",
    type=click.Path(path_type=Path),
    multiple=True,
    help="A log entry workbook, filled in; may be given several times. The Log sheet is read in any case.",
)
@click.option("--force", is_flag=True, help="Write over a file that is there.")
@fallback_font
def next_command(workbook: Path, out: Path, logs: tuple[Path, ...], force: bool) -> Exit:
    """Write next month's workbook: dates moved on, loads raised by the log, the log made history."""
    from compiler.files_disk import write_file
    from compiler.pipeline.next import make_next

    if out.exists() and (not force or out.samefile(workbook)):
        raise click.UsageError(f"{out} is there already; choose another name, or add --force to write over it.")
    made = make_next(workbook, logs)
    say_flags(made.flags)
    if made.content is not None and made.month is not None:
        write_file(out, made.content)
        say(told_of_next(made.month, out))
    return code_of(made.flags)


@programme.command(epilog="Example: programme explain missing-test")
@click.argument("flag", required=False)
def explain(flag: str | None) -> Exit:
    """Explain a flag: what it is, why it matters, how to fix it. Without one, list them all."""
    from compiler.flags.explain import UnknownFlag, list_of_flags
    from compiler.flags.explain import explain as explanation

    try:
        click.echo(explanation(flag) if flag else list_of_flags())
    except UnknownFlag as unknown:
        raise click.UsageError(str(unknown)) from None
    return Exit.OK


@programme.command(epilog="Example: programme demo -o try-it")
@click.option(
    "-o",
    "--out",
    type=click.Path(path_type=Path),
    default=Path("ottermere"),
    show_default=True,
    help="The folder to write to.",
)
def demo(out: Path) -> Exit:
    """Write the example workbook of an invented rowing club and compile it."""
    from compiler.demo.workbooks import demo_workbook
    from compiler.files_disk import write_file
    from compiler.pipeline.desk import RunChoice

    workbook = out / "ottermere-winter-block.xlsx"
    write_file(workbook, demo_workbook())
    say(f"Wrote the example workbook {workbook}.")
    return _compile(workbook, out / "booklets-and-summary", RunChoice(), strict=False, jobs=None)


def read_password(file: Path) -> str:
    """Return the first line of a file. Raises `click.UsageError` where it is no password."""
    from compiler.render.sealing import MOST_BYTES

    try:
        lines = file.read_text(encoding="utf-8-sig").splitlines()
    except (OSError, UnicodeDecodeError):
        raise click.UsageError(f"{file} cannot be read; --password-file wants a text file with a password.") from None
    password = lines[0] if lines else ""
    if not password.strip():
        raise click.UsageError(f"The first line of {file} is empty; --password-file wants the password there.")
    if len(password.encode()) > MOST_BYTES:
        raise click.UsageError(f"The password in {file} is too long; {MOST_BYTES} letters are the most.")
    return password


def default_folder(workbook: Path) -> Path:
    """Return the output folder of a workbook that no other was named for: beside it, by its name."""
    return workbook.with_name(f"{workbook.stem}-booklets")


def _compile(
    workbook: Path, folder: Path, choice: RunChoice, *, strict: bool, jobs: int | None, password: str = ""
) -> Exit:
    from compiler.pipeline.compile import compile_workbook, silent

    with meter() as shown:
        progress = shown.tell if shown else silent
        compiled = compile_workbook(workbook, folder, choice=choice, jobs=jobs, progress=progress, password=password)
    say_flags(compiled.flags)
    say(told(compiled))
    if password:
        say("Every PDF is locked with the password; the workbooks in coach are not.")
    return code_of(compiled.flags, strict=strict)


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; return the exit code. Every exception becomes a sentence and a code here."""
    utf8()
    if arguments is None:  # a process of our own
        gc.set_threshold(*SEARCHES)
    try:
        code = programme.main(arguments, prog_name="programme", standalone_mode=False)
        if arguments is None:
            gc.freeze()  # the process ends here: Python need not search all objects once more
    except click.UsageError as error:
        error.show()
        return Exit.USAGE
    except (KeyboardInterrupt, click.Abort):
        say("Interrupted; no file was left half written.")
        return Exit.INTERRUPTED
    except Exception as error:  # noqa: BLE001 - whatever it is, a coach gets a sentence
        return ended_by(error)
    return code if isinstance(code, int) else Exit.OK
