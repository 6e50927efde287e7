"""A booklet of the invented scenario, for tests of layout and drawing: three sessions, four weeks."""

from __future__ import annotations

from dataclasses import replace

from compiler.documents.booklet_value import (
    BlankLoad,
    Block,
    BlockResult,
    Booklet,
    ChangedForYou,
    CoachNote,
    Cover,
    EffortStep,
    EffortStrip,
    EmergencyLine,
    ExerciseRow,
    ExtraLine,
    Figure,
    HowTo,
    LogBoxes,
    Mark,
    MonthPlan,
    Paper,
    PlanRow,
    PlanWords,
    Point,
    Safety,
    SafetyList,
    Session,
    SessionRef,
    TickItem,
    TickList,
)
from compiler.documents.progress_value import GridLine, Panel, PanelPoint, Progress
from compiler.documents.weeks_value import WeekCell, WeekHead, WeeksBlock, WeeksRow, WeeksSheet

WEEKS = 4
BODY_WEIGHT = Figure("Body weight")


def loaded(count: int, caption: str = "kg × reps") -> LogBoxes:
    """Return the boxes of a row with a load."""
    return LogBoxes(caption, count, reps_left=True)


MAIN_LIFT = Block(
    "A",
    "Main lift",
    "rest 2 min 30 s after each set",
    (
        ExerciseRow(
            "A",
            "Trap-bar deadlift from the low handles",
            Figure("4 × 5", ("tempo 2-0-1",)),
            Figure("95 kg", ("25 + 10 + 2.5 a side", "77.5% of 122.5 kg")),
            loaded(4),
            ramp="bar × 8, 50 kg × 5, 75 kg × 3",
            cue="Push the floor away; the bar and the hips rise together.",
        ),
    ),
)
SPLIT_SQUAT = ExerciseRow(
    "B1",
    "Rear-foot-elevated split squat, dumbbells by the sides",
    Figure("3 × 8", ("each side", "tempo 3-1-1")),
    Figure("2 × 16 kg"),
    loaded(3, "kg each hand × reps"),
    cue="Front shin can travel forward. Sink straight down, drive through the whole foot.",
)
CABLE_ROW = ExerciseRow(
    "B2",
    "Half-kneeling one-arm cable row",
    Figure("3 × 10–12", ("each side",)),
    Figure("RPE 7", ("leave 3 in reserve", "about 25 kg")),
    loaded(3),
    cue="Ribs down, elbow past the pocket, pause for one second.",
)
LUNGE = ExerciseRow(
    "C1",
    "Lateral lunge, one kettlebell held at the chest",
    Figure("3 × 8", ("each side",)),
    Figure("14 kg"),
    loaded(3),
    cue="Sit into the hip; the other leg stays long.",
)
PULLDOWN = ExerciseRow(
    "C2",
    "Straight-arm pulldown with the rope",
    Figure("3 × 12–15"),
    Figure("RPE 8", ("leave 2 in reserve",)),
    loaded(3),
    cue="Hands to the front pockets, shoulders away from the ears.",
)
PLANK = ExerciseRow(
    "C3",
    "Short side plank, top knee on the bench",
    Figure("3 × 25 s", ("each side",)),
    BODY_WEIGHT,
    LogBoxes("seconds", 3),
    cue="Long line from ear to knee. Stop if the lower back takes over.",
)
RING_ROW = ExerciseRow(
    "D1",
    "Ring row, feet on the floor",
    Figure("3 × 8–12"),
    BODY_WEIGHT,
    LogBoxes("reps", 3),
    cue="Walk the feet forward when twelve is easy.",
)
LANDMINE = ExerciseRow(
    "D2",
    "Half-kneeling landmine press",
    Figure("3 × 8", ("each side",)),
    Figure("bar + 5 kg"),
    loaded(3, "plates kg × reps"),
    changed="instead of the overhead press: changed by your coach",
    cue="Reach up and away at the top.",
)
CALF = ExerciseRow(
    "E1",
    "Seated calf raise",
    Figure("3 × 15", ("tempo 2-2-1",)),
    Figure("30 kg"),
    loaded(3),
    cue="Two full seconds at the bottom.",
)
ROWER = ExerciseRow(
    "E2",
    "Rowing machine, rate 18, nose-breathing only",
    Figure("8 min"),
    Figure("Easy"),
    LogBoxes("metres", 1),
    cue="Finish feeling better than you started.",
)
PAIR_B = Block("B", "Superset", "B1 then B2, then rest 90 s", (SPLIT_SQUAT, CABLE_ROW))
TRIO_C = Block("C", "Tri-set", "C1, C2, C3, then rest 75 s", (LUNGE, PULLDOWN, PLANK))
PAIR_D = Block("D", "Superset", "D1 then D2, then rest 90 s", (RING_ROW, LANDMINE))
PAIR_E = Block("E", "Finish", "no rest needed between E1 and E2", (CALF, ROWER))

