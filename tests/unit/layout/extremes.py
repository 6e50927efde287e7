"""Booklets at the edges of what a coach may type, by what is extreme about them."""

from __future__ import annotations

from dataclasses import replace

from compiler.documents.booklet_value import (
    BlankLoad,
    Block,
    Booklet,
    ChangedForYou,
    CoachNote,
    ExerciseRow,
    ExtraLine,
    Figure,
    LogBoxes,
    Point,
    SafetyList,
    Session,
    TickItem,
    TickList,
)
from compiler.documents.progress_value import GridLine, Panel, PanelPoint, Progress
from compiler.documents.weeks_value import WeeksSheet
from tests.unit.layout.sample_booklet import (
    BOOKLET,
    LANDMINE,
    MAIN_LIFT,
    PAIR_B,
    PAIR_D,
    PAIR_E,
    TRIO_C,
    WARM_UP,
    loaded,
    month_plan,
    session,
    weeks_sheet,
)

LONG_NAME = "Snatch-grip deadlift from a ten-centimetre block with pauses"
ONE_WORD = "Donaudampfschifffahrtsgesellschaftskapitänskniebeugenvariante"
LONG_CUE = (
    "Set the back foot first, then hop the front foot out until the shin is upright. Breathe in at the top, "
    "brace as if someone were about to prod you, lower until the back knee is a hand's width from the floor, "
    "pause there without resting, then drive the whole front foot down and stand up tall, all at once."
)


def row(label: str, name: str = "Goblet box squat", **changes: object) -> ExerciseRow:
    """Return a plain row with some fields changed."""
    plain = ExerciseRow(label, name, Figure("3 × 8"), Figure("20 kg"), loaded(3), cue="Sit back, stand tall.")
    return replace(plain, **changes)


def _with(*blocks: Block, **changes: object) -> Session:
    return replace(session(0, 1), blocks=blocks, **changes)


def _circuit(letter: str) -> Block:
    rest = (
        "A1 to A8 in order, then rest 3 min; carry on to the second round only when the coach has seen the "
        "first one and has said so out loud"
    )
    return Block(
        letter,
        "Giant set",
        rest,
        tuple(row(f"{letter}{i}", f"Station number {i} of the circuit") for i in range(1, 9)),
    )


def _pair(letter: str) -> Block:
    rest = f"{letter}1 then {letter}2, then rest 60 s"
    return Block(letter, "Superset", rest, (row(f"{letter}1"), row(f"{letter}2", "Dead bug with a light band")))


def _lone(letter: str, one: ExerciseRow) -> Block:
    return Block(letter, "Main lift", "rest 2 min after each set", (one,))


