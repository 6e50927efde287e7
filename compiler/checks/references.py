"""Names that point to another sheet: each must be there. The near ones are offered."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.lookups import (
    Names,
    called,
    client_flag,
    client_names,
    exercise_names,
    key_of,
    names_of,
    programme_names,
    sessions_by_programme,
    site_names,
)
from compiler.counting import first_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import KitRow
from compiler.notation.values import BandNames, Feel, LoadText, NamedLoad, Sizes
from compiler.schema.words import EVERY, ROTATE

NO_RESTRICTION = frozenset({"none", "no", "nil", "n/a", "na", "-", "clear"})
LOAD_WORDS = (*Feel, "body weight", "work up", "own", "same")


def check_exercise_names(book: Book) -> Iterator[Flag]:
    """Check that Programme, Tests and the Exercises sheet itself call only exercises that there are."""
    known = exercise_names(book)
    cells: list[tuple[str, Field[str]]] = [("", row.exercise) for row in book.programme]
    for exercise in book.exercises:
        cells.append(("Load from says ", exercise.load_from))
        cells.append(("Instead if restricted says ", exercise.instead_restricted))
        cells.append(("Instead without kit says ", exercise.instead_kit))
    cells += [("", test.exercise) for test in book.tests]
    for says, cell in cells:
        if cell.known and cell.known not in known:
            yield unknown_exercise(cell, known, says)


def unknown_exercise(cell: Field[str], known: Names, says: str = "", touches: tuple[str, ...] = ()) -> Flag:
    """Return the flag of an exercise that is not on the Exercises sheet."""
    name = cell.known or ""
    which = f'{says}"{name}", which is not' if says else f'"{name}" is not'
    remark = Remark("unknown-exercise", f"{which} on the Exercises sheet.", known.hint(name))
    return flag(remark, cell.place, found=cell.text, touches=touches)


def check_test_clients(book: Book) -> Iterator[Flag]:
    """Check that Tests are of clients that there are."""
    known = names_of("Clients", (client.name for client in book.clients))
    for test in book.tests:
        name = test.client.known
        if name and name not in known:
            remark = Remark("unknown-client", f'"{name}" is not on the Clients sheet.', known.hint(name))
            yield flag(remark, test.client.place, found=test.client.text)


def check_client_programmes(book: Book) -> Iterator[Flag]:
    """Check that every client follows a programme that has rows."""
    known = programme_names(book)
    if not book.programme:
        return  # one error says so of the whole sheet
    for client in book.clients:
        name = client.programme.known
        if name and name not in known:
            remark = Remark("unknown-programme", f'"{name}" is not on the Programme sheet.', known.hint(name))
            yield client_flag(remark, client, client.programme)


def check_client_sessions(book: Book) -> Iterator[Flag]:
    """Check that a client's sessions are sessions of the client's programme, or `rotate` alone."""
    by_programme = sessions_by_programme(book)
    for client in book.clients:
        sessions = by_programme.get(key_of(client.programme))
        words = client.sessions.known or ()
        if sessions is None or {name_key(word) for word in words} == {ROTATE}:
            continue
        for word in words:
            if word in sessions or name_key(word) == EVERY:
                continue
            near = nearest(word, sessions.shown) or sessions.shown
            remark = Remark(
                "unknown-choice",
                f'{client.programme.known} has no session "{word}".',
                f'Its sessions are {", ".join(near)}; "rotate" stands alone.',
            )
            yield client_flag(remark, client, client.sessions)


def check_client_sites(book: Book) -> Iterator[Flag]:
    """Check that a client's site is one there is; with several sites the client's row says which."""
    known = site_names(book)
    if not known.keys:
        return
    for client in book.clients:
        name = client.site.known
        if name and name not in known:
            remark = Remark("unknown-site", f'"{name}" is not on the {known.where} sheet.', known.hint(name))
            yield client_flag(remark, client, client.site)
        elif client.site.blank and len(known.keys) > 1:
            remark = Remark(
                "unknown-site",
                f"{called(client)} has no site, and there are {len(known.keys)}:"
                f" {', '.join(known.shown)}.",
                "Choose one of them in Site.",
            )
            yield client_flag(remark, client, client.site)


def check_kit_sites(book: Book) -> Iterator[Flag]:
    """Check that Kit belongs to a site of the Sites sheet, where there is one."""
    known = site_names(book)
    seen: set[str] = set()
    for row in book.kit if book.sites else ():
        name = row.site.known
        if name and name not in known and name_key(name) not in seen:
            seen.add(name_key(name))
            others = [r.site.place for r in book.kit if key_of(r.site) == name_key(name) and r is not row]
            remark = Remark("unknown-site", f'"{name}" is not on the Sites sheet.', known.hint(name))
            meant = nearest_keys(name, known)
            here = client_names(client for client in book.clients if key_of(client.site) in meant)
            yield flag(remark, row.site.place, found=row.site.text, related=others, touches=here)


def nearest_keys(name: str, known: Names) -> frozenset[str]:
    """Return the keys of the known names that a misspelt one may have meant."""
    return frozenset(name_key(near) for near in nearest(name, known.shown, most=1))


def check_restriction_names(book: Book) -> Iterator[Flag]:
    """Check that a client's restrictions are on the Restrictions sheet: nothing else says what they rule out."""
    known = names_of("Restrictions", (restriction.name for restriction in book.restrictions))
    for client in book.clients:
        for word in client.restrictions.known or ():
            if word in known:
                continue
            none = name_key(word) in NO_RESTRICTION
            hint = "Leave the cell blank where there is no restriction." if none else known.hint(word)
            remark = Remark("unknown-restriction", f'"{word}" is not on the Restrictions sheet.', hint)
            yield client_flag(remark, client, client.restrictions)