WARM_UP = TickList(
    "Warm-up",
    (
        TickItem("Easy rowing machine, rate 18", "5 min"),
        TickItem("Hip hinge with a broom handle", "10"),
        TickItem("Cat and camel, slowly", "6"),
        TickItem("Half-kneeling hip-flexor rock", "8 each side"),
        TickItem("Shoulder-blade pull-up from a hang", "6"),
    ),
)
COOL_DOWN = TickList(
    "Cool-down",
    (TickItem("Walk", "3 min"), TickItem("Long-sit hamstring reach", "5 slow breaths each side")),
)

SQUAT = Block(
    "A",
    "Main lift",
    "rest 3 min after each set",
    (
        ExerciseRow(
            "A",
            "Back squat",
            Figure("3 × 5, 4, 3"),
            None,
            loaded(3),
            ramp="bar × 8, 45 kg × 5, 65 kg × 3",
            spotter="safety pins set",
            extra=(
                ExtraLine("set 1", "5", "80 kg", ("25 + 5 a side",)),
                ExtraLine("set 2", "4", "85 kg", ("25 + 5 + 2.5 a side",)),
                ExtraLine("set 3", "3", "90 kg", ("25 + 10 a side",)),
            ),
            cue="Big breath at the top; knees follow the toes.",
        ),
    ),
)
PRESS = Block(
    "B",
    "Superset",
    "B1 then B2, then rest 90 s",
    (
        ExerciseRow(
            "B1",
            "Bench press",
            Figure("4 × 6", ("last set: as many as you can, two in reserve",)),
            Figure("52.5 kg", ("15 + 1.25 a side",)),
            loaded(4),
            spotter="spotter",
            extra=(ExtraLine("drop set", "20% off, twice", "42.5 kg, 34 kg"),),
        ),
        ExerciseRow(
            "B2",
            "Pull-up",
            Figure("4 × 6"),
            Figure("Body weight − 20 kg", ("band help",)),
            loaded(4, "added kg × reps"),
            cue="Start from a dead hang.",
        ),
    ),
)
CIRCUIT = Block(
    "C",
    "Circuit, 12 min",
    "as many rounds as you can in 12 min; rest only when you need it",
    (
        ExerciseRow("C1", "Kettlebell swing", Figure("12 reps"), Figure("20 kg"), LogBoxes("", 0)),
        ExerciseRow("C2", "Step-up, knee-high box", Figure("8", ("each side",)), BODY_WEIGHT, LogBoxes("", 0)),
        ExerciseRow(
            "C3", "Farmer's walk", Figure("40 m"), BlankLoad("kg each hand", ("no test yet: find it by RPE 7",)),
            LogBoxes("", 0),
        ),
    ),
    result=BlockResult("Rounds done in 12 min, and reps of the last one", LogBoxes("rounds + reps", 1)),
)


def session(number: int, week: int) -> Session:
    """Return one of the three sessions in one of the weeks."""
    title, day, blocks = (
        ("Hinge and pull", "Monday", (MAIN_LIFT, PAIR_B, TRIO_C, PAIR_D, PAIR_E)),
        ("Squat and press", "Wednesday", (SQUAT, PRESS, CIRCUIT)),
        ("Long legs, quiet trunk", "Saturday", (PAIR_B, TRIO_C)),
    )[number]
    return Session(
        key=f"{number}-{week}",
        title=title,
        when=f"{day}, week {week} of {WEEKS}",
        bookmark=f"Week {week}: {title}",
        blocks=blocks,
        warm_up=WARM_UP,
        cool_down=COOL_DOWN if number else None,
        note="An easier week on purpose." if week == WEEKS else "",
    )


