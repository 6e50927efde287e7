"""Which exercise a client really does: changes, restrictions, kit, spotters and limits.

A restriction or missing kit that meets an exercise is settled by a change, else by the exercise's own substitute, else
the client gets no booklet. A substitute is checked again and never replaced a second time. Nothing undeclared is
ever put in the place of anything.
"""

from __future__ import annotations

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Remark
from compiler.folding import name_key
from compiler.model.field import Field, Poisoned
from compiler.model.kit import SiteKit
from compiler.model.records import Exercise, ProgrammeRow, Restriction
from compiler.resolve.changes import Exceptions
from compiler.resolve.context import ClientView
from compiler.resolve.racks import stock_of
from compiler.resolve.values import Changed, Settled
from compiler.schema.implements import IMPLEMENT, LOADING_KINDS, LoadedBy

DEFAULT_WORDS = "changed by your coach"


def settle(view: ClientView, row: ProgrammeRow, exceptions: Exceptions, *, swap_kept: bool = False) -> Settled:
    """Return what a client does in place of a row's exercise, if anything is in its way.

    `swap_kept`: a `keep` names the exercise that a swap puts there.
    """
    written = _exercise(view, row.exercise)
    swap = exceptions.swap
    if swap is not None:
        chosen = _exercise(view, swap.with_)
        changed = Changed(written.name.value, swap.words.value or DEFAULT_WORDS, swap.with_.place)
        settled = Settled(chosen, changed)
        barred = restriction_against(view, chosen) if not swap_kept else None
        if barred is not None:
            return _barred(view, row, chosen, barred)
        return _with_kit(view, row, settled)
    return _with_kit(view, row, _unrestricted(view, row, written, exceptions))


def _exercise(view: ClientView, cell: Field[str]) -> Exercise:
    """Return the exercise that a cell names. Raises `Poisoned` where its row is wrong, as any of it may be."""
    found = view.book.exercise(cell.needed)
    if found is None:
        raise Poisoned(cell.place)
    if found.row in view.index.bad_rows:
        raise Poisoned(found.name.place)
    return found


def _substitute(view: ClientView, cell: Field[str]) -> Exercise | None:
    """Return the exercise that a cell names to be done in place of its own; None where it is blank."""
    return None if cell.blank else _exercise(view, cell)


def restriction_against(view: ClientView, exercise: Exercise) -> Restriction | None:
    """Return the client's first restriction that rules an exercise out by one of its tags."""
    tags = {name_key(tag) for tag in exercise.tags.value or ()}
    for restriction in view.restrictions:
        if restriction.row in view.index.bad_rows:
            raise Poisoned(restriction.name.place)
        if tags & {name_key(tag) for tag in restriction.avoid_tags.value or ()}:
            return restriction
    return None


def _unrestricted(view: ClientView, row: ProgrammeRow, written: Exercise, exceptions: Exceptions) -> Settled:
    barred = restriction_against(view, written)
    if barred is None or exceptions.keep is not None:
        return Settled(written)
    instead = _substitute(view, written.instead_restricted)
    if instead is None or restriction_against(view, instead) is not None:
        return _barred(view, row, instead or written, barred)
    words = barred.words.value or DEFAULT_WORDS
    remark = Remark(
        "changed",
        f"{view.name} does {instead.name.value} in place of {written.name.value}: {barred.name.value}.",
    )
    note = flag(
        remark,
        row.exercise.place,
        client=view.name,
        found=row.exercise.text,
        related=(view.client.restrictions.place,),
    )
    return Settled(instead, Changed(written.name.value, words, barred.name.place), (note,))