SESSIONS = {
    "14 exercises": _with(MAIN_LIFT, PAIR_B, TRIO_C, PAIR_D, PAIR_E, _pair("F"), _pair("G")),
    "60-character names": _with(_lone("A", row("A", LONG_NAME)), _lone("B", row("B10", ONE_WORD))),
    "300-character cues": _with(
        Block("A", "Superset", "rest 90 s", (row("A1", cue=LONG_CUE), row("A2", cue=LONG_CUE)))
    ),
    "5, 6 and 10 sets": _with(
        _lone("A", row("A", log=loaded(10))),
        Block(
            "B",
            "Superset",
            "rest 90 s",
            (row("B1", log=loaded(6, "kg each hand × reps")), row("B2", log=loaded(5, "kg each hand × reps"))),
        ),
        _lone("C", row("C", log=loaded(1, "kg each hand × reps"))),
        _lone("D", row("D", log=LogBoxes("seconds", 7))),
        _lone("E", row("E", log=LogBoxes("", 0, reps_left=True))),
    ),
    "two circuits of eight": _with(_circuit("A"), _circuit("B")),
    "one exercise, nothing else": _with(_lone("A", row("A")), warm_up=None),
    "no exercise": _with(),
    "long session name, wide doses": _with(
        _lone(
            "A",
            row(
                "A",
                dose=Figure("12–15 / 10–12 / 8–10", ("each side", "tempo 4-2-1-1", "the last one to the clock")),
                load=Figure("102.5–107.5 kg", ("25 + 10 + 5 + 2.5 + 1.25 a side", "77.5% of 137.5 kg")),
                spotter="two spotters, safety pins set",
                ramp="bar × 8, 40 kg × 5, 60 kg × 3, 80 kg × 2, 90 kg × 1, 97.5 kg × 1",
            ),
        ),
        _lone("B", row("B", load=Figure("your week 1 weight + 2.5 kg", ("rounded to your kit",)))),
        title="Tuesday strength-endurance for the stroke side of the second eight",
        when="Wednesday 30 September, week 12 of 12, moved from Tuesday by the coach of the second eight",
        note="An easier week on purpose, in which the heaviest set is left out and nobody makes up for it.",
    ),
    "further lines": _with(
        _lone(
            "A",
            row(
                "A",
                load=BlankLoad("kg each hand", ("no test yet: find it by RPE 7 and write it down here",)),
                spotter="spotter",
                extra=(
                    ExtraLine("set 1", "5", "80 kg", ("25 + 5 a side",)),
                    ExtraLine("then, when the last set has felt lighter than RPE 8,", "2 × 5", "−10%"),
                    ExtraLine("each set heavier until it feels like RPE 8; that one counts as the last"),
                    ExtraLine("drop set", "as many as you can, and then as many again", "42.5 kg, 34 kg, 27.5 kg"),
                    ExtraLine("", "", "", ("take off 20% each time, without any rest at all",)),
                ),
            ),
        ),
        _lone("B", row("B", load=None, spotter="spotter")),
        _lone("C", row("C", load=None, dose=Figure("10 rounds of 30 s fast and 90 s easy, every 2 min"))),
        _lone("D", replace(LANDMINE, label="D", changed="")),
    ),
    "markup and odd characters": _with(
        _lone(
            "A",
            row(
                "A",
                "<b>x & =1+1 </b> \\(paren) %percent",
                cue="Nguye\u0302\u0303n, Łukasz, Ойлан, Ψαρρός 💪🏽 日本 é → ✓ ½",
            ),
        ),
    ),
    "long warm-up": _with(
        MAIN_LIFT,
        warm_up=TickList(
            "Warm-up",
            tuple(
                TickItem(LONG_NAME, "8 slow ones each side", "changed by your coach", LONG_CUE) for _ in range(12)
            ),
        ),
        cool_down=replace(WARM_UP, title="Cool-down"),
    ),
    "a head as long as a rule": _with(
        Block(
            "A",
            "Every 2 min × 5, then every 90 s × 5, then as many rounds as there is time for",
            LONG_CUE,
            (row("A"),),
        )
    ),
    "full and without cues": _with(
        *(
            Block(letter, "Giant set", "rest 2 min", tuple(row(f"{letter}{i}", cue="") for i in range(1, 5)))
            for letter in "ABCD"
        )
    ),
    "rows taller than a page": _with(_lone("A", row("A", cue=" ".join([LONG_CUE] * 16)))),
}


def booklet_of(one: Session) -> Booklet:
    """Return the sample booklet with one session in it."""
    rows = tuple(replace(plan, cells=plan.cells[:0]) for plan in month_plan(0).rows)
    plan = replace(month_plan(0), rows=rows)
    return replace(BOOKLET, sessions=(one,), progress=None, sheets=(), cover=replace(BOOKLET.cover, plan=plan))


def _on_a_sheet(sheet: WeeksSheet) -> Booklet:
    one = replace(session(2, 1), key=sheet.keys[0])
    return replace(booklet_of(one), sheets=(replace(sheet, keys=(one.key,)),))


def _changed_cells(sheet: WeeksSheet, **changes: object) -> WeeksSheet:
    blocks = tuple(
        replace(
            block,
            rows=tuple(
                replace(row, cells=tuple(replace(cell, **changes) if cell else None for cell in row.cells))
                for row in block.rows
            ),
        )
        for block in sheet.blocks
    )
    return replace(sheet, blocks=blocks)


def _with_sets(sheet: WeeksSheet, sets: int) -> WeeksSheet:
    return _changed_cells(sheet, sets=sets, reps_left=True)


