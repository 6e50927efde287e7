"""Plans -> room sheets: one for each group, programme, session and week, for the coach on the floor.

People who train at the same time stand on one sheet, in the week of the block in which they meet, whatever week of
their own calendar that is. Neighbours in the load of the first bar lift stand together, so that they can share a bar.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import chain, groupby, islice
from typing import TypeVar

from compiler.cellref import RowRef
from compiler.counting import counted
from compiler.documents.booklet_value import LANGUAGE, Block, ExerciseRow, Paper
from compiler.documents.figures import Figures, day_words
from compiler.documents.held import Held
from compiler.documents.load_words import bar_words
from compiler.documents.room_cell import NOT_DONE, SAID_BY_ITSELF, Usual, dose_words, on_the_bar, room_cell
from compiler.documents.room_meeting import FLOOR_PARTS, Meeting, Present, Room, group_key, meetings_of, together
from compiler.documents.room_remarks import legend_of, mat_changes, missing
from compiler.documents.room_sheet_value import RoomBlock, RoomCell, RoomColumn, RoomRow, RoomSheet, RoomSheets, Shared
from compiler.documents.session import Pages, blocks
from compiler.documents.summary_to_test import Why, tests_wanted
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.resolve.values import ClientPlan, Fitted, Part, PlannedExercise

EVERYBODY_ELSE = "Everybody else"
COACH_ONLY = "For the coach only"
PLAIN_KINDS = ("Straight sets", "Once")
AFTER_EACH_SET = " after each set"

T = TypeVar("T")


@frozen
class _Column:
    """One programme row across everybody present: whose exercise is whose, and the one that stands for all.

    `said` are the dose words of each.
    """

    by_client: dict[str, PlannedExercise]
    said: dict[str, tuple[str, ...]]
    typical: PlannedExercise
    usual: Usual


def build_room_sheets(
    book: Book, plans: Sequence[ClientPlan], held: Sequence[Held], without: Collection[str] = ()
) -> RoomSheets:
    """Return the room sheets: group by group, week by week, sessions in their order; those in no group last.

    `without` are folded names of groups whose sheets are left out.
    """
    block = book.block
    wanted = tests_wanted(book, plans, held)
    room = Room(
        book=book,
        plans=tuple(plans),
        held=tuple(held),
        figures=Figures("," if block.decimal_sign.needed == "comma" else "."),
        untested=frozenset(
            (name_key(found.client), name_key(found.exercise)) for found in wanted if found.why is not Why.STALE
        ),
        together=together(plans),
    )
    groups = {group: number for number, group in enumerate(room_groups(book, plans))}
    meetings = {meeting: present for meeting, present in meetings_of(room).items() if meeting.group not in without}

    def place(meeting: Meeting) -> tuple[int, int, int]:
        first = min(present.position for present in meetings[meeting])
        return groups[meeting.group], meeting.week, first

    return RoomSheets(
        language=LANGUAGE,
        paper=Paper(block.paper.needed),
        title=", ".join(part for part in ("Room sheets", block.title.value) if part),
        author=block.coach.value or "",
        groups=tuple(groups),
        sheets=tuple(_sheet(room, meeting, meetings[meeting]) for meeting in sorted(meetings, key=place)),
        footer=tuple(part for part in (COACH_ONLY, block.title.value, block.gym.value) if part),
    )


def room_groups(book: Book, plans: Iterable[ClientPlan]) -> tuple[str, ...]:
    """Return the folded names of the groups that have sheets, in the order of the Clients sheet; empty comes last."""
    order = {key: number for number, key in enumerate(dict.fromkeys(map(group_key, book.clients)))}
    found = dict.fromkeys(group_key(plan.client) for plan in plans)
    return tuple(sorted(found, key=lambda key: (key == "", order[key])))


# ---------------------------------------------------------------- one sheet


def _sheet(room: Room, meeting: Meeting, present: list[Present]) -> RoomSheet:
    columns = {part: _columns(part, present, room.figures) for part in FLOOR_PARTS}
    across = [column for part in FLOOR_PARTS for column in columns[part]]
    present = _by_load(present, across)
    rows = tuple(_row(room, one, across, meeting.week) for one in present)
    shared = tuple(_shared(present, across))
    block = room.book.block
    pages = Pages(room.figures, percents=False, usual_bar=None, weeks=block.weeks.needed)
    first = present[0]
    group = first.plan.client.group.known or EVERYBODY_ELSE
    session = first.session.name
    return RoomSheet(
        group=meeting.group,
        title=f"{group}: {session}",
        when=_when(room.book, meeting.week, present),
        bookmark=f"{group}, week {meeting.week}: {session}",
        who=f"{first.plan.client.programme.known}, {counted(len(present), 'client')}",
        blocks=tuple(
            chain.from_iterable(
                _blocks(blocks([column.typical for column in columns[part]], pages), columns[part], room.figures)
                for part in FLOOR_PARTS
            )
        ),
        rows=rows,
        shared=shared,
        remarks=(*missing(room, meeting, present), *mat_changes(present)),
        legend=tuple(legend_of(rows, shared, plates=any(map(_lifts_bar, across)))),
    )


def _when(book: Book, week: int, present: Sequence[Present]) -> str:
    weeks = book.block.weeks.needed
    words = [f"week {week} of {weeks}" if week <= weeks else f"week {week}"]
    days = {one.session.day for one in present}
    if len(days) == 1:
        [day] = days
        weekday = present[0].session.weekday
        if day is not None and weekday is not None:
            words.insert(0, f"{weekday} {day_words(day)}")
        elif all(one.session.closed for one in present):
            words.insert(0, f"{weekday}, closed that day")
    return ", ".join(words) if len(words) > 1 else words[0].capitalize()


def _columns(part: Part, present: Sequence[Present], figures: Figures) -> list[_Column]:
    """Return the exercises of a part in the order of the Programme sheet."""
    by_row: defaultdict[RowRef, dict[str, PlannedExercise]] = defaultdict(dict)
    for one in present:
        for planned in one.session.parts[part]:
            by_row[planned.row.row][one.plan.name] = planned
    return [_column(by_row[row], figures) for row in sorted(by_row, key=lambda row: row.row)]


def _column(by_client: dict[str, PlannedExercise], figures: Figures) -> _Column:
    """Return a column; what most do of it stands in its head, what they do it by in their cells."""
    said = {client: dose_words(planned, figures) for client, planned in by_client.items()}
    names = {client: planned.exercise.name.needed for client, planned in by_client.items()}
    name = _most(list(names.values()))
    doing = [client for client, done in names.items() if done == name]
    dose = _most([said[client] for client in doing])
    typical = next(by_client[client] for client in doing if said[client] == dose)
    barred = (_barred(by_client[client]) for client in doing)
    bars = [bar_words(fitted, figures) for fitted in barred if fitted]
    return _Column(by_client, said, typical, Usual(name, dose, _most(bars) if bars else None))


def _most(values: Sequence[T]) -> T:
    """Return what is there most often, of several the first."""
    return max(dict.fromkeys(values), key=values.count)


def _barred(planned: PlannedExercise) -> Fitted | None:
    """Return a load on a bar, None where there is none."""
    return next((item.low for item in planned.load.items if item.low.bar is not None), None)


def _lifts_bar(column: _Column) -> bool:
    return any(map(on_the_bar, column.by_client.values()))


def _blocks(said: Sequence[Block], columns: Sequence[_Column], figures: Figures) -> Iterator[RoomBlock]:
    """Yield the heads of the columns, block by block; one exercise alone has its letter before its name."""
    waiting = iter(columns)
    for block in said:
        heads = tuple(_head(row, next(waiting), row.label or block.letter, figures) for row in block.rows)
        kind = "" if block.kind in PLAIN_KINDS else block.kind
        together = f"{block.letter}  {kind}" if len(heads) > 1 else kind
        yield RoomBlock(together, block.sentence.removesuffix(AFTER_EACH_SET), heads)


def _head(row: ExerciseRow, column: _Column, label: str, figures: Figures) -> RoomColumn:
    """Return the head of a column: what is done, on which bar, with whom standing by, and in place of what."""
    notes = [note for note in row.dose.notes if note not in SAID_BY_ITSELF]
    fitted = (_barred(planned) for planned in column.by_client.values())
    usual = (found for found in fitted if found and bar_words(found, figures) == column.usual.bar)
    notes += [bar_words(found, figures) for found in islice(usual, 1)]
    planned_for = column.typical.row.exercise.known or ""
    instead = "" if name_key(planned_for) == name_key(row.name) else f"for {planned_for}"
    notes += [note for note in (row.spotter, instead) if note]
    return RoomColumn(label, row.name, row.dose.text, tuple(notes))


# ---------------------------------------------------------------- rows


def _by_load(present: Iterable[Present], columns: Sequence[_Column]) -> list[Present]:
    """Return everybody by the load of the first bar lift, lightest first; those without one as they are listed."""
    lift = next(filter(_lifts_bar, columns), None)

    def place(one: Present) -> tuple[int, object, str]:
        planned = lift.by_client.get(one.plan.name) if lift else None
        load = planned.load.items[0].low.load if planned and on_the_bar(planned) else None
        if lift is None or planned is None or load is None:
            return 2, 0, ""
        name = planned.exercise.name.needed
        return int(name != lift.usual.exercise), load.amount, name

    return sorted(present, key=place)


def _row(room: Room, one: Present, columns: Sequence[_Column], week: int) -> RoomRow:
    name = one.plan.name
    return RoomRow(
        name=name,
        notes=tuple(_in_mind(room.book, one, week, room.figures)),
        cells=tuple(_cell(room, name, column) for column in columns),
    )


def _cell(room: Room, client: str, column: _Column) -> RoomCell:
    planned = column.by_client.get(client)
    if planned is None:
        return NOT_DONE
    pair = name_key(client), name_key(planned.exercise.name.needed)
    return room_cell(planned, column.said[client], column.usual, room.figures, untested=pair in room.untested)


def _in_mind(book: Book, one: Present, week: int, figures: Figures) -> Iterator[str]:
    """Yield what the coach should have in mind: limits, restrictions, another place, another calendar."""
    client = one.plan.client
    if not client.highest_effort.blank:
        yield f"limit {client.highest_effort.text}"
    for name in client.restrictions.known or ():
        restriction = book.restriction_named.get(name_key(name))
        limit = restriction.highest_effort.text if restriction and not restriction.highest_effort.blank else ""
        yield f"{name}, limit {limit}" if limit else name
    scaled = {planned.load.scaled for planned in one.floor() if planned.load.scaled is not None}
    if scaled:
        yield f"scaled to {' and '.join(map(figures.percent, sorted(scaled, key=lambda share: share.value)))}"
    sites = dict.fromkeys(planned.site for planned in one.floor() if planned.site)
    for site in sites:
        if name_key(site) != name_key(client.site.known or ""):
            yield f"at {site}"
    if one.session.week != week:
        yield f"own week {one.session.week}"


def _shared(present: Sequence[Present], columns: Sequence[_Column]) -> Iterator[Shared]:
    """Yield the runs of neighbours with the same plates on the same bar."""
    names = [one.plan.name for one in present]
    for number, column in enumerate(columns):
        everybody = map(column.by_client.get, names)
        loads = [on_the_bar(planned) if planned else None for planned in everybody]
        row = 0
        for load, run in groupby(loads):
            count = len(list(run))
            if load is not None and count > 1:
                yield Shared(number, row, row + count - 1)
            row += count
