"""Room sheets: who stands where, whose bar is shared, what a coach must see at a glance; and that it can be read.

Expected loads come from the plans of the same workbook, never from the sheet itself; plates are checked by adding up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import cycle, islice, pairwise

import pytest

from compiler.binding.records import bind_book
from compiler.demo.workbooks import demo_source
from compiler.documents.held import Held
from compiler.documents.room_sheet import EVERYBODY_ELSE, build_room_sheets
from compiler.documents.room_sheet_value import RoomCell, RoomRow, RoomSheet, RoomSheets
from compiler.layout.metrics import Face
from compiler.layout.page import Branch, Group, Pages, Part, Text
from compiler.pipeline.check import Checked, check_source
from compiler.quantities import plain
from compiler.render.booklet import render_booklet
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Fitted, PlannedExercise
from compiler.resolve.values import Part as SessionPart
from compiler.source.grid import book_from_grid
from tests.all_at_once import lay_out_room_sheets
from tests.unit.render.pdf_facts import colours, fonts, opened, page_texts, words

MM = 72 / 25.4
BLOCK_START = date(2026, 12, 7)
SMALLEST = 9.0
SMALLEST_NUMBER = 10.0


@pytest.fixture(scope="module")
def checked() -> Checked:
    return check_source(demo_source())


@pytest.fixture(scope="module")
def rooms(checked: Checked) -> RoomSheets:
    assert checked.book is not None
    return build_room_sheets(checked.book, checked.plans, ())


def sheet(rooms: RoomSheets, bookmark: str) -> RoomSheet:
    return next(found for found in rooms.sheets if found.bookmark == bookmark)


def row(found: RoomSheet, name: str) -> RoomRow:
    return next(row for row in found.rows if row.name == name)


def column(found: RoomSheet, exercise: str) -> int:
    names = [column.name for block in found.blocks for column in block.columns]
    return names.index(exercise)


def cell(found: RoomSheet, name: str, exercise: str) -> RoomCell:
    return row(found, name).cells[column(found, exercise)]


# ---------------------------------------------------------------- who is where


def test_every_session_of_everybody_stands_on_one_sheet(checked: Checked, rooms: RoomSheets) -> None:
    """As many rows in all as sessions in the plans; one sheet for each group, session and week."""
    assert sum(len(found.rows) for found in rooms.sheets) == sum(len(plan.sessions) for plan in checked.plans)
    bookmarks = [found.bookmark for found in rooms.sheets]
    assert len(set(bookmarks)) == len(bookmarks)
    early = [found for found in rooms.sheets if found.title.startswith("Tuesday early")]
    assert len(early) == 3 * 4
    assert all(found.rows for found in rooms.sheets)


def test_sheets_stand_by_group_week_and_session(rooms: RoomSheets) -> None:
    assert [found.bookmark for found in rooms.sheets[:4]] == [
        "Tuesday early, week 1: Hinge and pull",
        "Tuesday early, week 1: Squat and press",
        "Tuesday early, week 1: Power and carry",
        "Tuesday early, week 2: Hinge and pull",
    ]
    first = rooms.sheets[0]
    assert (first.title, first.when) == ("Tuesday early: Hinge and pull", "Tuesday 8 December, week 1 of 4")


def test_who_is_away_and_who_has_not_begun(rooms: RoomSheets) -> None:
    """Kit Bellweather is away in week 3; Saoirse Dunlevy joins in week 2, Archie Penhallow starts a week late."""
    sheets = {week: sheet(rooms, f"Tuesday evening, week {week}: Hinge and pull") for week in (1, 2, 3)}
    remarks = {week: {remark.head: remark.text for remark in found.remarks} for week, found in sheets.items()}
    assert remarks[1]["Not yet"] == "Saoirse Dunlevy from week 2"
    assert remarks[3]["Away"] == "Kit Bellweather"
    assert "Away" not in remarks[2]
    assert "Not yet" not in remarks[2]
    home = sheet(rooms, "Home, week 2: Legs first")
    assert "own week 1" in row(home, "Archie Penhallow").notes


def test_who_has_no_booklet(checked: Checked) -> None:
    """A client who is held has no row, and is named without the reason."""
    assert checked.book is not None
    plans = tuple(plan for plan in checked.plans if plan.name != "Rufus Pemberly")
    rooms = build_room_sheets(checked.book, plans, (Held("Rufus Pemberly", ()),))
    found = sheet(rooms, "Tuesday early, week 1: Hinge and pull")
    assert [(remark.head, remark.text) for remark in found.remarks] == [("No booklet, see the flags", "Rufus Pemberly")]
    assert "Rufus Pemberly" not in [row.name for row in found.rows]


def test_clients_without_a_group_are_one_group_at_the_end() -> None:
    rooms = from_tables(ALONE)
    assert [found.title for found in rooms.sheets] == ["Early: Lift", f"{EVERYBODY_ELSE}: Lift"]
    assert [row.name for row in rooms.sheets[1].rows] == ["Ann Bell", "Bo Cray"]


def test_what_to_have_in_mind(rooms: RoomSheets) -> None:
    """Restrictions and limits stand beside the name: the sheet is the coach's own."""
    evening = sheet(rooms, "Tuesday evening, week 1: Legs first")
    assert row(evening, "Edwin Larkspur").notes == ("heart-rate medicine, limit RPE 7",)
    assert row(sheet(rooms, "Home, week 1: Legs first"), "Mabel Stannard").notes == ("limit RPE 7",)
    early = sheet(rooms, "Tuesday early, week 1: Hinge and pull")
    assert row(early, "Callum Wraith").notes == ("scaled to 90%",)
    later = sheet(rooms, "Tuesday evening, week 3: Legs first")
    assert row(later, "Oluwaseun Brightmore").notes == ("at Home",)


