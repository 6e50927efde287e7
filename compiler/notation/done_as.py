"""Ways to do a group other than set by set: `circuit`, `EMOM 10 min`, `drop last set 20% x 2`."""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.measures import MINUTE, Span, amount_of, as_minutes, seconds_of
from compiler.notation.numbers import Refused
from compiler.notation.reading import (
    Node,
    amount,
    branches,
    grammar_text,
    guarded,
    quoted,
    tokens,
    tree_of,
    whole_amount,
)
from compiler.notation.values import DoneAs, DoneAsKind
from compiler.quantities import Percent

LONGEST = 2 * 3600  # seconds
MOST_ROUNDS = 60
MOST_DROPS = 5
_HINT = (
    "Write circuit, EMOM 10 min, every 2 min x 5, AMRAP 12 min, for time, drop last set 20% x 2 or "
    "rest-pause; blank is set by set."
)

EXAMPLES: tuple[tuple[str, DoneAs], ...] = (
    ("circuit", DoneAs(DoneAsKind.CIRCUIT)),
    ("EMOM 10 min", DoneAs(DoneAsKind.EMOM, seconds=600)),
    ("every 2 min x 5", DoneAs(DoneAsKind.EVERY, seconds=120, rounds=5)),
    ("AMRAP 12 min", DoneAs(DoneAsKind.AMRAP, seconds=720)),
    ("for time", DoneAs(DoneAsKind.FOR_TIME)),
    ("drop last set 20% x 2", DoneAs(DoneAsKind.DROP_SET, rounds=2, drop=Percent(Decimal(20)))),
    ("rest-pause", DoneAs(DoneAsKind.REST_PAUSE)),
    ("10 min EMOM", DoneAs(DoneAsKind.EMOM, seconds=600)),
    ("12 min AMRAP", DoneAs(DoneAsKind.AMRAP, seconds=720)),
    ("AMRAP 12:00", DoneAs(DoneAsKind.AMRAP, seconds=720)),
    ("every 90 s for 5 rounds", DoneAs(DoneAsKind.EVERY, seconds=90, rounds=5)),
    ("E2MOM x 5", DoneAs(DoneAsKind.EVERY, seconds=120, rounds=5)),
    ("drop last set by 20%", DoneAs(DoneAsKind.DROP_SET, rounds=1, drop=Percent(Decimal(20)))),
    ("rest pause", DoneAs(DoneAsKind.REST_PAUSE)),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unknown-choice"),
    ("ladder", "unknown-choice"),
    ("EMOM", "unknown-choice"),
    ("EMOM 10", "unknown-choice"),
    ("AMRAP", "unknown-choice"),
    ("AMRAP 12 reps", "unknown-choice"),
    ("every 2 min", "unknown-choice"),
    ("every 2 min x 0", "unknown-choice"),
    ("drop set", "unknown-choice"),
    ("drop last set 120%", "impossible-percentage"),
    ("superset", "unknown-choice"),
    ("E0MOM x 5", "unknown-choice"),
    ("EMOM 10 h", "unknown-choice"),
)


def read_done_as(text: str) -> DoneAs | Remark:
    """Return how a group is done, or why it could not be read."""
    return guarded(_read, text)


def _refusal(text: str, found: str, slug: str = "unknown-choice") -> Refused:
    return Refused(Remark(slug, f"{quoted(text)} {found}.", _HINT))


def _read(text: str) -> DoneAs:
    tree = tree_of("done_as", grammar_text(text))
    if tree is None:
        raise _refusal(text, "is not a way to do a group")
    node = branches(tree)[0]
    match node.data:
        case "untimed":
            raise _refusal(text, "does not say how long, how often or how much; expected a number with its unit")
        case "grouping":
            raise _refusal(text, "is already said by the order: A1 and A2 are done back to back")
        case "drop":
            return _drop(node, text)
        case "every" | "every_minutes":
            return _every(node, text)
        case "emom" | "amrap":
            kind = DoneAsKind.EMOM if node.data == "emom" else DoneAsKind.AMRAP
            return DoneAs(kind, seconds=_seconds(branches(node)[0], text))
    return DoneAs(DoneAsKind[str(node.data).upper()])


def _seconds(node: Node, text: str) -> int:
    otherwise = _refusal(text, "has a time that is not in whole seconds").reason
    time = as_minutes(amount_of(node, otherwise))
    seconds, _ = seconds_of(Span(time, time), otherwise)
    if not 0 < seconds <= LONGEST:
        raise _refusal(text, f"has a time that is not above 0 and up to {LONGEST // 3600} hours")
    return seconds


def _every(node: Node, text: str) -> DoneAs:
    otherwise = _refusal(text, "has a number of rounds that is not whole").reason
    rounds = whole_amount(next(token for token in tokens(node) if token.type == "NUMBER"), otherwise)
    if not 1 <= rounds <= MOST_ROUNDS:
        raise _refusal(text, f"has a number of rounds that is not from 1 to {MOST_ROUNDS}")
    if node.data == "every":
        return DoneAs(DoneAsKind.EVERY, seconds=_seconds(branches(node)[0], text), rounds=rounds)
    minutes = int(str(tokens(node)[0]).strip("emo"))
    if minutes == 0:
        raise Refused(otherwise)
    return DoneAs(DoneAsKind.EVERY, seconds=minutes * MINUTE, rounds=rounds)


def _drop(node: Node, text: str) -> DoneAs:
    otherwise = _refusal(text, "has a number of drops that is not whole").reason
    share, *times = (token for token in tokens(node) if token.type == "NUMBER")
    percent = amount(share, otherwise)
    if not 0 < percent < 100:
        raise _refusal(text, "takes off a share that is not between 0% and 100%", "impossible-percentage")
    drops = whole_amount(times[0], otherwise) if times else 1
    if not 1 <= drops <= MOST_DROPS:
        raise _refusal(text, f"has a number of drops that is not from 1 to {MOST_DROPS}")
    return DoneAs(DoneAsKind.DROP_SET, rounds=drops, drop=Percent(percent))
