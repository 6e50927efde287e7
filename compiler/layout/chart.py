"""One panel of the progress page -> a figure: lines of the scale, dots of the past and of the plan, their numbers.

Nothing is painted over: lines end at open dots and leave the numbers free, so that black is the only ink.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot

from compiler.documents.progress_value import Panel, PanelPoint
from compiler.frozen import frozen
from compiler.layout.lines import plain
from compiler.layout.measures import MM
from compiler.layout.metrics import Face, width
from compiler.layout.page import Circle, Dot, Group, Line, Mark, Role, Stroke, Text
from compiler.layout.piece import flush_right

_SOLID = 1.0 * MM
_OPEN = 1.15 * MM
_ABOVE = 2.3 * MM
_BELOW = 2.0 * MM
_CAPITAL = 0.68
_CLEAR = 0.7 * MM
_AXIS_GAP = 1.5 * MM
_LEVEL = 0.36


@frozen
class Frame:
    """The room of a chart. Past weeks are `step` wide from `left` to `divide`, weeks of the plan `wide` from there.

    The scale runs from `foot` up to `top`.
    """

    left: float
    divide: float
    right: float
    step: float
    wide: float
    top: float
    foot: float
    small: float
    label: float

    def height(self, share: float) -> float:
        """Return the y of a height on the scale."""
        return self.foot - share * (self.foot - self.top)


@frozen
class _Place:
    """A point at its place."""

    x: float
    y: float
    point: PanelPoint


_Label = tuple[Text, float, float]
"""The text of a label, and its right and upper edge."""


def label_text(point: PanelPoint, *, detailed: bool) -> str:
    """Return what a label says."""
    words = f"{point.text} {point.detail}" if detailed else point.text
    return plain(words.strip())


def chart(panel: Panel, frame: Frame, *, detailed: bool) -> Group:
    """Return the figure of a panel. `detailed` labels say more than the number."""
    past = _places(panel.past, frame.left, frame.step, frame)
    plan = _places(panel.plan, frame.divide, frame.wide, frame)
    labels = list(_labels(past, plan, frame, detailed=detailed))
    marks: list[Mark] = []
    for line in panel.lines:
        y = frame.height(line.share)
        level = y + frame.small * _LEVEL
        marks.append(flush_right(line.text, frame.left - _AXIS_GAP, level, Face.REGULAR, frame.small))
        marks += _scale_line(y, frame, labels, [place for place in plan if place])
    marks.append(Line(frame.divide, frame.top - _ABOVE, frame.divide, frame.foot, Stroke.BLOCK))
    marks += _joined(past, 0.0, Stroke.PAST)
    marks += _joined(plan, _OPEN, Stroke.PLAN)
    marks += [Dot(place.x, place.y, _SOLID) for place in past if place]
    marks += [Circle(place.x, place.y, _OPEN) for place in plan if place]
    marks += [text for text, _, _ in labels]
    return Group(Role.FIGURE, tuple(marks), plain(panel.described))


def _places(
    points: Sequence[PanelPoint | None], left: float, step: float, frame: Frame
) -> list[_Place | None]:
    return [
        _Place(left + (number + 0.5) * step, frame.height(point.share), point) if point else None
        for number, point in enumerate(points)
    ]


def _joined(places: Sequence[_Place | None], radius: float, stroke: Stroke) -> Iterator[Line]:
    """Yield the lines between neighbours, from edge to edge of their dots; a week without breaks the line."""
    for one, other in pairwise(places):
        if one is None or other is None:
            continue
        across, down = other.x - one.x, other.y - one.y
        share = radius / hypot(across, down)
        x, y = across * share, down * share
        yield Line(one.x + x, one.y + y, other.x - x, other.y - y, stroke)


def _labels(
    past: Sequence[_Place | None], plan: Sequence[_Place | None], frame: Frame, *, detailed: bool
) -> Iterator[_Label]:
    """Yield the numbers at the last record and at every target."""
    room = frame.left, frame.divide - _CLEAR
    yield from (_label(*spot, room, frame, detailed=detailed) for spot in list(_spots(past))[-1:])
    room = frame.divide + _CLEAR, frame.right
    yield from (_label(*spot, room, frame, detailed=detailed) for spot in _spots(plan))


def _spots(places: Sequence[_Place | None]) -> Iterator[tuple[_Place | None, _Place, _Place | None]]:
    """Yield each point between its neighbours; a week without one has none for them."""
    beside = (None, *places, None)
    for before, place, after in zip(beside[:-2], places, beside[2:], strict=True):
        if place is not None:
            yield before, place, after


def _label(
    before: _Place | None,
    place: _Place,
    after: _Place | None,
    room: tuple[float, float],
    frame: Frame,
    *,
    detailed: bool,
) -> _Label:
    """Return the number of a point, on the side of it where no line runs."""
    falls_in = before is not None and before.y < place.y
    rises_in = before is not None and before.y > place.y
    rises_out = after is not None and after.y < place.y
    falls_out = after is not None and after.y > place.y
    size = frame.label
    words = label_text(place.point, detailed=detailed)
    wide = width(words, Face.SEMIBOLD, size)
    x, above = place.x - wide / 2, True
    if rises_out and rises_in:
        x = place.x + _SOLID - wide
    elif falls_in and falls_out:
        x = place.x - _SOLID
    elif rises_out or falls_in:
        above = False
    x = min(max(x, room[0]), room[1] - wide)
    baseline = place.y - _ABOVE if above else place.y + _BELOW + size * _CAPITAL
    return Text(x, baseline, words, Face.SEMIBOLD, size), x + wide, baseline - size * _CAPITAL


def _scale_line(
    y: float, frame: Frame, labels: Sequence[_Label], dots: Sequence[_Place]
) -> Iterator[Line]:
    """Yield a line of the scale in the pieces that labels and open dots leave of it."""
    gaps = [
        (text.x - _CLEAR, right + _CLEAR)
        for text, right, top in labels
        if top - _CLEAR < y < text.y + _CLEAR
    ]
    gaps += [(dot.x - _OPEN, dot.x + _OPEN) for dot in dots if abs(dot.y - y) < _OPEN]
    x = frame.left
    for start, end in sorted(gaps):
        if start > x:
            yield Line(x, y, start, y, Stroke.GRID)
        x = max(x, end)
    if x < frame.right:
        yield Line(x, y, frame.right, y, Stroke.GRID)


