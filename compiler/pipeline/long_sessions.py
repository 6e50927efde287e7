"""Sessions that take more pages than their booklet means them to: known only once the pages are laid out.

On a weeks sheet a session shares its page with its other weeks, so every session that does not is told.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from compiler.cellref import CellRef
from compiler.documents.booklet import sessions_by_key
from compiler.documents.booklet_value import Format
from compiler.documents.summary_cells import spans
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.resolve.values import ClientPlan, PlannedSession

MEANT = {
    Format.FULL_PAGE: "pages, and one was meant",
    Format.HALF_PAGE: "half pages, and two that face each other were meant",
    Format.LARGE_PRINT: "pages of large print, and four at most were meant",
}
HINT = {
    Format.FULL_PAGE: "Shorten cues, or move an exercise to another session, if one page matters.",
    Format.HALF_PAGE: "Shorten cues, move an exercise to another session, or set Booklet to full page.",
    Format.LARGE_PRINT: "Shorten cues, or move an exercise to another session.",
}


@dataclass(slots=True)
class _Long:
    """One session that is too long, over all clients: its first cell, the most pages, whose and in which weeks."""

    name: str
    place: CellRef
    pages: int = 0
    clients: dict[str, None] = field(default_factory=dict)
    weeks: set[int] = field(default_factory=set)


class LongSessions:
    """Collects what layout says of every booklet; `flags` tells of each session once."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, str, Format], _Long] = {}

    def add(self, plan: ClientPlan, form: Format, long: Iterable[tuple[str, int]]) -> None:
        """Take note of the long sessions of one booklet: the key of each in it, and how many pages it takes."""
        for key, count in long:
            session = sessions_by_key(plan)[key]
            place = _place(session)
            same = (name_key(plan.client.programme.needed), name_key(session.name), form)
            found = self._found.setdefault(same, _Long(session.name, place))
            found.place = min(found.place, place)
            found.pages = max(found.pages, count)
            found.clients[plan.name] = None
            found.weeks.add(session.week)

    def flags(self) -> tuple[Flag, ...]:
        """Return a warning for each session."""
        return tuple(_flag(found, form) for (*_, form), found in self._found.items())


def _place(session: PlannedSession) -> CellRef:
    """Return the cell that names a session, on its first row; on a shared row only where there is no other."""
    cells = [planned.row.session for exercises in session.parts.values() for planned in exercises]
    own = [cell.place for cell in cells if cell.known == session.name]
    return min(own or [cell.place for cell in cells])


def _flag(found: _Long, form: Format) -> Flag:
    names = list(found.clients)
    whose = f"for {names[0]}" if len(names) == 1 else f"for {len(names)} clients"
    weeks = f"{'week' if len(found.weeks) == 1 else 'weeks'} {spans(sorted(found.weeks))}"
    if form is Format.WEEKS_SHEET:
        remark = _off_sheet(found, whose, weeks)
    else:
        message = f'Session "{found.name}" takes {found.pages} {MEANT[form]}: {whose}, in {weeks}.'
        remark = Remark("session-over-a-page", message, HINT[form])
    return flag(remark, found.place, client=names[0] if len(names) == 1 else None, found=found.name)


def _off_sheet(found: _Long, whose: str, weeks: str) -> Remark:
    message = (
        f'Session "{found.name}" does not fit on a weeks sheet with every box 9 mm wide and every cue whole: '
        f"{whose} it has pages of its own, in {weeks}."
    )
    hint = "Fewer exercises, sets or words make it fit; so does one warm-up for all weeks."
    return Remark("weeks-sheet-too-full", message, hint)