# ---------------------------------------------------------------- loads


def test_loads_are_those_of_the_plans(checked: Checked, rooms: RoomSheets) -> None:
    """Every bar load on every sheet is the plan's, with plates that add up to it."""
    seen = 0
    for plan in checked.plans:
        start = plan.client.start_date.value
        late = (start - BLOCK_START).days // 7 if start else 0
        for session in plan.sessions:
            found = sheet(rooms, f"{plan.client.group.value}, week {session.week + late}: {session.name}")
            cells = row(found, plan.name).cells
            for planned in session.parts[SessionPart.MAIN]:
                fitted = one_barred_load(planned)
                if fitted is not None and fitted.load is not None and fitted.bar is not None:
                    same = [one for one in cells if one.text == f"{plain(fitted.load.amount)} {fitted.load.unit}"]
                    assert same, (plan.name, session.name, session.week, planned.exercise.name.value)
                    a_side = float(fitted.load.amount - fitted.bar.weight.amount) / 2
                    assert a_side in [0.0, *map(plates_of, same)]
                    seen += 1
    assert seen > 100


def test_the_plates_of_a_list_add_up_set_by_set(rooms: RoomSheets) -> None:
    """6, 4, 2 at rising loads: a stroke parts the plates of one set from those of the next, on a bar of 20 kg."""
    seen = 0
    for found in rooms.sheets:
        for one in (one for line in found.rows for one in line.cells if "," in one.text):
            for note in (note for note in one.notes if "/" in note):
                loads = [float(amount) for amount in one.text.removesuffix(" kg").split(", ")]
                sides = [sum(map(float, side.split(" + "))) for side in note.replace("\u00a0", " ").split(" / ")]
                assert [20 + 2 * side for side in sides] == loads
                assert "A stroke parts the plates of one set from those of the next." in found.legend
                seen += 1
    assert seen > 5


def one_barred_load(planned: PlannedExercise) -> Fitted | None:
    """Return the load of an exercise that has one for all its sets, on a bar."""
    items = planned.load.items
    if planned.load.about or len(items) != 1 or items[0].low != items[0].high:
        return None
    return items[0].low if items[0].low.bar is not None else None


