"""The log, as it is typed up: `ok`, `-`, `95x5 @8`, `95x5, 95x5, 90x4`, `12, 12, 10`, `45 s`.

Weight first, then repetitions. A comma after repetitions always parts two sets, because repetitions are
whole; before the x it follows the rule of all numbers (`92,5x5` is 92.5).
"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from lark import Token

from compiler.flags.model import Remark
from compiler.notation.efforts import effort_of
from compiler.notation.log_values import AsPlanned, LoggedSet, LoggedSets, LogText, NotDone
from compiler.notation.measures import DISTANCES, SECONDS_IN, Amount, Span, amount_of, seconds_of, settle_metres
from compiler.notation.numbers import Refused, whole
from compiler.notation.reading import (
    Node,
    amount,
    branches,
    cleaned,
    grammar_text,
    guarded,
    kind_of,
    quoted,
    tokens,
    tree_of,
    whole_amount,
)
from compiler.notation.reps import LONGEST_SET
from compiler.notation.values import Count, Distance, DistanceUnit, Effort, EffortScale, Tally, Timed, Weight
from compiler.notation.weight import HEAVIEST
from compiler.quantities import Unit

MOST_REPS = 1000
_HINT = "Write ok; -; 95x5; 95x5 @8; 95x5, 95x5, 90x4; 12, 12, 10; or 45 s."
_COMMA_AFTER_REPS = re.compile(r"(x ?[0-9]+ ?),")
_UNIT_AT_X = re.compile(r"(?<=[0-9])( ?)(kgs?|lbs?)x(?= ?[0-9])")
_LESS_THAN_NOTHING = re.compile(r"- ?[0-9]")
_NO_COMMA = re.compile(r"(?:^|[ ,])([0-9.]+) ?x ?([0-9]+) ([0-9.]+) ?x ?([0-9]+)")
_REPS_FIRST = re.compile(r"(?:^|[ ,])([0-9]+) ?x ?([0-9]+\.[0-9]+)(?: ?kgs?| ?lbs?)?(?:$|[ ,@])")


def _lift(amount: str, reps: int, rpe: int | None = None) -> LoggedSet:
    effort = Effort(EffortScale.RPE, Decimal(rpe), Decimal(rpe)) if rpe else None
    return LoggedSet(Count(reps, reps), Weight(Decimal(amount), None), effort=effort)


_TWELVES = LoggedSets((LoggedSet(Count(12, 12)), LoggedSet(Count(12, 12)), LoggedSet(Count(10, 10))))

EXAMPLES: tuple[tuple[str, LogText], ...] = (
    ("ok", AsPlanned()),
    ("-", NotDone()),
    ("95x5", LoggedSets((_lift("95", 5),))),
    ("95x5 @8", LoggedSets((_lift("95", 5, 8),))),
    ("95x5, 95x5, 90x4", LoggedSets((_lift("95", 5), _lift("95", 5), _lift("90", 4)))),
    ("12, 12, 10", _TWELVES),
    ("45 s", LoggedSets((LoggedSet(Timed(45, 45)),))),
    ("12,12,10", _TWELVES),
    ("95x5,95x5", LoggedSets((_lift("95", 5), _lift("95", 5)))),
    ("92,5x5, 90x5", LoggedSets((_lift("92.5", 5), _lift("90", 5)))),
    ("95 x 5 @ RPE 8", LoggedSets((_lift("95", 5, 8),))),
    ("95x5, 95x5 @9", LoggedSets((_lift("95", 5), _lift("95", 5, 9)))),
    (
        "95 kg x 5 2 RIR",
        LoggedSets(
            (
                LoggedSet(
                    Count(5, 5),
                    Weight(Decimal(95), Unit.KG),
                    effort=Effort(EffortScale.RIR, Decimal(2), Decimal(2)),
                ),
            )
        ),
    ),
    ("95kgx5", LoggedSets((LoggedSet(Count(5, 5), Weight(Decimal(95), Unit.KG)),))),
    ("100x0", LoggedSets((_lift("100", 0),))),
    ("BW x 8", LoggedSets((LoggedSet(Count(8, 8), body_weight=True),))),
    ("BW + 10 kg x 5", LoggedSets((LoggedSet(Count(5, 5), Weight(Decimal(10), Unit.KG), body_weight=True),))),
    ("BW - 20 x 5", LoggedSets((LoggedSet(Count(5, 5), Weight(Decimal(-20), None), body_weight=True),))),
    ("45, 40 s", LoggedSets((LoggedSet(Timed(45, 45)), LoggedSet(Timed(40, 40))))),
    ("1:30", LoggedSets((LoggedSet(Timed(90, 90)),))),
    ("400 m", LoggedSets((LoggedSet(Distance(Decimal(400), Decimal(400), DistanceUnit.METRE)),))),
    ("ok @8", AsPlanned(Effort(EffortScale.RPE, Decimal(8), Decimal(8)))),
    ("missed", NotDone()),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-reps"),
    ("good", "unreadable-reps"),
    ("95x5x3", "unreadable-reps"),
    ("95x", "unreadable-reps"),
    ("95 kg", "unreadable-reps"),
    ("95x5, 12", "unreadable-reps"),
    ("95x5.5", "unreadable-reps"),
    ("95x5 @11", "unreadable-reps"),
    ("95 kg x 5, 200 lb x 5, 95x5", "unreadable-reps"),
    ("12,10", "ambiguous-number"),
    ("92,50x5", "ambiguous-number"),
    ("2 m", "metres-or-minutes"),
    ("45 s, 40", "unreadable-reps"),
    ("12 @8 @9", "unreadable-reps"),
    ("8'", "metres-or-minutes"),
    ("112 bpm", "unreadable-reps"),
    ("9000x5", "unreadable-reps"),
    ("681:30", "unreadable-reps"),
    ("95x5, 90x4 90x4", "unreadable-reps"),
    ("8x82.5", "unreadable-reps"),
    ("10²x5", "unreadable-reps"),
)


def read_log(text: str) -> LogText | Remark:
    """Return what was done, or why it could not be read."""
    return guarded(_read, text)


def _refusal(text: str, found: str, hint: str = _HINT) -> Refused:
    return Refused(Remark("unreadable-reps", f"{quoted(text)} {found}.", hint))


def _read(text: str) -> LogText:
    apart = _UNIT_AT_X.sub(r"\1\2 x", cleaned(text).casefold())
    _refuse_slips(text, apart)
    tree = tree_of("log", grammar_text(_COMMA_AFTER_REPS.sub(r"\1, ", apart)))
    if tree is None:
        helped = _LESS_THAN_NOTHING.match(grammar_text(apart))
        hint = "Write BW - 20 x 5 for help with body weight." if helped else _HINT
        raise _refusal(text, "is not what was done", hint)
    if tree.data == "not_done":
        return NotDone()
    if tree.data == "as_planned":
        return AsPlanned(_effort(branches(tree), text))
    sets = [branches(node) for node in branches(tree)]
    lifted = [parts[0].data == "lift" for parts in sets]
    if any(parts[0].data == "sets_typed" for parts in sets):
        raise _refusal(text, "has two x; it may be sets or repetitions", "Write each set: 95x5, 95x5, 95x5.")
    if all(lifted):
        return LoggedSets(_in_one_unit([_lifted(parts, text) for parts in sets], text))
    if any(lifted):
        raise _refusal(text, "has a weight on some sets only", "Write the weight of each set: 95x5, 95x4.")
    return LoggedSets(_counted(sets, text))


def _refuse_slips(text: str, apart: str) -> None:
    """Refuse what the hand writes in haste, with a hint of its own: a comma left out, repetitions before the weight."""
    if found := _NO_COMMA.search(apart):
        first, reps, second, more = found.groups()
        raise _refusal(text, "has two sets without a comma between them", f"Write {first}x{reps}, {second}x{more}.")
    if found := _REPS_FIRST.search(apart):
        raise _refusal(text, "has half a repetition; expected the weight first", f"Write {found[2]}x{found[1]}.")


def _lifted(parts: list[Node], text: str) -> LoggedSet:
    unreadable = _refusal(text, "is not what was done").reason
    found = tokens(parts[0])
    numbers = [token for token in found if token.type == "NUMBER"]
    kinds = {kind_of(token) for token in found}
    on_body_weight = "BODY_WEIGHT" in kinds
    reps = whole_amount(numbers[-1], unreadable)
    if reps > MOST_REPS:
        raise Refused(unreadable)
    weight = _weight(numbers[0], kinds, unreadable) if len(numbers) > 1 else None
    effort = _effort(parts[1:], text)
    return LoggedSet(Count(reps, reps), weight, body_weight=on_body_weight, effort=effort)


def _weight(number: Token, kinds: set[str], unreadable: Remark) -> Weight:
    value = amount(number, unreadable)
    unit = next((unit for unit in Unit if unit.name in kinds), None)
    if value > HEAVIEST[unit]:
        raise Refused(unreadable)
    return Weight(-value if "DASH" in kinds else value, unit)


def _in_one_unit(sets: list[LoggedSet], text: str) -> tuple[LoggedSet, ...]:
    """Return the sets with the one unit typed on all of them; none typed stays none."""
    units = {one.weight.unit for one in sets if one.weight and one.weight.unit}
    if not units:
        return tuple(sets)
    if len(units) > 1 and any(one.weight and one.weight.unit is None for one in sets):
        raise _refusal(text, "has two units, and sets without one", "Write kg or lb on every set.")
    unit = next(iter(units))
    return tuple(
        replace(one, weight=Weight(one.weight.amount, one.weight.unit or unit)) if one.weight else one for one in sets
    )


def _counted(sets: list[list[Node]], text: str) -> tuple[LoggedSet, ...]:
    unreadable = _refusal(text, "is not what was done").reason
    amounts = [amount_of(parts[0], unreadable) for parts in sets]
    unit = amounts[-1].unit
    if unit is None and any(one.unit not in {None, "reps"} for one in amounts):
        raise _refusal(text, "has a unit on some sets only", "Put the unit after the last one: 45, 40 s.")
    spans = settle_metres([Span(one, one).within(unit or "reps") for one in amounts], text)
    done = [_done(span.low, text) for span in spans]
    if len({type(one) for one in done}) > 1:
        raise _refusal(text, "is a list of different things", "Use one kind for all sets: 45, 40 s.")
    return tuple(LoggedSet(one, effort=_effort(parts[1:], text)) for one, parts in zip(done, sets, strict=True))


def _done(amount: Amount, text: str) -> Count | Timed | Distance | Tally:
    unreadable = _refusal(text, "is not what was done").reason
    if amount.unit in SECONDS_IN:
        seconds, _ = seconds_of(Span(amount, amount), unreadable)
        if seconds > LONGEST_SET:
            raise Refused(unreadable)
        return Timed(seconds, seconds)
    if amount.unit in DISTANCES:
        return Distance(amount.number, amount.number, DISTANCES[amount.unit])
    count = whole(amount.number)
    if count is None or count > MOST_REPS or amount.unit in {None, "bpm"}:
        raise Refused(unreadable)
    if amount.unit == "reps":
        return Count(count, count)
    return Tally(count, count, str(amount.unit))


def _effort(nodes: list[Node], text: str) -> Effort | None:
    if not nodes:
        return None
    inner = branches(nodes[0])
    node = inner[0] if inner else nodes[0]
    number = next(token for token in tokens(node) if token.type == "NUMBER")
    in_reserve = any(kind_of(token) == "RIR" for token in tokens(node))
    value = amount(number, _refusal(text, "is not what was done").reason)
    scale = EffortScale.RIR if in_reserve else EffortScale.RPE
    return effort_of(scale, value, value, quoted(text), "unreadable-reps")