def check_named_loads(book: Book) -> Iterator[Flag]:
    """Check that a word in a load cell is a band of some site or a heart-rate zone of the Block."""
    if book.block.zones.failed or any(map(_may_hide_bands, book.kit)):
        return
    names = load_names(book)
    keys = {name_key(name) for name in names}
    loads: list[Field[LoadText]] = [cells.load for row in book.programme for cells in row.weeks]
    loads += [change.load for change in book.changes]
    for cell in loads:
        load = cell.known
        if isinstance(load, NamedLoad) and name_key(load.name) not in keys:
            near = nearest(load.name, dict.fromkeys((*names, *LOAD_WORDS)))
            hint = (
                f"Write {' or '.join(near)}, if that is meant."
                if near
                else "Write a percentage, a weight or an effort, or list the band on Kit."
            )
            remark = Remark(
                "unreadable-load",
                f'"{load.name}" is neither a band of the Kit sheet nor a heart-rate zone of the Block.',
                hint,
            )
            yield flag(remark, cell.place, found=cell.text)


def _may_hide_bands(row: KitRow) -> bool:
    """Tell whether a row may be of bands whose names could not be read."""
    unread = row.sizes.failed or isinstance(row.sizes.known, Sizes)
    return unread and (row.kind.failed or key_of(row.kind) == "bands")


def load_names(book: Book) -> list[str]:
    """Return the names that a load may say: heart-rate zones of the Block and bands of every site."""
    zones = book.block.zones.known
    names = [zone.name for zone in zones.zones] if zones else []
    for row in book.kit:
        if isinstance(row.sizes.known, BandNames):
            names += [name for pair in row.sizes.known.pairs for name in pair]
    return names


def check_unused_exercises(book: Book) -> Iterator[Flag]:
    """Count, once, the exercises that nothing in the workbook calls; a Programme still to be filled in calls none."""
    cells: list[Field[str]] = [row.exercise for row in book.programme]
    cells += [cell for change in book.changes for cell in (change.exercise, change.with_)]
    for exercise in book.exercises:
        cells += [exercise.load_from, exercise.instead_restricted, exercise.instead_kit]
    known = exercise_names(book)
    rows = book.programme
    if not rows or any(row.exercise.known is None or row.exercise.known not in known for row in rows):
        return  # which exercise such a row means is not known
    used = {key_of(cell) for cell in cells}
    used |= {key for cell in cells if cell.known and cell.known not in known for key in nearest_keys(cell.known, known)}
    unused = [e.name.known for e in book.exercises if e.name.known and key_of(e.name) not in used]
    if unused:
        count = f"{len(unused)} exercises are" if len(unused) > 1 else "1 exercise is"
        remark = Remark("unused-exercises", f"{count} not used in this block: {first_of(unused, 3)}.")
        yield flag(remark, sheet=book.exercises[0].row.sheet)
