"""The Kit sheet against the exercises: bars and kit that no site has, sizes that are not of their kind."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.lookups import key_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import Exercise
from compiler.notation.values import BandNames, Sizes
from compiler.schema.implements import WEIGHT_KINDS
from compiler.schema.sheets import KIT


def check_kit_names(book: Book) -> Iterator[Flag]:
    """Check that bars and other kit that an exercise names stand on some site's list.

    Told only where it stops everybody: every site in use has a list, and the exercise names nothing to do instead.
    Else it is a matter of each client's site.
    """
    failed = any(row.name.failed or row.kind.failed or row.site.failed for row in book.kit)
    if not book.kit or failed:
        return
    if not _all_listed(book):
        return
    owned = {key_of(cell): cell.known or "" for row in book.kit for cell in (row.name, row.kind)}
    bars = {key_of(row.name): row.name.known or "" for row in book.kit if row.kind.known == "bar" and row.name.known}
    used = {key_of(row.exercise) for row in book.programme} | {key_of(change.with_) for change in book.changes}
    for exercise in book.exercises:
        if key_of(exercise.name) not in used or not exercise.instead_kit.blank:
            continue
        if exercise.implement.known == "barbell" and exercise.bar.known and key_of(exercise.bar) not in bars:
            yield _absent(exercise, exercise.bar, exercise.bar.known, bars)
        needs = [need for need in exercise.needs.known or () if name_key(need) not in owned]
        if needs:
            yield _absent(exercise, exercise.needs, '" and "'.join(needs), owned)


def _all_listed(book: Book) -> bool:
    """Tell whether every site where somebody trains has a list of its kit."""
    listed = {key_of(row.site) for row in book.kit}
    sites = {key_of(client.site) for client in book.clients} - {""}
    sites |= {key_of(change.with_) for change in book.changes if change.do.known == "train at"}
    only = {key_of(site.name) for site in book.sites} if len(book.sites) == 1 else set()
    return sites | only <= listed


def _absent(exercise: Exercise, cell: Field[str] | Field[tuple[str, ...]], name: str, there: dict[str, str]) -> Flag:
    near = nearest(name, dict.fromkeys(there.values()))
    hint = f"Kit has {' and '.join(near)}." if near else "Add it to Kit, or fill in Instead without kit."
    remark = Remark("kit-missing", f'{exercise.name.known} needs "{name}", and no site\'s Kit has it.', hint)
    return flag(remark, cell.place, found=cell.text)


def check_kit_sizes(book: Book) -> Iterator[Flag]:
    """Check that bands have names for sizes, everything that is loaded has weights."""
    for row in book.kit:
        kind, sizes = row.kind.known, row.sizes.known
        if kind is None or sizes is None:
            continue
        if isinstance(sizes, BandNames) and kind in WEIGHT_KINDS:
            head = KIT.column("sizes").header
            remark = Remark(
                "not-a-number",
                f'{head} of the {kind} says "{row.sizes.text}"; expected weights.',
                "Write 25, 20, 15, or 2-40 by 2.",
            )
            yield flag(remark, row.sizes.place, found=row.sizes.text)
        if isinstance(sizes, Sizes) and kind == "bands":
            remark = Remark(
                "unknown-choice",
                f'The bands are listed as "{row.sizes.text}"; expected their names.',
                "Write light = yellow, medium = red.",
            )
            yield flag(remark, row.sizes.place, found=row.sizes.text)