def _barred(view: ClientView, row: ProgrammeRow, exercise: Exercise, barred: Restriction) -> Settled:
    remark = Remark(
        "restricted-exercise",
        f"{view.name}'s restriction ({barred.name.value}) rules out {exercise.name.value},"
        " and nothing says what to do instead.",
        "Add a row to Changes (swap, leave out, or keep with a reason), or fill in Instead if restricted on Exercises.",
    )
    error = flag(
        remark,
        row.exercise.place,
        client=view.name,
        found=row.exercise.text,
        related=(view.client.restrictions.place, barred.avoid_tags.place),
        touches=(view.name,),
    )
    return Settled(None, flags=(error,))


# ---------------------------------------------------------------- kit


def missing_kit(view: ClientView, exercise: Exercise) -> str | None:
    """Return what a site lacks for an exercise, None where nothing; a site without a list lacks nothing.

    Raises `Poisoned` where a row of the list that matters could not be read: what is there is not known.
    """
    kit = view.kit
    if kit is None:
        return None
    asked = kit.site, exercise.row.row
    if asked not in view.index.lacking:
        view.index.lacking[asked] = _lacking(kit, exercise)
    lacking = view.index.lacking[asked]
    loaded_with = IMPLEMENT[exercise.implement.needed].kit
    for kind, place in kit.spoilt:
        may_be_lacking = lacking is not None and kind not in LOADING_KINDS
        if kind in loaded_with or may_be_lacking or (loaded_with and not kind):
            raise Poisoned(place)
    return lacking


def _lacking(kit: SiteKit, exercise: Exercise) -> str | None:
    owned = {name_key(name) for item in kit.items for name in (item.name, item.kind)}
    for need in exercise.needs.value or ():
        if name_key(need) not in owned:
            return need
    implement, bar = IMPLEMENT[exercise.implement.needed], exercise.bar.value
    match implement.loaded_by:
        case LoadedBy.BAR:
            if not kit.bars:
                return "bar"
            return None if bar is None or name_key(bar) in {name_key(b.name) for b in kit.bars} else bar
        case LoadedBy.PLATES:
            return "plates" if kit.plates is None else None
        case LoadedBy.SIZE:
            return implement.name if stock_of(kit, exercise) is None else None
        case LoadedBy.STACK:
            return None if kit.stacks or "machine" in owned else implement.name
        case LoadedBy.BAND:
            return None if kit.bands or "bands" in owned else implement.name
        case LoadedBy.BODY | LoadedBy.STEP:
            return None


def _with_kit(view: ClientView, row: ProgrammeRow, settled: Settled) -> Settled:
    exercise = settled.exercise
    if exercise is None:
        return settled
    lacking = missing_kit(view, exercise)
    if lacking is None:
        return settled
    instead = _substitute(view, exercise.instead_kit)
    if instead is None or missing_kit(view, instead) is not None:
        return _no_kit(view, row, exercise, lacking)
    barred = restriction_against(view, instead)
    if barred is not None:
        return _barred(view, row, instead, barred)
    remark = Remark(
        "changed",
        f"{view.name} does {instead.name.value} in place of {exercise.name.value}: no {lacking} at {view.place_words}.",
    )
    note = flag(
        remark,
        row.exercise.place,
        client=view.name,
        found=row.exercise.text,
        related=(view.client.site.place,),
    )
    first = settled.changed
    place: CellRef = first.because if first else exercise.instead_kit.place
    changed = Changed(
        first.instead_of if first else exercise.name.value, first.words if first else DEFAULT_WORDS, place
    )
    return Settled(instead, changed, (*settled.flags, note))


def _no_kit(view: ClientView, row: ProgrammeRow, exercise: Exercise, lacking: str) -> Settled:
    remark = Remark(
        "kit-missing",
        f'{exercise.name.value} needs "{lacking}", and {view.place_words}, where {view.name} trains, has none.',
        "Add it to the site's rows on Kit, fill in Instead without kit on Exercises, or add a row to Changes.",
    )
    error = flag(
        remark,
        row.exercise.place,
        client=view.name,
        found=row.exercise.text,
        related=(view.client.site.place,),
        touches=(view.name,),
    )
    return Settled(None, flags=(error,))
