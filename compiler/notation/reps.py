"""What is done in one set: repetitions, times, distances, breaths, clusters; one item, or one for each set.

In a list the last item's unit holds for those before it that have none (`30, 40, 50 s`), and so does a last
`each side`. Three numbers or more with dashes or slashes are a list, set by set.
"""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.measures import (
    DISTANCES,
    SECONDS_IN,
    Amount,
    Span,
    amount_of,
    seconds_of,
    settle_metres,
    span_of,
)
from compiler.notation.numbers import Refused, had_decimal_comma, whole
from compiler.notation.reading import (
    Node,
    amount,
    branches,
    grammar_text,
    guarded,
    quoted,
    tokens,
    tree_of,
)
from compiler.notation.values import (
    AsManyAsPossible,
    AtLeast,
    Cluster,
    Count,
    Distance,
    DistanceUnit,
    Reps,
    RepsItem,
    ShareOfMost,
    Tally,
    TestSet,
    Timed,
)
from compiler.quantities import Percent

MOST_REPS = 100
MOST_TALLY = 1000
HEAVIEST_TEST_REPS = 20
LONGEST_SET = 4 * 3600  # seconds
_LONGEST = {
    DistanceUnit.METRE: 100_000,
    DistanceUnit.YARD: 100_000,
    DistanceUnit.KILOMETRE: 100,
    DistanceUnit.MILE: 100,
}
_TALLIES = frozenset({"breaths", "steps", "cal"})
_HINT = "Write 8; 8-10; AMRAP; 8 each side; 30 s; 1:30; 400 m; or set by set, 12, 10, 8."

EXAMPLES: tuple[tuple[str, Reps], ...] = (
    ("8", Reps((Count(8, 8),))),
    ("8-10", Reps((Count(8, 10),))),
    ("12, 10, 8", Reps((Count(12, 12), Count(10, 10), Count(8, 8)))),
    ("6/4/2", Reps((Count(6, 6), Count(4, 4), Count(2, 2)))),
    ("8 each side", Reps((Count(8, 8),), each_side=True)),
    ("8/side", Reps((Count(8, 8),), each_side=True)),
    ("8 per side", Reps((Count(8, 8),), each_side=True)),
    ("8 ea", Reps((Count(8, 8),), each_side=True)),
    ("AMRAP", Reps((AsManyAsPossible(),))),
    ("max", Reps((AsManyAsPossible(),))),
    ("8+", Reps((AtLeast(8),))),
    ("60% of max", Reps((ShareOfMost(Percent(Decimal(60))),))),
    ("3RM", Reps((TestSet(3),))),
    ("30 s", Reps((Timed(30, 30),))),
    ("1:30", Reps((Timed(90, 90),))),
    ("2 min", Reps((Timed(120, 120),))),
    ("400 m", Reps((Distance(Decimal(400), Decimal(400), DistanceUnit.METRE),))),
    ("20 yd", Reps((Distance(Decimal(20), Decimal(20), DistanceUnit.YARD),))),
    ("5 breaths", Reps((Tally(5, 5, "breaths"),))),
    ("10 steps", Reps((Tally(10, 10, "steps"),))),
    ("15 cal", Reps((Tally(15, 15, "cal"),))),
    ("2+2+2", Reps((Cluster((2, 2, 2)),))),
    ("20-30 s each side", Reps((Timed(20, 30),), each_side=True)),
    ("12,10,8", Reps((Count(12, 12), Count(10, 10), Count(8, 8)))),
    ("12-10-8", Reps((Count(12, 12), Count(10, 10), Count(8, 8)))),
    ("8-10, 6-8", Reps((Count(8, 10), Count(6, 8)))),
    ("5, 5, 5+", Reps((Count(5, 5), Count(5, 5), AtLeast(5)))),
    ("8, 8, AMRAP", Reps((Count(8, 8), Count(8, 8), AsManyAsPossible()))),
    ("30, 40, 50 s", Reps((Timed(30, 30), Timed(40, 40), Timed(50, 50)))),
    ("12, 10, 8 each side", Reps((Count(12, 12), Count(10, 10), Count(8, 8)), each_side=True)),
    ("8 to 10 reps", Reps((Count(8, 10),))),
    ("8 each leg", Reps((Count(8, 8),), each_side=True)),
    ("8 e/s", Reps((Count(8, 8),), each_side=True)),
    ("to failure", Reps((AsManyAsPossible(),))),
    ("as many as possible", Reps((AsManyAsPossible(),))),
    ("90 s - 2 min", Reps((Timed(90, 120),))),
    (":30", Reps((Timed(30, 30),))),
    ("2 min 30 s", Reps((Timed(150, 150),))),
    ("20 metres", Reps((Distance(Decimal(20), Decimal(20), DistanceUnit.METRE),))),
    ("1.5 km", Reps((Distance(Decimal("1.5"), Decimal("1.5"), DistanceUnit.KILOMETRE),))),
    ("5.0", Reps((Count(5, 5),))),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-reps"),
    ("-", "unreadable-reps"),
    ("lots", "unreadable-reps"),
    ("10-8", "unreadable-reps"),
    ("0", "unreadable-reps"),
    ("101", "unreadable-reps"),
    ("8.5", "unreadable-reps"),
    ("12,8", "ambiguous-number"),
    ("12,10", "ambiguous-number"),
    ("1,000 m", "ambiguous-number"),
    ("8/8", "ambiguous-number"),
    ("2 m", "metres-or-minutes"),
    ("20, 30, 40 m", "metres-or-minutes"),
    ("2'", "metres-or-minutes"),
    ("3 x 8", "unreadable-reps"),
    ("8 @ 75%", "unreadable-reps"),
    ("8 each side, 8", "unreadable-reps"),
    ("30 s, 40", "unreadable-reps"),
    ("30 s, 400 m", "unreadable-reps"),
    ("12-10-8, 6", "unreadable-reps"),
    ("3RM, 2RM", "unreadable-reps"),
    ("25RM", "unreadable-reps"),
    ("120% of max", "impossible-percentage"),
    ("60%", "unreadable-reps"),
    ("AMRAP 12 min", "unreadable-reps"),
    ("8 kg", "unreadable-reps"),
    ("1_0", "unreadable-reps"),
    ("5e0", "unreadable-reps"),
    ("½", "unreadable-reps"),
    ("10²", "unreadable-reps"),
    ("2m 4", "unreadable-reps"),
    ("400 km", "unreadable-reps"),
    ("-8", "unreadable-reps"),
)