def weeks_sheet(title: str = "Long legs, quiet trunk", weeks: int = WEEKS, rows: int = 5) -> WeeksSheet:
    """Return the last session with its weeks side by side."""
    names = [row.name for row in (SPLIT_SQUAT, CABLE_ROW, LUNGE, PULLDOWN, PLANK)]
    cell = WeekCell("3 × 8", "2 × 16 kg", ("leave 3 in reserve, about 16 kg",), 3, reps_left=True)
    blank = WeekCell("3 × 10–12", "", (), 3, reps_left=False, blank="kg each hand")
    return WeeksSheet(
        keys=tuple(f"2-{week}" for week in range(1, weeks + 1) if week != 3),
        title=title,
        bookmark=f"{title}, weeks 1 to {weeks}",
        heads=tuple(
            WeekHead(f"Week {week}", "Saturday 12 December", "An easier week on purpose." if week == WEEKS else "")
            for week in range(1, weeks + 1)
        ),
        blocks=tuple(
            WeeksBlock(
                letter,
                "Superset",
                f"{letter}1 then {letter}2, then rest 90 s",
                tuple(
                    WeeksRow(
                        f"{letter}{number}",
                        names[(number + start) % len(names)],
                        "changed by your coach" if number == 2 else None,
                        ("Each side, tempo 3-1-1.",),
                        "Sit into the hip; the other leg stays long.",
                        "Boxes: kg × reps; the last one: reps left.",
                        (cell, blank, None, cell)[:weeks],
                    )
                    for number in range(1, 1 + min(2, rows - start))
                ),
                joined=True,
            )
            for letter, start in zip("ABCDEFGH", range(0, rows, 2), strict=False)
        ),
        before="Warm-up: " + " ".join(f"{item.text}, {item.detail}." for item in WARM_UP.items),
        after="Cool-down: Walk, 3 min.",
    )


def month_plan(sessions: int = 3, weeks: int = WEEKS) -> MonthPlan:
    """Return the plan of the month; the client is away from the last session of week 3."""
    titles = ("Hinge and pull", "Squat and press", "Long legs, quiet trunk")
    return MonthPlan(
        "Tick each session when it is done",
        tuple(f"Week {week}" for week in range(1, weeks + 1)),
        tuple(
            PlanRow(
                titles[number % 3],
                tuple(
                    PlanWords("away")
                    if (number, week) == (2, 3)
                    else SessionRef(f"{number % 3}-{(week - 1) % WEEKS + 1}")
                    for week in range(1, weeks + 1)
                ),
            )
            for number in range(sessions)
        ),
    )


COVER = Cover(
    gym="Ottermere Leisure Centre",
    title=("Winter strength", "December 2026"),
    client="Imogen Thackray",
    about=("Lower Ottermere Rowing Club", "Coach: Maud Ferrier", "Front desk, extension 4"),
    plan=month_plan(),
    found="Found this booklet? Please hand it in at the front desk.",
)

HOW_TO = HowTo(
    title="How to read a session",
    sample=Block(
        "B",
        "Superset",
        "B1 then B2, then rest 90 s",
        (
            ExerciseRow(
                "B1",
                "Front squat",
                Figure("4 × 6", ("tempo 3-1-1",)),
                Figure("60 kg", ("20 a side",)),
                loaded(4),
                ramp="bar × 8, 40 kg × 5",
                cue="Elbows high all the way up.",
            ),
            replace(CABLE_ROW, changed="instead of the barbell row: changed by your coach"),
        ),
    ),
    points=(
        Point(
            "Block and rest.",
            "Exercises joined by a bracket are done in turn: one set of each, then the rest. Repeat until every "
            "set is done.",
            Mark.REST,
        ),
        Point("Order and name.", "B1 comes before B2.", Mark.NAME),
        Point("Changed.", "Your coach chose another exercise for you.", Mark.CHANGED),
        Point("Ramp.", "Lighter sets first, once, before the sets that count.", Mark.RAMP),
        Point(
            "Sets × reps.",
            "4 × 6 is four sets of six. 8–10 means stop anywhere from eight to ten. Tempo 3-1-1: three seconds "
            "down, one still, one up.",
            Mark.DOSE,
        ),
        Point(
            "Your load.",
            "Kilograms in all. “20 a side” is what goes on each end of a 20 kg bar. 2 × 16 kg is one in each hand.",
            Mark.LOAD,
        ),
        Point("Cue.", "The one thing to think about.", Mark.CUE),
        Point(
            "Your boxes.",
            "Write what you really did, one box for each set: 60 × 6. Missed a set? Draw a line through its box.",
            Mark.BOXES,
        ),
        Point(
            "Reps left.",
            "After the last set, write how many more you could have done well.",
            Mark.REPS_LEFT,
        ),
        Point("", "Percentages are of your working max, which is 90% of your best single."),
    ),
    effort=EffortStrip(
        "RPE: how hard should it feel?",
        (
            EffortStep("RPE 6", "four more reps were possible"),
            EffortStep("RPE 7", "three more"),
            EffortStep("RPE 8", "two more"),
            EffortStep("RPE 9", "one more"),
            EffortStep("RPE 10", "nothing left"),
        ),
    ),
    note=CoachNote(
        "From your coach",
        "Imogen, the deadlift moves up this month and the last week is a light one on purpose. Tell me in the "
        "notes how the shoulder feels the morning after.",
    ),
)