def plates_of(one: RoomCell) -> float:
    """Return what the plates of one side weigh together, as the cell says it."""
    said = [note for note in one.notes if note[0].isdigit() and "×" not in note]
    return sum(map(float, said[0].split(" + "))) if said else 0.0


def test_neighbours_in_load_stand_together(rooms: RoomSheets) -> None:
    """Down the column of the first bar lift, loads of that exercise never fall."""
    for found in rooms.sheets:
        if not found.title.startswith("Tuesday early"):
            continue
        lift = 1 if found.title.endswith("Power and carry") else 0
        cells = [row.cells[lift] for row in found.rows]
        same = [one for one in cells if not any(note.startswith("→") for note in one.notes)]
        loads = [float(one.text.split()[0].rstrip(",")) for one in same if one.text.endswith(" kg")]
        assert len(loads) >= 7
        assert all(one <= other for one, other in pairwise(loads))


def test_a_bracket_joins_equal_plates_alone(rooms: RoomSheets) -> None:
    """Those in a bracket lift the same load with the same plates; the next one above or below does not."""
    found_one = False
    for found in rooms.sheets:
        for run in found.shared:
            cells = [row.cells[run.column] for row in found.rows]
            joined = cells[run.first : run.last + 1]
            assert len(joined) > 1
            assert len({(one.text, one.notes[:1]) for one in joined}) == 1
            for outside in (run.first - 1, run.last + 1):
                if 0 <= outside < len(cells):
                    assert (cells[outside].text, cells[outside].notes[:1]) != (joined[0].text, joined[0].notes[:1])
            found_one = True
    assert found_one
    evening = sheet(rooms, "Tuesday evening, week 1: Hinge and pull")
    [run] = evening.shared
    assert [row.name for row in evening.rows[run.first : run.last + 1]] == ["Desmond Achterberg", "Kit Bellweather"]


def test_an_untested_client_is_seen(rooms: RoomSheets) -> None:
    """With what to do instead where the cell has it, else with a line to write on."""
    evening = sheet(rooms, "Tuesday evening, week 1: Hinge and pull")
    assert cell(evening, "Ramona Quist", "Bench pull") == RoomCell("RPE 7", ("untested",))
    [alone] = [found for found in from_tables(ALONE).sheets if found.title.startswith(EVERYBODY_ELSE)]
    assert cell(alone, "Bo Cray", "Back squat") == RoomCell("", ("untested",), blank="kg")
    assert "Untested: no test that counts." in alone.legend
    assert "A line: no load known, write in what is lifted." in alone.legend


def test_another_exercise_is_named_in_its_cell(rooms: RoomSheets) -> None:
    """What most do stands in the head; who does something else is told in the cell, without the reason."""
    early = sheet(rooms, "Tuesday early, week 1: Squat and press")
    shown = cell(early, "Tobias Greengrass", "Back squat")
    assert shown.notes[0].replace("\u00a0", " ") == "→ Leg press"
    home = sheet(rooms, "Home, week 1: Legs first")
    [head] = [c for block in home.blocks for c in block.columns if c.name == "Band row"]
    assert "for Seated cable row" in head.notes
    assert all(not note.startswith("→") for row in home.rows for note in row.cells[column(home, "Band row")].notes)


def test_reasons_stay_in_the_workbook(checked: Checked, rooms: RoomSheets) -> None:
    """Short words of restrictions may stand here; the private Why of a change does not."""
    assert checked.book is not None
    text = " ".join(page_texts(render_booklet(lay_out_room_sheets(rooms))))
    assert [change.why.text for change in checked.book.changes if change.why.text and change.why.text in text] == []


def test_a_client_who_leaves_an_exercise_out_has_a_dash(rooms: RoomSheets) -> None:
    """Ramona Quist does not jump; the rest of her row stands under the right heads."""
    found = sheet(rooms, "Tuesday evening, week 1: Power and carry")
    assert cell(found, "Ramona Quist", "Box jump") == RoomCell("–")
    assert cell(found, "Ramona Quist", "Hang clean pull").text != "–"


