"""One block of a session -> its head and its rows as pieces, and a bracket round those put down together."""

from __future__ import annotations

from compiler.documents.booklet_value import Block, BlockResult, LogBoxes
from compiler.fallback import remembered
from compiler.frozen import frozen
from compiler.layout.boxes import box_marks, column_heads, columns_of, plan_boxes
from compiler.layout.lines import plain, wrap
from compiler.layout.measures import MM, LogPlace
from compiler.layout.metrics import Face, width
from compiler.layout.page import Bracket, Group, Part, Role, Shifted, Stroke
from compiler.layout.piece import Piece, decoration, rule, text_lines
from compiler.layout.row import MeasuredRow, RowSpec, measure_row

_HEAD_TOP = 1.1 * MM
_HEAD_LEAD = 1.2
_REST_GAP = 8.0
_REST_ROOM = 35 * MM
AFTER_BLOCK = 0.4 * MM
_BRACKET_X = 0.7 * MM
_BRACKET_FOOT = 1.6 * MM
_BASELINE = 0.78
_UNDER_WORDS = 1.5 * MM


@frozen
class MeasuredBlock:
    """A block ready to be put down: its rows, the row of its result if it has one, the space after each.

    `head` stands at the top of the block; `head_again` gives the one for where it goes on on a further page.
    """

    block: Block
    spec: RowSpec
    head: Piece
    rows: tuple[MeasuredRow, ...]
    result: Piece | None
    joined: bool

    @property
    def row_space(self) -> float:
        """The space after each row."""
        return self.spec.style.row_space

    @property
    def height(self) -> float:
        """The height of the whole block."""
        rows = sum(row.piece.height + self.row_space for row in self.rows)
        result = self.result.height + self.row_space if self.result else 0.0
        return self.head.height + rows + result + AFTER_BLOCK

    def head_again(self) -> Piece:
        """Return the head that says that the block goes on."""
        return _head_of(self.block, self.spec, again=True)


def measure_block(block: Block, spec: RowSpec) -> MeasuredBlock:
    """Return a block measured for a session's sheet, style and log column."""
    columns = columns_of((row.log for row in block.rows), spec.style)
    return MeasuredBlock(
        block=block,
        spec=spec,
        head=_head_of(block, spec, again=False),
        rows=tuple(measure_row(row, columns, spec) for row in block.rows),
        result=_result(block.result, columns, spec) if block.result else None,
        joined=len(block.rows) > 1,
    )


def _head_of(block: Block, spec: RowSpec, *, again: bool) -> Piece:
    return _head(block.letter, block.kind, block.sentence, tuple(row.log for row in block.rows), spec, again=again)


@remembered(512)
def _head(
    letter: str, kind: str, sentence: str, logs: tuple[LogBoxes, ...], spec: RowSpec, *, again: bool
) -> Piece:
    """Return the head of a block: rule, letter and kind, the rest beside them, set numbers on the right.

    It is the same in the next week and for the next client, whatever they lift.
    """
    sheet, size = spec.sheet, spec.style.head
    title = "  ".join(filter(None, (plain(letter), plain(kind))))
    if again:
        title = plain(spec.wording.continued_block.format(title))
    room = sheet.head
    titles = wrap(title, Face.BOLD, size, room) if width(title, Face.BOLD, size) > room else (title,)
    baseline = size * _BASELINE + _HEAD_TOP
    lead = size * _HEAD_LEAD
    marks = text_lines(titles, 0.0, baseline, Face.BOLD, size, lead)
    lines = len(titles)
    beside = width(titles[-1], Face.BOLD, size) + _REST_GAP
    if sentence and room - beside >= _REST_ROOM:
        rest = wrap(sentence, Face.REGULAR, size, room - beside)
        marks += text_lines(rest, beside, baseline + (lines - 1) * lead, Face.REGULAR, size, lead)
        lines += len(rest) - 1
    elif sentence:
        rest = wrap(sentence, Face.REGULAR, size, room)
        marks += text_lines(rest, 0.0, baseline + lines * lead, Face.REGULAR, size, lead)
        lines += len(rest)
    low = baseline + (lines - 1) * lead
    height = spec.style.head_height + (lines - 1) * lead
    heads = column_heads(logs, spec.frame, low, spec.style, spec.wording)
    return Piece(height, (Group(Role.HEADING, tuple(marks)), heads))


def _result(result: BlockResult, columns: int, spec: RowSpec) -> Piece:
    """Return the row with the boxes for the whole block."""
    style, sheet = spec.style, spec.sheet
    plan = plan_boxes(result.log, columns, spec.frame, style)
    height = style.box_floor
    lead = style.tick * 1.2
    lines = wrap(result.words, Face.SEMIBOLD, style.tick, sheet.cue)
    marks = text_lines(lines, sheet.gutter, style.tick * _BASELINE, Face.SEMIBOLD, style.tick, lead)
    down = len(lines) * lead + _UNDER_WORDS if sheet.place is LogPlace.UNDER else 0.0
    boxes = Shifted(down, (box_marks(plan, spec.frame, height, style),))
    tall = max(down + plan.band + plan.lines * height, len(lines) * lead)
    return Piece(tall, (Group(Role.PARAGRAPH, tuple(marks)), boxes))


def block_rule(y: float, live: float) -> Part:
    """Return the rule above a block."""
    return rule(y, live, Stroke.BLOCK)


def bracket(top: float, bottom: float) -> Group:
    """Return the bracket that joins the exercises of a block."""
    return decoration(Bracket(_BRACKET_X, top, bottom, _BRACKET_FOOT))

