"""Why a load cell is refused: what was found in it, and what to write in its place."""

from __future__ import annotations

from compiler.flags.model import Remark
from compiler.notation.load_amounts import Span, unreadable
from compiler.notation.numbers import Refused
from compiler.notation.reading import Node, cleaned, quoted
from compiler.quantities import plain


def form_refused(node: Node, text: str) -> Refused:
    """Return the refusal of a form that the grammar knows and the language does not allow."""
    match node.data:
        case "roughly":
            return unreadable(
                text,
                "is a rough weight; a load is exact, or left to effort",
                "Write the weight alone, a range of weights, or an RPE.",
            )
        case "below_zero":
            less = cleaned(text).lstrip("- ")
            step = f"Write same - {less} or own - {less} for a step down"
            if "%" in less:
                return unreadable(text, "can be read as a step down or as something to take off", f"{step}.")
            found = "can be read as a step down, as something to take off or as help with body weight"
            return unreadable(text, found, f"{step}, BW - {less} for help.")
        case "two_weights":
            found = "has two weights with a slash between: two units, two sets or two people"
            return unreadable(text, found, "Keep one unit, and part the sets with commas: 60, 65 kg.")
    return unreadable(text, "is a range without an upper end", "Write the upper end too, or work up to an RPE.")


def no_unit(text: str) -> Refused:
    """Return the refusal of a weight without a unit."""
    typed = cleaned(text)
    hint = f"Write {typed} kg or {typed} lb." if typed[-1:].isdigit() else "Write kg or lb after the number."
    return Refused(Remark("unit-missing", f"{quoted(text)} is a weight without a unit.", hint))


def impossible(text: str, expected: str, hint: str) -> Refused:
    """Return the refusal of a percentage that cannot be right."""
    return Refused(Remark("impossible-percentage", f"{quoted(text)} cannot be right; expected {expected}.", hint))


def bare(spans: tuple[Span, ...], text: str, *, after_at: bool) -> Refused:
    """Return the refusal of numbers without a unit or sign, with what they could mean."""
    first = spans[0]
    number = plain(first.low)
    if len(spans) > 1 or first.low != first.high:
        readings = "as percentages or as weights"
    else:
        share = plain(first.low * 100) if first.low < 1 else number
        readings = f"as {share}% or as {number} kg"
        readings = f"as RPE {number}, {readings}" if after_at else readings
    hint = "Write % after a percentage, kg or lb after a weight, RPE before an effort."
    return Refused(Remark("bare-percentage", f"{quoted(text)} can be read {readings}.", hint))
