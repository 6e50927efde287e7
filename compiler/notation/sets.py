"""Sets: `3`, `2-3`, `-` for not this week, or the whole prescription of a row, `3 x 8 @ 75%`."""

from __future__ import annotations

import re
from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.load import read_load
from compiler.notation.numbers import Refused
from compiler.notation.reading import (
    Node,
    branches,
    cleaned,
    grammar_text,
    guarded,
    quoted,
    tokens,
    tree_of,
    whole_amount,
)
from compiler.notation.reps import read_reps
from compiler.notation.values import (
    Count,
    Effort,
    EffortLoad,
    EffortScale,
    NotThisWeek,
    PercentLoad,
    PercentRange,
    Prescription,
    Reps,
    Sets,
    WeightLoad,
    WeightRange,
)
from compiler.quantities import Load, Percent, Unit

MOST_SETS = 20
_HINT = "Write 3; 2-3; - for not this week; or the whole prescription, 3 x 8 @ 75%."
_SPELT_AT = re.compile(r"(?<=[^a-z])at(?=[^a-z])", re.IGNORECASE)

_WITHOUT_AT = re.compile(
    r"(?P<sets>[0-9-]+) ?x ?(?P<reps>[0-9-]+) ?[x ] ?(?P<load>[0-9.,]+ ?(?:%|kgs?\.?|lbs?\.?|pounds?))", re.IGNORECASE
)
"""A whole prescription whose load follows without the @: 3 x 8 75%, 3 x 10 x 24 kg."""

_EIGHTS = Reps((Count(8, 8),))
_THREE_QUARTERS = PercentLoad((PercentRange(Percent(Decimal(75)), Percent(Decimal(75))),))
_SIXTEEN = Load(Decimal(16), Unit.KG)

EXAMPLES: tuple[tuple[str, Sets | NotThisWeek | Prescription], ...] = (
    ("3", Sets(3, 3)),
    ("2-3", Sets(2, 3)),
    ("-", NotThisWeek()),
    ("3 x 8 @ 75%", Prescription(Sets(3, 3), _EIGHTS, _THREE_QUARTERS)),
    ("3 x 8", Prescription(Sets(3, 3), _EIGHTS, None)),
    ("3x8", Prescription(Sets(3, 3), _EIGHTS, None)),
    ("2-3 x 8-10 at 75 %", Prescription(Sets(2, 3), Reps((Count(8, 10),)), _THREE_QUARTERS)),
    ("3 sets of 8", Prescription(Sets(3, 3), _EIGHTS, None)),
    ("3 sets", Sets(3, 3)),
    ("3 rounds", Sets(3, 3)),
    ("3x", Sets(3, 3)),
    ("2 to 3", Sets(2, 3)),
    (
        "3 x 8/side @ 2 x 16 kg",
        Prescription(
            Sets(3, 3),
            Reps((Count(8, 8),), each_side=True),
            WeightLoad((WeightRange(_SIXTEEN, _SIXTEEN),), 2),
        ),
    ),
    (
        "3 x 12, 10, 8 @ RPE 8",
        Prescription(
            Sets(3, 3),
            Reps((Count(12, 12), Count(10, 10), Count(8, 8))),
            EffortLoad(Effort(EffortScale.RPE, Decimal(8), Decimal(8))),
        ),
    ),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-reps"),
    ("three", "unreadable-reps"),
    ("0", "unreadable-reps"),
    ("21", "unreadable-reps"),
    ("3-2", "unreadable-reps"),
    ("2.5", "unreadable-reps"),
    ("12, 10, 8", "unreadable-reps"),
    ("3,5", "unreadable-reps"),
    ("3 @ 75%", "unreadable-reps"),
    ("3 x 8 @ 75", "bare-percentage"),
    ("3 x 8 @ 8", "bare-percentage"),
    ("3 x 2 m", "metres-or-minutes"),
    ("3 x lots", "unreadable-reps"),
    ("3 x 12,10", "ambiguous-number"),
    ("3 x 8 @", "unreadable-reps"),
    ("3 x 8 72,5%", "unreadable-reps"),
    ("3 x 10 x 24 kg", "unreadable-reps"),
    ("3 x 5 x 75%", "unreadable-reps"),
    ('8"', "unreadable-reps"),
    ("3 of", "unreadable-reps"),
    ("1²", "unreadable-reps"),
    ("3 x 8 @ 6O kg", "unreadable-load"),
)


def read_sets(text: str) -> Sets | NotThisWeek | Prescription | Remark:
    """Return what a sets cell says, or why it, or a part of it, could not be read."""
    return guarded(_read, text)


def _read(text: str) -> Sets | NotThisWeek | Prescription:
    unreadable = Remark(
        "unreadable-reps", f"{quoted(text)} is not a number of sets, and not a whole prescription.", _HINT
    )
    # Parts keep their letter case, so that their readers quote them as typed, and decide on their commas.
    marked = _SPELT_AT.sub("@", cleaned(text))
    meant = _WITHOUT_AT.fullmatch(marked)
    if meant is not None:
        hint = f"Write {meant['sets']} x {meant['reps']} @ {grammar_text(meant['load'])}."
        raise Refused(Remark("unreadable-reps", f"{quoted(text)} has no @ before its load.", hint))
    tree = tree_of("sets", marked)
    if tree is None:
        raise Refused(unreadable)
    if tree.data == "not_this_week":
        return NotThisWeek()
    sets = _sets(branches(tree)[0], text, unreadable)
    if tree.data == "count":
        return sets
    if tree.data == "reps_missing":
        raise Refused(
            Remark(
                "unreadable-reps",
                f"{quoted(text)} has sets and a load, and no repetitions.",
                "Write the repetitions before the @, with an x between sets and repetitions.",
            )
        )
    return _prescription(sets, branches(tree)[1:])


def _sets(node: Node, text: str, unreadable: Remark) -> Sets:
    numbers = [whole_amount(token, unreadable) for token in tokens(node) if token.type == "NUMBER"]
    low, high = numbers[0], numbers[-1]
    if not 1 <= low <= high <= MOST_SETS:
        expected = f"1 to {MOST_SETS} sets, smaller end first"
        raise Refused(Remark("unreadable-reps", f"{quoted(text)} cannot be right; expected {expected}.", _HINT))
    return Sets(low, high)


def _prescription(sets: Sets, parts: list[Node]) -> Prescription:
    reps = read_reps(str(tokens(parts[0])[0]))
    if isinstance(reps, Remark):
        raise Refused(reps)
    load = read_load(str(tokens(parts[1])[0])) if len(parts) > 1 else None
    if isinstance(load, Remark):
        raise Refused(load)
    return Prescription(sets, reps, load)
