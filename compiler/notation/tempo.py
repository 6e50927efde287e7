"""Tempos: `3-1-1-0`, `31X0`, `3-1-1`. Seconds of lowering, pause, lifting, pause; X is as fast as possible.

Four digits may stand without marks between them. Three may not: a spreadsheet drops a zero in front, so that
`311` may have been `0311`.
"""

from __future__ import annotations

from compiler.flags.model import Remark
from compiler.notation.numbers import Refused
from compiler.notation.reading import branches, grammar_text, guarded, quoted, tokens, tree_of
from compiler.notation.values import Tempo

LONGEST_PART = 60  # seconds

EXAMPLES: tuple[tuple[str, Tempo], ...] = (
    ("3-1-1-0", Tempo(3, 1, 1, 0)),
    ("3110", Tempo(3, 1, 1, 0)),
    ("31X0", Tempo(3, 1, None, 0)),
    ("3-1-1", Tempo(3, 1, 1, 0, written=3)),
    ("3/1/X/0", Tempo(3, 1, None, 0)),
    ("3 1 1 0", Tempo(3, 1, 1, 0)),
    ("3,1,1,0", Tempo(3, 1, 1, 0)),
    ("3.1.1.0", Tempo(3, 1, 1, 0)),
    ("0310", Tempo(0, 3, 1, 0)),
    ("10-0-10-0", Tempo(10, 0, 10, 0)),
    ("X0X0", Tempo(None, 0, None, 0)),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-tempo"),
    ("311", "unreadable-tempo"),
    ("3-1", "unreadable-tempo"),
    ("3-1-1-0-0", "unreadable-tempo"),
    ("slow", "unreadable-tempo"),
    ("3-X-1-0", "unreadable-tempo"),
    ("0-0-0-0", "unreadable-tempo"),
    ("3-1-90-0", "unreadable-tempo"),
    ("20E1", "unreadable-tempo"),
    ("3,1", "unreadable-tempo"),
    ("311810", "unreadable-tempo"),
    ("1000X0", "unreadable-tempo"),
)


def read_tempo(text: str) -> Tempo | Remark:
    """Return a tempo, or why it could not be read."""
    return guarded(_read, text)


def _read(text: str) -> Tempo:
    unreadable = Remark(
        "unreadable-tempo",
        f"{quoted(text)} is not a tempo; expected seconds of lowering, pause, lifting and pause, in that order.",
        "Write four parts, 3-1-1-0, with X for as fast as possible: 3-1-X-0.",
    )
    settled = grammar_text(text)
    tree = tree_of("tempo", settled)
    if tree is None:
        raise Refused(_zero_lost(text) if len(settled) == 3 and settled.isdecimal() else unreadable)
    parts = list(tokens(tree)[0]) if tree.data == "glued" else [str(tokens(p)[0]) for p in branches(tree)]
    parts = [part for part in parts if part not in "-/,."]
    lowering, pause, lifting, *rest = (None if part == "x" else int(part) for part in parts)
    top = rest[0] if rest else 0
    counted = [0 if part is None else part for part in (lowering, pause, lifting, top)]
    if pause is None or top is None:
        raise Refused(
            Remark(
                "unreadable-tempo",
                f"{quoted(text)} has X for a pause; only lowering and lifting can be as fast as possible.",
                "Write a pause in seconds, or 0.",
            )
        )
    if max(counted) > LONGEST_PART or (lowering, pause, lifting, top) == (0, 0, 0, 0):
        raise Refused(unreadable)
    return Tempo(lowering, pause, lifting, top, written=len(parts))


def _zero_lost(text: str) -> Remark:
    return Remark(
        "unreadable-tempo",
        f"{quoted(text)} has three digits; a tempo without marks has four. A 0 at the front may have been lost.",
        "Write it with dashes, 3-1-1-0, and format the column as Text.",
    )