def test_warm_up_changes_stand_below(rooms: RoomSheets) -> None:
    """Warm-up and cool-down have no columns; what is changed in them is told once, with its clients."""
    remarks = {r.head: r.text for r in sheet(rooms, "Tuesday evening, week 1: Legs first").remarks}
    assert remarks["Cool-down changed"] == "Slow breathing sitting up for Slow breathing on the back: Hattie Vance"


# ---------------------------------------------------------------- on paper


def crowded(rooms: RoomSheets, clients: int) -> RoomSheets:
    """Return the sheets of the first group with as many clients, the same ones over and over."""
    few = [replace(found, rows=tuple(islice(cycle(found.rows), clients)), shared=()) for found in rooms.sheets[:3]]
    return replace(rooms, sheets=tuple(few))


def texts_of(parts: tuple[Part, ...]) -> list[Text]:
    found: list[Text] = []
    for part in parts:
        if isinstance(part, Group):
            found += [mark for mark in part.marks if isinstance(mark, Text)]
        else:
            found += texts_of(part.parts)
    return found


def check_readable(pages: Pages) -> bytes:
    """Check sizes of type and that words are inside the sheet and apart; return the file."""
    for page in pages.pages:
        for text in texts_of(page.parts):
            assert text.size >= SMALLEST, text
            if text.face is Face.BOLD and text.text.endswith((" kg", " lb", " bpm")):
                assert text.size >= SMALLEST_NUMBER, text
    data = render_booklet(pages)
    by_page: dict[int, list] = {}
    for word in words(data):
        assert word.left >= 8 * MM, word
        assert word.right <= pages.width - 8 * MM, word
        assert word.low >= 8 * MM, word
        assert word.high <= pages.height - 8 * MM, word
        by_page.setdefault(word.page, []).append(word)
    for found in by_page.values():
        found.sort(key=lambda word: word.left)
        for index, word in enumerate(found):
            for other in found[index + 1 :]:
                if other.left > word.right - 0.6:
                    break
                assert min(word.high, other.high) - max(word.low, other.low) < 1.2, (word, other)
    return data


def test_sheets_of_the_example(rooms: RoomSheets) -> None:
    """Lying A4, black, the booklet's fonts, every client and load found on paper; the same bytes twice."""
    pages = lay_out_room_sheets(rooms)
    data = check_readable(pages)
    pdf = opened(data)
    assert [round(float(edge)) for edge in pdf.pages[0].MediaBox.as_list()[2:]] == [842, 595]
    assert colours(pdf) == {("G", (0.0,)), ("g", (0.0,))}
    assert len(fonts(pdf)) == 3
    assert str(pdf.Root.ViewerPreferences.Duplex) == "/Simplex"
    with pdf.open_outline() as outline:
        assert [item.title for item in outline.root] == [found.bookmark for found in rooms.sheets]
    texts = page_texts(data)
    assert all("For the coach only" in text for text in texts)
    assert all(row.cells[0].text in texts[0] for row in rooms.sheets[0].rows)
    assert render_booklet(pages) == data


def test_most_sheets_take_one_page(rooms: RoomSheets) -> None:
    """Eight clients and twelve exercises do; thirteen exercises go on on a second page with the names again."""
    pages = lay_out_room_sheets(rooms)
    counts: dict[str, int] = {}
    for page in pages.pages:
        counts[page.section] = counts.get(page.section, 0) + 1
    assert counts["Tuesday early, week 1: Squat and press"] == 1
    assert counts["Tuesday early, week 1: Power and carry"] == 2
    assert max(counts.values()) == 2