PROGRESS = Progress(
    title="Your progress",
    intro="Solid dots are the heaviest you lifted in the weeks before. Open dots are the heaviest weight in this "
    "month's plan. Write the heaviest that you lift in the boxes.",
    before="weeks before",
    lifted="You lifted",
    panels=(
        Panel(
            "Trap-bar deadlift, kg",
            ("−4", "−3", "−2", "−1"),
            (PanelPoint(0.2, "85", "× 5"), None, PanelPoint(0.4, "90", "× 5"), PanelPoint(0.5, "92.5", "× 5")),
            (
                PanelPoint(0.5, "92.5", "× 5"),
                PanelPoint(0.6, "95", "× 5"),
                PanelPoint(0.8, "100", "× 4"),
                PanelPoint(0.2, "85", "× 5"),
            ),
            tuple(GridLine(number / 5, str(80 + number * 5)) for number in range(6)),
            "Trap-bar deadlift, kg. Lifted: the week before 92.5 × 5. Plan: week 1 92.5, week 2 95, week 3 100, "
            "week 4 85.",
        ),
        Panel(
            "Back squat, kg",
            (),
            (),
            (PanelPoint(0.5, "90", "× 3"), None, PanelPoint(0.5, "90", "× 3"), PanelPoint(0.5, "90", "× 3")),
            (GridLine(0.0, "89.5"), GridLine(0.5, "90"), GridLine(1.0, "90.5")),
            "Back squat, kg. Plan: week 1 90, week 3 90, week 4 90.",
        ),
    ),
)

SAFETY = Safety(
    title="Train safely",
    lists=(
        SafetyList(
            "Before each session",
            (
                "Tell the coach about any new pain, illness or medicine.",
                "Shoes tied, phone away, water within reach.",
                "Collars on every bar; plates back on the rack.",
            ),
        ),
        SafetyList(
            "Stop the set if",
            (
                "a joint hurts, or a pain is sharp or new;",
                "the last rep no longer looks like the first;",
                "you are not sure of the next one.",
            ),
        ),
        SafetyList(
            "Stop the session and fetch a member of staff if",
            (
                "you have chest pain or tightness, or you faint;",
                "you feel dizzy or sick, or short of breath at rest;",
                "your heart beats irregularly, or your head aches suddenly and badly;",
                "you have trouble with speech or sight, or a limb goes numb or weak.",
            ),
        ),
    ),
    changed=ChangedForYou(
        "Changed for you this month",
        ("Overhead press is replaced by the half-kneeling landmine press (Hinge and pull, D2).",),
    ),
    emergency_title="In an emergency",
    emergency=(
        EmergencyLine("Front desk", "extension 4, or shout: the desk can hear you"),
        EmergencyLine("Defibrillator", "foyer wall, left of the stairs"),
        EmergencyLine("", "Ambulances come to the boathouse side."),
        EmergencyLine("Your contact"),
    ),
    cautions=(
        "This booklet is no medical advice. If you are not sure whether training is safe for you, ask first.",
        "Ask a doctor or a physiotherapist. The rules of the centre come before this page.",
    ),
)

BOOKLET = Booklet(
    language="en-GB",
    title="Winter strength, December 2026, Imogen Thackray",
    author="Maud Ferrier",
    subject="Printed training programme",
    paper=Paper.A4,
    cover=COVER,
    how_to=HOW_TO,
    sessions=tuple(session(number, week) for number in range(3) for week in range(1, WEEKS + 1)),
    safety=SAFETY,
    progress=PROGRESS,
    sheets=(weeks_sheet(),),
    footer=("Imogen Thackray", "December 2026", "Ottermere Leisure Centre"),
    label_prefix="IT-",
)
