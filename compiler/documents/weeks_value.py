"""The weeks of a session side by side, as a value: see `booklet_value`."""

from __future__ import annotations

from compiler.frozen import frozen


@frozen
class WeekHead:
    """The head of a column of a weeks sheet: "Week 2", the day if there is one, a remark ("An easier week")."""

    title: str
    when: str
    note: str = ""


@frozen
class WeekCell:
    """One exercise in one week: dose and load large, `lines` of small words below them, boxes.

    Where nobody can state the load yet, `blank` is the unit after a line to write on. `sets` boxes are followed by
    one for the reps left, where that is asked for.
    """

    dose: str
    load: str
    lines: tuple[str, ...]
    sets: int
    reps_left: bool
    blank: str = ""


@frozen
class WeeksRow:
    """One exercise over the weeks of a sheet; None for a week without it.

    `lines` are small words under the name that hold for every week, `cue` follows them, then `log`, what the boxes
    are for.
    """

    label: str
    name: str
    changed: str | None
    lines: tuple[str, ...]
    cue: str
    log: str
    cells: tuple[WeekCell | None, ...]


@frozen
class WeeksBlock:
    """Exercises done together over the weeks of a sheet; `joined` by a bracket."""

    letter: str
    kind: str
    rest: str
    rows: tuple[WeeksRow, ...]
    joined: bool


@frozen
class WeeksSheet:
    """One session, up to four weeks of it side by side on one lying page.

    It stands for the sessions with these `keys`, if everything on it fits; they have pages of their own otherwise.
    `before` and `after` are warm-up and cool-down as running text.
    """

    keys: tuple[str, ...]
    title: str
    bookmark: str
    heads: tuple[WeekHead, ...]
    blocks: tuple[WeeksBlock, ...]
    before: str = ""
    after: str = ""