@pytest.mark.parametrize("clients", [1, 16, 30])
def test_crowded_sheets_flow_over_pages(rooms: RoomSheets, clients: int) -> None:
    """Everybody is there, heads and names are repeated, nothing gets too small."""
    few = crowded(rooms, clients)
    pages = lay_out_room_sheets(few)
    texts = page_texts(check_readable(pages))
    first = [text for text, page in zip(texts, pages.pages, strict=True) if page.section == few.sheets[0].bookmark]
    assert all("Trap-bar deadlift" in text for text in first)
    found = sum(text.count(name) for text in first for name in {row.name for row in few.sheets[0].rows})
    assert found == clients


def test_a_bracket_that_a_page_cuts_is_closed_on_both(rooms: RoomSheets) -> None:
    """One run down a crowded sheet gives a bracket on every page."""
    few = crowded(rooms, 40)
    evening = sheet(rooms, "Tuesday evening, week 1: Hinge and pull")
    whole = replace(evening.shared[0], column=0, first=0, last=39)
    pages = lay_out_room_sheets(replace(few, sheets=(replace(few.sheets[0], shared=(whole,)),)))
    assert len(pages.pages) > 1
    for page in pages.pages:
        marks = [mark for part in page.parts if isinstance(part, Group) for mark in part.marks]
        [bracket] = [mark for mark in marks if type(mark).__name__ == "Bracket"]
        assert bracket.y < bracket.to_y < pages.height


def test_extreme_texts_stay_inside(rooms: RoomSheets) -> None:
    """A long name, a long exercise and a long remark wrap; nothing is cut and nothing collides."""
    found = rooms.sheets[0]
    long = replace(
        found.rows[0],
        name="Maximiliana Featherstonehaugh Cholmondeley of Nether Wallop",
        notes=("left shoulder, limit RPE 6", "at the old boathouse by the weir", "own week 2"),
    )
    block = found.blocks[0]
    head = replace(
        block.columns[0], name="Deficit trap-bar deadlift from a low platform with a pause below the knee", dose="4 × 5"
    )
    odd = replace(found, rows=(long, *found.rows[1:]), blocks=(replace(block, columns=(head,)), *found.blocks[1:]))
    text = page_texts(check_readable(lay_out_room_sheets(replace(rooms, sheets=(odd,)))))[0]
    for word in ("Maximiliana", "Wallop", "boathouse", "platform", "pause"):
        assert word in text


def test_structure_is_a_table(rooms: RoomSheets) -> None:
    """A screen reader finds rows with heads and cells."""
    pages = lay_out_room_sheets(replace(rooms, sheets=rooms.sheets[:1]))
    branches: list[str] = []

    def walk(parts: tuple[Part, ...]) -> None:
        for part in parts:
            if isinstance(part, Branch):
                branches.append(str(part.role))
            if not isinstance(part, Group):
                walk(part.parts)

    walk(pages.pages[0].parts)
    assert branches == ["Table", *["TR"] * (len(rooms.sheets[0].rows) + 1)]


ALONE = """
## Block

| Setting | Value |
| --- | --- |
| Start date | 2026-12-07 |
| Weeks | 1 |

## Exercises

| Exercise | Implement |
| --- | --- |
| Back squat | barbell |

## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- | --- |
| One | Lift | main | A | Back squat | 3 | 5 | 75% |

## Clients

| Client | Programme | Group | Screened on |
| --- | --- | --- | --- |
| Ann Bell | One | | 2026-11-02 |
| Cy Dorr | One | Early | 2026-11-02 |
| Bo Cray | One | | 2026-11-02 |

## Tests

| Client | Date | Exercise | Load | Unit | Reps |
| --- | --- | --- | --- | --- | --- |
| Ann Bell | 2026-11-02 | Back squat | 100 | kg | 1 |
| Cy Dorr | 2026-11-02 | Back squat | 80 | kg | 1 |
"""


def from_tables(tables: str) -> RoomSheets:
    """Return the room sheets of a workbook given as tables."""
    book = bind_book(book_from_grid(tables, "block.xlsx")).book
    assert book is not None
    return build_room_sheets(book, resolve_book(book, frozenset(), frozenset()).plans, ())
