"""Loads: percentages, weights, efforts, steps, body weight, heart rates, words. Only `%` makes a percentage."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.efforts import effort_of
from compiler.notation.load_amounts import (
    BODY_WEIGHT,
    BPM,
    MAX_RATE,
    PERCENT,
    RESERVE,
    RIR,
    Span,
    amount_of,
    check_weight,
    percent_of,
    span_of,
    spans_of,
    unreadable,
    weight_unit,
)
from compiler.notation.load_examples import EXAMPLES, REFUSED
from compiler.notation.load_names import named_load
from compiler.notation.load_refusals import bare, form_refused, impossible, no_unit
from compiler.notation.numbers import Refused
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
from compiler.notation.values import (
    BodyWeightLoad,
    BodyWeightShare,
    Effort,
    EffortLoad,
    EffortScale,
    Feel,
    FeelLoad,
    HeartRateLoad,
    HeartRateOf,
    LoadText,
    OwnWeight,
    PercentLoad,
    PercentRange,
    Step,
    WeightLoad,
    WeightRange,
    WorkUp,
)
from compiler.quantities import Load, Percent, plain

__all__ = ["EXAMPLES", "REFUSED", "read_load"]

LOWEST_PERCENT, HIGHEST_PERCENT = Decimal(20), Decimal(110)
MOST_BODY_WEIGHT = Decimal(300)
SLOWEST_BEATS, FASTEST_BEATS = Decimal(30), Decimal(250)


def read_load(text: str) -> LoadText | Remark:
    """Return what a load cell says, or why it could not be read."""
    return guarded(_read, text)


def _read(text: str) -> LoadText:
    if grammar_text(text) == "-":
        raise unreadable(text, "is not a load", "For a week off write - in the sets cell, and leave this one blank.")
    tree = tree_of("load", grammar_text(text))
    if tree is None:
        return named_load(text)
    node = branches(tree)[0]
    form = str(node.data)
    if form == "target":
        return _target(node, text, after_at=bool(tokens(tree)))
    if form not in _FORMS:
        raise form_refused(node, text)
    return _FORMS[form](node, text)


def _work_up(node: Node, text: str) -> WorkUp:
    limits = branches(node)
    return WorkUp(_limit(limits[0], text) if limits else None)


def _own(node: Node, text: str) -> OwnWeight:
    return OwnWeight(_signed(node, text) if branches(node) else None)


def _step(node: Node, text: str) -> Step:
    return Step(_signed(node, text) if branches(node) else None)


def _body_weight(node: Node, text: str) -> BodyWeightLoad:
    return BodyWeightLoad(_added(node, text) if branches(node) else None)


def _feel(node: Node, _text: str) -> FeelLoad:
    return FeelLoad(Feel[tokens(node)[0].type])


def _target(node: Node, text: str, *, after_at: bool) -> LoadText:
    parts = branches(node)
    scale = EffortScale[tokens(node)[0].type] if tokens(node) else None
    spans = spans_of([part for part in parts if part.data == "span"], text)
    tails = {str(part.data): part for part in parts if part.data != "span"}
    unit = spans[0].unit
    if scale or unit == RIR:
        return _effort_load(spans, scale, tails, text)
    if unit is None:
        raise bare(spans, text, after_at=after_at)
    of = percent_of(unit)
    if of:
        if "back_off" in tails:
            raise unreadable(text, "takes a share off a percentage", "Write the sets out, a percentage for each.")
        fallback, stop = (_tail(tails.get(name), text) for name in ("fallback", "stop"))
        items = tuple(_percent_range(span, text) for span in spans)
        return PercentLoad(items, of[0], of[1], fallback=fallback, stop_at=stop)
    if tails:
        raise unreadable(
            text,
            "puts an effort beside something other than a percentage",
            "Write the load alone, or the effort alone.",
        )
    return _other_target(spans, text)


def _other_target(spans: tuple[Span, ...], text: str) -> LoadText:
    """Return weights, heart rates and shares of body weight; a list only of weights."""
    first = spans[0]
    if weight_unit(first.unit):
        return WeightLoad(_weight_ranges(spans, text))
    if len(spans) > 1:
        raise unreadable(text, "is a list of something other than weights or percentages")
    if first.unit == BODY_WEIGHT:
        if first.low != first.high or not 0 < first.low <= MOST_BODY_WEIGHT:
            raise impossible(
                text, f"one share of body weight up to {MOST_BODY_WEIGHT}%", "Write one percentage, then BW."
            )
        return BodyWeightShare(Percent(first.low))
    return _heart_rate(first, text)


def _heart_rate(span: Span, text: str) -> HeartRateLoad:
    if span.unit == BPM:
        if not SLOWEST_BEATS <= span.low <= span.high <= FASTEST_BEATS:
            raise unreadable(
                text,
                f"is not a heart rate between {SLOWEST_BEATS} and {FASTEST_BEATS} bpm",
                "Write 120-140 bpm.",
            )
        return HeartRateLoad(span.low, span.high, HeartRateOf.BEATS)
    if span.unit not in {RESERVE, MAX_RATE}:
        raise unreadable(text, "is not a load")
    if not 0 < span.low <= span.high <= 100:
        raise impossible(text, "a share of a heart rate, up to 100%", "Write 60-70% HRR or 65-75% HRmax.")
    return HeartRateLoad(span.low, span.high, HeartRateOf.RESERVE if span.unit == RESERVE else HeartRateOf.MAXIMUM)


def _weight_ranges(spans: tuple[Span, ...], text: str) -> tuple[WeightRange, ...]:
    ranges = []
    for span in spans:
        unit = weight_unit(span.unit)
        if unit is None:
            raise no_unit(text)
        check_weight(span.low, unit, text)
        check_weight(span.high, unit, text)
        ranges.append(WeightRange(Load(span.low, unit), Load(span.high, unit)))
    return tuple(ranges)


def _per_hand(node: Node, text: str) -> WeightLoad:
    counts = [token for token in tokens(node) if token.type == "NUMBER"]
    implements = whole_amount(counts[0], unreadable(text, "is not a load").reason) if counts else 2
    spans = spans_of(branches(node), text)
    if implements not in {1, 2}:
        hint = "Write 2 x and the weight for one in each hand; sets and repetitions have their own columns."
        raise unreadable(text, f"has {implements} weights for one or two hands", hint)
    if spans[0].unit is None:
        raise no_unit(text)
    if weight_unit(spans[0].unit) is None:
        raise unreadable(text, "is not a weight for each hand", "Write kg or lb after the number.")
    return WeightLoad(_weight_ranges(spans, text), implements=implements)


def _percent_range(span: Span, text: str) -> PercentRange:
    if span.low < LOWEST_PERCENT or span.high > HIGHEST_PERCENT:
        expected = f"a percentage of a maximum, {LOWEST_PERCENT}% to {HIGHEST_PERCENT}%"
        raise impossible(text, expected, _meant(span))
    return PercentRange(Percent(span.low), Percent(span.high))


def _meant(span: Span) -> str:
    """Return the hint of an impossible percentage: the number that a slip of the sign made it of, if there is one."""
    for factor in (Decimal("0.01"), Decimal(100)):
        meant = span.low * factor
        if span.low == span.high and LOWEST_PERCENT <= meant <= HIGHEST_PERCENT:
            return f"If {plain(meant)}% is meant, format the cell as Text and write {plain(meant)}%."
    return f"Write a percentage from {LOWEST_PERCENT}% to {HIGHEST_PERCENT}%."


def _effort_load(spans: tuple[Span, ...], scale: EffortScale | None, tails: dict[str, Node], text: str) -> EffortLoad:
    if len(spans) > 1:
        raise unreadable(
            text, "gives each set an effort of its own; a row has one", "Write RPE 8, or a range: RPE 7-9."
        )
    if tails.keys() - {"back_off"}:
        raise unreadable(text, "gives two efforts for one load", "Write one of them.")
    if scale is not None and spans[0].unit not in {None, RIR}:
        raise unreadable(text, "has an effort with a unit", "Write RPE before the number or RIR after it, and no unit.")
    effort = _effort(spans[0], scale, text)
    if "back_off" not in tails:
        return EffortLoad(effort)
    share = amount(
        next(t for t in tokens(tails["back_off"]) if t.type == "NUMBER"),
        unreadable(text, "is not a load").reason,
    )
    if not 0 < share < 100:
        raise impossible(text, "a share to take off, below 100%", "Write RPE 8, then -10%.")
    return EffortLoad(effort, back_off=Percent(share))


def _effort(span: Span, scale: EffortScale | None, text: str) -> Effort:
    if scale is EffortScale.RPE and span.unit is not None:
        raise unreadable(text, "mixes RPE and repetitions in reserve", "Write RPE before the number, or RIR after it.")
    return effort_of(scale or EffortScale.RIR, span.low, span.high, quoted(text))


def _tail(node: Node | None, text: str) -> Effort | None:
    return _limit(branches(node)[0], text) if node is not None else None


def _limit(node: Node, text: str) -> Effort:
    """Return the effort after `or`, `stop at` and `work up to`."""
    named = node.data == "named_span"
    scale = EffortScale[tokens(node)[0].type] if named else None
    span = span_of(branches(node)[0] if named else node, text)
    if span.unit not in ({None, RIR} if named else {RIR}):
        expected = "expected an effort after `or`, `stop at` or `work up to`"
        raise unreadable(text, f"cannot be read: {expected}", "Write RPE before that number, or RIR after it.")
    return _effort(span, scale, text)


def _signed(node: Node, text: str) -> Load | Percent:
    """Return the step of `own`, `same` and `+`, with its sign."""
    by = amount_of(branches(node)[0], text)
    sign = -1 if any(kind_of(token) == "DASH" for token in tokens(node)) else 1
    if by.unit is None:
        raise Refused(
            Remark(
                "bare-percentage",
                f"{quoted(text)} can be read as {plain(by.number)}% or as {plain(by.number)} kg.",
                f"Write {cleaned(text)}% or {cleaned(text)} kg.",
            )
        )
    if by.weight:
        check_weight(by.number, by.weight, text)
        return Load(sign * by.number, by.weight)
    if by.unit != PERCENT:
        raise unreadable(
            text,
            "has a step that is neither a weight nor a plain percentage",
            "After the sign write a weight, or a percentage alone.",
        )
    if not 0 < by.number < 100:
        raise impossible(text, "a step below 100%", "Write the step: same - 10%, or own - 10%.")
    return Percent(sign * by.number)


def _added(node: Node, text: str) -> Load:
    added = amount_of(branches(node)[0], text)
    if added.unit is None:
        raise no_unit(text)
    if added.weight is None:
        raise unreadable(text, "adds something other than a weight to body weight", "Write BW + 10 kg, or 25% BW.")
    check_weight(added.number, added.weight, text)
    minus = any(kind_of(token) == "DASH" for token in tokens(node))
    return Load(-added.number if minus else added.number, added.weight)


_FORMS: dict[str, Callable[[Node, str], LoadText]] = {
    "per_hand": _per_hand,
    "work_up": _work_up,
    "own": _own,
    "step": _step,
    "body_weight": _body_weight,
    "feel": _feel,
}
