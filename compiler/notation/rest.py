"""Rests: `60`, `60-90 s`, `1:30`, `2 min`, `0`. A bare number is seconds, whatever its size."""

from __future__ import annotations

from compiler.flags.model import Remark
from compiler.notation.measures import amount_of, as_minutes, seconds_of, span_of
from compiler.notation.numbers import Refused
from compiler.notation.reading import branches, grammar_text, guarded, quoted, tree_of
from compiler.notation.values import Rest

LONGEST_REST = 3600  # seconds; more is a slip of the unit

EXAMPLES: tuple[tuple[str, Rest], ...] = (
    ("60", Rest(60, 60)),
    ("60 s", Rest(60, 60)),
    ("60-90 s", Rest(60, 90)),
    ("1:30", Rest(90, 90)),
    ("2 min", Rest(120, 120)),
    ('90"', Rest(90, 90)),
    ("0", Rest(0, 0)),
    ("60-90", Rest(60, 90)),
    ("60 to 90 sec", Rest(60, 90)),
    ("1-2 min", Rest(60, 120)),
    ("1:30-2:00", Rest(90, 120)),
    ("90 s - 2 min", Rest(90, 120)),
    ("1 min 30 s", Rest(90, 90)),
    ("1'30\"", Rest(90, 90)),
    ("2m30s", Rest(150, 150)),
    ("2 m", Rest(120, 120)),
    ("1:30 min", Rest(90, 90)),
    ("1.5 min", Rest(90, 90)),
    ("1,5 min", Rest(90, 90)),
    ("90 s rest", Rest(90, 90)),
    ("none", Rest(0, 0)),
    ("no rest", Rest(0, 0)),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-rest"),
    ("-", "unreadable-rest"),
    ("as needed", "unreadable-rest"),
    ("60, 90", "unreadable-rest"),
    ("60,90", "ambiguous-number"),
    ("90-60 s", "unreadable-rest"),
    ("60 s - 90", "unreadable-rest"),
    ("60-1:30", "unreadable-rest"),
    ("1:75", "unreadable-rest"),
    ("1:30:00", "unreadable-rest"),
    ("1.5", "unreadable-rest"),
    ("90 min", "unreadable-rest"),
    ("-60", "unreadable-rest"),
    ("1_0", "unreadable-rest"),
    ("6e1", "unreadable-rest"),
)


def read_rest(text: str) -> Rest | Remark:
    """Return a rest in seconds, or why it could not be read."""
    return guarded(_read, text)


def _read(text: str) -> Rest:
    unreadable = Remark(
        "unreadable-rest",
        f"{quoted(text)} is not a rest; expected a number of seconds or a time, shorter end first.",
        "Write 60, 60-90 s, 1:30, 2 min, or 0 for none.",
    )
    tree = tree_of("rest", grammar_text(text))
    if tree is None:
        raise Refused(unreadable)
    if tree.data == "no_rest":
        return Rest(0, 0)
    nodes = [node for node in branches(branches(tree)[0]) if node.data != "range_sign"]
    times = [as_minutes(amount_of(node, unreadable)) for node in nodes]
    span = span_of(times[0], times[-1], unreadable).within("s")
    low, high = seconds_of(span, unreadable)
    if high > LONGEST_REST:
        raise Refused(
            Remark(
                "unreadable-rest",
                f"{quoted(text)} is a rest of more than an hour, the most that is read.",
                "Write seconds as 90 or 90 s, minutes and seconds as 1:30.",
            )
        )
    return Rest(low, high)