def _wordy(sheet: WeeksSheet) -> WeeksSheet:
    sheet = _changed_cells(
        sheet,
        dose="12–15 / 10–12 / 8–10",
        load="Body weight + 102.5–107.5 kg",
        blank="",
        lines=("ramp bar × 8, 40 kg × 5, 60 kg × 3, 80 kg × 2", "set 1 5: 80 kg (25 + 5 a side)"),
    )
    [block] = sheet.blocks
    rows = tuple(replace(one, name=ONE_WORD, cue=LONG_CUE) for one in block.rows)
    wide = replace(block, rest=LONG_CUE, rows=rows, letter="A", kind="As many rounds as possible in 12 min")
    return replace(sheet, blocks=(wide,), title="Tuesday strength-endurance for the stroke side of the second eight")


_EMPTY = replace(BOOKLET.cover, plan=replace(month_plan(0), rows=()))


def _panel(title: str, past: int, weeks: int, texts: tuple[str, ...]) -> Panel:
    """Return a panel that goes up and down, its heights as its numbers say."""
    def points(count: int) -> tuple[PanelPoint | None, ...]:
        return tuple(
            PanelPoint((3 * number % 7) / 6, texts[number % len(texts)], "× 8–10") if number % 5 != 3 else None
            for number in range(count)
        )

    lines = tuple(GridLine(number / 5, text) for number, text in enumerate((texts * 6)[:6]))
    return Panel(title, tuple(f"−{week}" for week in range(past, 0, -1)), points(past), points(weeks), lines, title)


def _progress(past: int, weeks: int) -> Progress:
    panels = tuple(_panel(f"{LONG_NAME}, {n}, kg", past, weeks, ("102.5", "95", "1107.5")) for n in range(3))
    return Progress("Your progress", LONG_CUE, "weeks before", "You lifted", panels)


BOOKLETS = {name: booklet_of(one) for name, one in SESSIONS.items()} | {
    "12 weeks on the cover": replace(BOOKLET, cover=replace(BOOKLET.cover, plan=month_plan(3, 12))),
    "12 weeks of 9 sessions": replace(BOOKLET, cover=replace(BOOKLET.cover, plan=month_plan(9, 12))),
    "6 weeks of 14 sessions": replace(BOOKLET, cover=replace(BOOKLET.cover, plan=month_plan(14, 6))),
    "long names on the cover": replace(
        BOOKLET,
        cover=replace(
            BOOKLET.cover,
            gym=f"{LONG_NAME} {LONG_NAME}",
            title=(LONG_NAME, LONG_NAME),
            client="Wolfeschlegelsteinhausen-Bergerdorff, Philippa Anastasia-Marie",
            about=(LONG_CUE[:150], "Coach: Maud Ferrier"),
            found=LONG_CUE[:120],
        ),
        footer=(LONG_NAME, LONG_NAME, "Ottermere Leisure Centre"),
    ),
    "much to say": replace(
        BOOKLET,
        how_to=replace(
            BOOKLET.how_to,
            points=(*BOOKLET.how_to.points, *(Point("More.", LONG_CUE) for _ in range(8))),
            note=CoachNote("From your coach", " ".join([LONG_CUE] * 25)),
        ),
        safety=replace(
            BOOKLET.safety,
            lists=(*BOOKLET.safety.lists, SafetyList("And never", tuple(LONG_CUE for _ in range(12)))),
            changed=ChangedForYou("Changed for you this month", tuple(LONG_CUE for _ in range(20))),
        ),
    ),
    "a full weeks sheet": _on_a_sheet(weeks_sheet(rows=9)),
    "six boxes on a weeks sheet": _on_a_sheet(_with_sets(weeks_sheet(rows=2), 5)),
    "two weeks on a sheet": _on_a_sheet(weeks_sheet(LONG_CUE[:70], weeks=2, rows=6)),
    "long words on a weeks sheet": _on_a_sheet(_wordy(weeks_sheet(rows=2))),
    "progress of 4 weeks": replace(BOOKLET, sessions=(), cover=_EMPTY, progress=_progress(8, 4)),
    "progress of 12 weeks": replace(BOOKLET, sessions=(), cover=_EMPTY, progress=_progress(8, 12)),
    "bare": replace(
        BOOKLET,
        sessions=(),
        cover=_EMPTY,
        progress=None,
        how_to=replace(BOOKLET.how_to, points=(), effort=None, note=None),
        safety=replace(BOOKLET.safety, lists=(), changed=None, emergency=(), cautions=()),
        footer=(),
        label_prefix="",
        simplex=True,
    ),
}
