"""What stands under the table of a room sheet: who is missing, what is changed off the floor, what the marks mean."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from compiler.documents.room_cell import BODY_WEIGHT, ELSE, SETS_APART, UNTESTED
from compiler.documents.room_meeting import Meeting, Present, Room, group_key, weeks_late
from compiler.documents.room_sheet_value import Remark, RoomRow, Shared
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.resolve.values import Part

MAT_PARTS = (Part.WARM_UP, Part.COOL_DOWN)


def missing(room: Room, meeting: Meeting, present: Sequence[Present]) -> Iterator[Remark]:
    """Yield who of the group is not on the sheet, and why."""
    here = {one.plan.name for one in present}
    away, later = [], []
    for plan in room.together.get((meeting.group, meeting.programme), ()):
        client = plan.client
        if plan.name in here:
            continue
        own = meeting.week - weeks_late(room.book, client)
        first = client.first_week.known or 1
        if own in plan.away:
            away.append(plan.name)
        elif own < first:
            later.append(f"{plan.name} from week {first + weeks_late(room.book, client)}")
    held = [one.client for one in room.held if _belongs(room.book, one.client, meeting)]
    for head, names in (("Away", away), ("Not yet", later), ("No booklet, see the flags", held)):
        if names:
            yield Remark(head, ", ".join(names))


def _belongs(book: Book, name: str, meeting: Meeting) -> bool:
    client = book.client_named.get(name_key(name))
    if client is None or group_key(client) != meeting.group:
        return False
    programme = name_key(client.programme.known or "")
    return programme in {"", meeting.programme}


def mat_changes(present: Sequence[Present]) -> Iterator[Remark]:
    """Yield what is changed in warm-up and cool-down, which have no columns: each change once, with its clients."""
    for part in MAT_PARTS:
        names: defaultdict[str, list[str]] = defaultdict(list)
        for one in present:
            for planned in one.session.parts[part]:
                changed = planned.changed
                if changed is not None and changed.instead_of is not None:
                    names[f"{planned.exercise.name.needed} for {changed.instead_of}"].append(one.plan.name)
        if names:
            said = "; ".join(f"{change}: {', '.join(who)}" for change, who in names.items())
            yield Remark(f"{part.value.capitalize()} changed", said)


def legend_of(rows: Iterable[RoomRow], shared: Sequence[Shared], *, plates: bool) -> Iterator[str]:
    """Yield what explains the marks that occur on the sheet."""
    cells = [cell for row in rows for cell in row.cells]
    notes = {note for cell in cells for note in cell.notes}
    if plates:
        yield "Plates are for one side, biggest first."
    if any(SETS_APART in note for note in notes):
        yield "A stroke parts the plates of one set from those of the next."
    if shared:
        yield "A bracket joins neighbours with the same plates, who can share a bar."
    if any(note.startswith(ELSE) for note in notes):
        yield f"{ELSE.strip()} another exercise for this client."
    if any(BODY_WEIGHT in words for words in {cell.text for cell in cells} | notes):
        yield f"{BODY_WEIGHT} body weight."
    if any(cell.blank is not None for cell in cells):
        yield "A line: no load known, write in what is lifted."
    if UNTESTED in notes:
        yield "Untested: no test that counts."
