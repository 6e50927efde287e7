"""The progress page as a value: see `booklet_value`."""

from __future__ import annotations

from compiler.frozen import frozen


@frozen
class GridLine:
    """A line of a panel's scale: its height, 0 at the foot and 1 at the top, and the number beside it."""

    share: float
    text: str


@frozen
class PanelPoint:
    """A point of a panel: its height as in `GridLine`, its number ("92.5"), and more where there is room ("× 5")."""

    share: float
    text: str
    detail: str = ""


@frozen
class Panel:
    """One lift: `past` as solid dots, each under its head of `past_weeks`, the last week last; `plan` as open ones.

    `plan` has one point for each week of the block; None is a week without. `lines` run from the foot up. `described`
    is the panel in words, for a reader that speaks.
    """

    title: str
    past_weeks: tuple[str, ...]
    past: tuple[PanelPoint | None, ...]
    plan: tuple[PanelPoint | None, ...]
    lines: tuple[GridLine, ...]
    described: str


@frozen
class Progress:
    """The progress page, one to three lifts. `before` stands under the past weeks, `lifted` beside the boxes."""

    title: str
    intro: str
    before: str
    lifted: str
    panels: tuple[Panel, ...]
    bookmark: str = "Progress"