def read_reps(text: str) -> Reps | Remark:
    """Return what is done in each set, or why it could not be read."""
    return guarded(_read, text)


def _refusal(text: str, expected: str, hint: str = _HINT) -> Refused:
    return Refused(Remark("unreadable-reps", f"{quoted(text)} {expected}.", hint))


def _read(text: str) -> Reps:
    settled = grammar_text(text)
    unreadable = _refusal(text, "does not say what is done in a set: repetitions, a time, a distance or a list of them")
    if "@" in settled:
        raise _refusal(text, "holds a load as well", "Put what follows the @ into the load column.")
    tree = tree_of("reps", settled)
    if tree is None:
        raise unreadable
    items = branches(tree)
    drafts = [draft for item in items for draft in _drafts(branches(item)[0], text, alone=len(items) == 1)]
    sides = [bool(tokens(item)) for item in items]
    if any(sides) and not sides[-1]:
        raise _refusal(text, "has `each side` on some sets only", "Write `each side` once, at the end.")
    members = tuple(_member(draft, text) for draft in _settled(drafts, text))
    if len({_family(member) for member in members}) > 1 or (len(members) > 1 and isinstance(members[0], TestSet)):
        raise _refusal(text, "is a list of different things", "Give all sets of a row the same kind: 30, 40, 50 s.")
    return Reps(members, each_side=any(sides))


def _drafts(node: Node, text: str, *, alone: bool) -> list[Span | RepsItem]:
    """Return what one item of the list says; spans still wait for the unit of the last item."""
    match node.data:
        case "chain":
            return _chain(node, text, alone=alone)
        case "slashed":
            return _slashed(node, text, alone=alone)
        case "sets_too":
            hint = "Put the sets into the sets column, the rest here."
            raise _refusal(text, "holds the sets as well", hint)
    return [_finished(node, text)]


def _finished(node: Node, text: str) -> RepsItem:
    """Return an item that no other item lends a unit to."""
    unreadable = _refusal(text, "does not say what is done in a set").reason
    if node.data == "most":
        return AsManyAsPossible()
    numbers = [amount(token, unreadable) for token in tokens(node) if token.type == "NUMBER"]
    match node.data:
        case "at_least":
            return AtLeast(_count(numbers[0], text))
        case "cluster":
            return Cluster(tuple(_count(number, text) for number in numbers))
        case "share":
            return ShareOfMost(_share(numbers[0], text))
    return TestSet(_count(numbers[0], text, HEAVIEST_TEST_REPS))


