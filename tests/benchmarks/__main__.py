"""The benchmarks as a command: `python -m tests.benchmarks [--quick] [--only page,start]`, from the project's root.

Every row compares the product with a baseline measured in the same run, so that the table means the same on any
machine. Nothing here is timed by the tests.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from functools import partial

import click

from tests.benchmarks import drawing, mutations, resolving, whole
from tests.benchmarks.measures import Row

Measure = Callable[[], Iterator[Row]]


def measures(rounds: int, *, quick: bool) -> dict[str, Measure]:
    """Return all benchmarks by name, in the order of the table; a quick run has fewer clients."""
    clients = 40 if quick else 200
    return {
        "page": partial(drawing.page_rows, 10, rounds),
        "office": partial(drawing.office_rows, rounds),
        "compile": partial(whole.compile_rows, clients, rounds),
        "print-run": partial(drawing.print_run_rows, clients, rounds),
        "workers": partial(whole.worker_rows, clients, rounds),
        "again": partial(whole.again_rows, clients, rounds),
        "memory": partial(drawing.memory_rows, 100 if quick else 1000),
        "start": partial(whole.start_rows, rounds),
        "many": partial(whole.many_rows, clients, rounds),
        "loads": partial(resolving.load_rows, clients, rounds),
        "stacks": partial(resolving.stack_rows, 40 if quick else 400, rounds),
    }


@click.command()
@click.option("--only", help="Names of benchmarks, with commas between them.")
@click.option("--quick", is_flag=True, help="Fewer clients and one round: whether it runs, not how fast.")
@click.option("--rounds", type=int, default=3, show_default=True, help="Measurements of each; the median counts.")
@click.option("--mutations", "edits", type=int, help="Instead, so many random edits of the example workbook.")
@click.option("--seed", type=int, default=1, show_default=True, help="Of the edits.")
def main(only: str | None, quick: bool, rounds: int, edits: int | None, seed: int) -> None:
    """Measure the program against its goals; print a table."""
    if edits:
        found = mutations.problems(edits, seed)
        click.echo("\n".join([*found, f"{edits} edits, {len(found)} problems"]))
        sys.exit(bool(found))
    known = measures(1 if quick else rounds, quick=quick)
    names = only.split(",") if only else list(known)
    unknown = [name for name in names if name not in known]
    if unknown:
        raise click.UsageError(f"no benchmark {', '.join(unknown)}; there are {', '.join(known)}")
    click.echo("| what | ratio | goal | met | |\n| --- | ---: | ---: | --- | --- |")
    for name in names:
        for row in known[name]():
            goal = "" if row.goal is None else f"{'at least' if row.at_least else 'at most'} {row.goal:g}"
            met = "" if row.goal is None else "yes" if row.met else "no"
            click.echo(f"| {row.what} | {row.ratio:.3g} | {goal} | {met} | {row.detail} |")


if __name__ == "__main__":
    main()