def _chain(node: Node, text: str, *, alone: bool) -> list[Span | RepsItem]:
    unreadable = _refusal(text, "is not a range of repetitions, times or distances with the smaller end first").reason
    parts = branches(node)
    ends = [amount_of(part, unreadable) for part in parts if part.data != "range_sign"]
    if len(ends) <= 2:
        return [span_of(ends[0], ends[-1], unreadable)]
    signs = {str(tokens(part)[0]) for part in parts if part.data == "range_sign"}
    if not alone or signs != {"-"}:
        raise _refusal(text, "has more than two ends in one range", "Part the sets with commas: 12, 10, 8.")
    return [Span(end, end) for end in ends]


def _slashed(node: Node, text: str, *, alone: bool) -> list[Span | RepsItem]:
    unreadable = _refusal(text, "is not a list of repetitions").reason
    numbers = [amount(part, unreadable) for part in tokens(node)]
    if len(numbers) == 2:
        raise Refused(
            Remark(
                "ambiguous-number",
                f"{quoted(text)} can be read as two sets, or as the two sides of one.",
                "Write 8 each side, or 8, 8 for set by set.",
            )
        )
    if not alone:
        raise Refused(unreadable)
    return [Span(end, end) for end in (Amount(number, None) for number in numbers)]


def _settled(drafts: list[Span | RepsItem], text: str) -> list[Span | RepsItem]:
    """Return the drafts with the unit of the last item where they have none, and every m decided."""
    last = drafts[-1]
    unit = last.unit if isinstance(last, Span) else None
    spans = [draft for draft in drafts if isinstance(draft, Span)]
    if unit is None and any(span.unit not in {None, "reps"} for span in spans):
        raise _refusal(text, "has a unit on some sets only", "Put the unit after the last one: 30, 40, 50 s.")
    with_unit = iter(settle_metres([span.within(unit or "reps") for span in spans], text))
    return [next(with_unit) if isinstance(draft, Span) else draft for draft in drafts]


def _member(draft: Span | RepsItem, text: str) -> RepsItem:
    if not isinstance(draft, Span):
        return draft
    unit = draft.unit
    if unit in SECONDS_IN:
        return _timed(draft, text)
    if draft.low.unit != unit or draft.low.number > draft.high.number:
        raise _refusal(text, "is not a range of one kind with the smaller end first")
    if unit in DISTANCES:
        return _distance(draft, DISTANCES[unit], text)
    if unit in _TALLIES:
        low, high = (_count(end.number, text, MOST_TALLY) for end in (draft.low, draft.high))
        return Tally(low, high, unit)
    if unit != "reps":
        raise _refusal(text, "does not say what is done in a set")
    return Count(_count(draft.low.number, text), _count(draft.high.number, text))


def _timed(span: Span, text: str) -> Timed:
    low, high = seconds_of(span, _refusal(text, "is not a time in whole seconds with the shorter end first").reason)
    if not 0 < low <= high <= LONGEST_SET:
        raise _refusal(text, f"is not between a second and {LONGEST_SET // 3600} hours")
    return Timed(low, high)


def _distance(span: Span, unit: DistanceUnit, text: str) -> Distance:
    if not 0 < span.low.number <= span.high.number <= _LONGEST[unit]:
        raise _refusal(text, "is not a distance that can be covered in a set")
    return Distance(span.low.number, span.high.number, unit)


def _count(number: Decimal, text: str, most: int = MOST_REPS) -> int:
    count = whole(number)
    if count is None and had_decimal_comma(text):
        raise Refused(
            Remark(
                "ambiguous-number",
                f"The comma in {quoted(text)} can be read as a decimal or as a list; repetitions are whole.",
                "Put a space after each comma of a list: 12, 8.",
            )
        )
    if count is None or not 1 <= count <= most:
        raise _refusal(text, f"has a number that is not a whole number from 1 to {most}")
    return count


def _share(number: Decimal, text: str) -> Percent:
    if not 0 < number <= 100:
        raise Refused(
            Remark(
                "impossible-percentage",
                f"{quoted(text)} is not a share of the most a client did; expected above 0% and up to 100%.",
                "Write 60% of max, or AMRAP for all of it.",
            )
        )
    return Percent(number)


def _family(member: RepsItem) -> type[object]:
    """Return what kind of thing an item counts; repetitions may be counted in several ways in one list."""
    counted = (Count, AtLeast, AsManyAsPossible, Cluster)
    return Count if isinstance(member, counted) else type(member)
