"""A booklet as readable text, in the order of its pages: for golden tests of wording and for reading along.

One line is one thing that will be printed. Page numbers are left to layout: a reference names its session.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.documents.booklet_value import (
    BlankLoad,
    Block,
    Booklet,
    Cover,
    ExerciseRow,
    Figure,
    HowTo,
    LogBoxes,
    PlanWords,
    Safety,
    Session,
    SessionRef,
    TickList,
    Wording,
)
from compiler.documents.progress_value import PanelPoint, Progress
from compiler.documents.weeks_value import WeekCell, WeeksSheet

_INDENT = "  "


def booklet_as_text(booklet: Booklet) -> str:
    """Return the whole booklet as text that ends with a line break."""
    wording = booklet.wording
    lines = [
        f"file: {booklet.title} | {booklet.author} | {booklet.subject} | {booklet.language}",
        f"paper: {booklet.paper}{', one side' if booklet.simplex else ''}, {booklet.format}",
        f"footer: {' | '.join(booklet.footer)}",
        *_page("cover", _cover(booklet.cover)),
        *_page("how to read", _how_to(booklet.how_to, wording)),
    ]
    for session in booklet.sessions:
        lines += _page(f"session {session.key}", _session(session, wording))
    for sheet in booklet.sheets:
        lines += _page(f"weeks sheet {' '.join(sheet.keys)}", _weeks(sheet, wording))
    if booklet.progress:
        lines += _page("progress", _progress(booklet.progress))
    lines += _page("safety", _safety(booklet.safety))
    return "\n".join(lines) + "\n"


def _page(name: str, lines: Iterator[str]) -> Iterator[str]:
    yield ""
    yield f"== {name} =="
    yield from lines


def _indented(lines: Iterator[str]) -> Iterator[str]:
    return (_INDENT + line for line in lines)


def _cover(cover: Cover) -> Iterator[str]:
    yield cover.gym
    yield from cover.title
    yield f"# {cover.client}"
    yield from cover.about
    yield f"{cover.plan.title}: {' | '.join(cover.plan.weeks)}"
    for row in cover.plan.rows:
        yield f"{_INDENT}{row.session}: {' | '.join(map(_plan_cell, row.cells))}"
    if cover.found:
        yield cover.found


def _plan_cell(cell: SessionRef | PlanWords) -> str:
    return f"[ ] {cell.key}" if isinstance(cell, SessionRef) else cell.text


def _how_to(how_to: HowTo, wording: Wording) -> Iterator[str]:
    yield f"# {how_to.title}"
    yield from _block(how_to.sample, wording)
    for point in how_to.points:
        mark = f"({point.mark.value}) " if point.mark else ""
        yield f"{mark}{f'{point.head} {point.text}'.strip()}"
    if how_to.effort:
        yield how_to.effort.title
        for step in how_to.effort.steps:
            yield f"{_INDENT}{step.head}: {step.text}"
    if how_to.note:
        yield f"[{how_to.note.title}] {how_to.note.text}"


def _session(session: Session, wording: Wording) -> Iterator[str]:
    yield f"# {session.title}"
    yield from filter(None, (session.when, session.note))
    if session.warm_up:
        yield from _ticks(session.warm_up, wording)
    for block in session.blocks:
        yield from _block(block, wording)
    if session.cool_down:
        yield from _ticks(session.cool_down, wording)


def _ticks(ticks: TickList, wording: Wording) -> Iterator[str]:
    yield ticks.title
    for item in ticks.items:
        yield f"{_INDENT}[ ] {', '.join(filter(None, (item.text, item.detail)))}"
        if item.changed is not None:
            yield f"{_INDENT * 3}[{wording.changed}] {item.changed}"
        if item.cue:
            yield f"{_INDENT * 3}{item.cue}"


def _block(block: Block, wording: Wording) -> Iterator[str]:
    yield "  ".join(filter(None, (block.letter, block.kind, block.sentence)))
    for row in block.rows:
        yield from _indented(_row(row, wording))
    if block.result:
        yield f"{_INDENT}{block.result.words} {_boxes(block.result.log, wording)}"


def _row(row: ExerciseRow, wording: Wording) -> Iterator[str]:
    yield f"{row.label} {row.name}"
    if row.changed is not None:
        yield f"{_INDENT}[{wording.changed}] {row.changed}"
    if row.ramp:
        yield f"{_INDENT}{wording.ramp}: {row.ramp}"
    yield _INDENT + " | ".join(filter(None, (_figure(row.dose), _load(row.load), row.spotter)))
    for extra in row.extra:
        dose = " ".join(filter(None, (extra.head, extra.dose)))
        load = _figure(Figure(extra.load, extra.notes)) if extra.load or extra.notes else ""
        yield _INDENT + " | ".join(filter(None, (dose, load)))
    if row.cue:
        yield f"{_INDENT}{row.cue}"
    boxes = _boxes(row.log, wording)
    if boxes:
        yield f"{_INDENT}{boxes}"


def _figure(figure: Figure) -> str:
    notes = f" ({', '.join(figure.notes)})" if figure.notes else ""
    return f"{figure.text}{notes}".strip()


def _load(load: Figure | BlankLoad | None) -> str:
    match load:
        case None:
            return ""
        case BlankLoad(unit, notes):
            return _figure(Figure(f"____ {unit}", notes))
        case Figure():
            return _figure(load)


def _boxes(log: LogBoxes, wording: Wording) -> str:
    boxes = [f"{log.caption}: {'[ ]' * log.count}"] if log.count else []
    if log.reps_left:
        boxes.append(f"{' '.join(wording.reps_left)}: [ ]")
    return "  ".join(boxes)


def _weeks(sheet: WeeksSheet, wording: Wording) -> Iterator[str]:
    yield f"# {sheet.title}"
    yield " | ".join(", ".join(filter(None, (head.title, head.when, head.note))) for head in sheet.heads)
    yield from filter(None, (sheet.before,))
    for block in sheet.blocks:
        yield "  ".join(filter(None, (block.letter, block.kind, block.rest)))
        for row in block.rows:
            yield f"{_INDENT}{row.label} {row.name}"
            if row.changed is not None:
                yield f"{_INDENT * 2}[{wording.changed}] {row.changed}"
            yield from (f"{_INDENT * 2}{line}" for line in (*row.lines, row.cue, row.log) if line)
            yield f"{_INDENT * 2}{' | '.join(map(_week_cell, row.cells))}"
    yield from filter(None, (sheet.after,))


def _week_cell(cell: WeekCell | None) -> str:
    if cell is None:
        return "-"
    load = f"____ {cell.blank}" if cell.blank else cell.load
    boxes = "[ ]" * (cell.sets + cell.reps_left)
    return " ".join(filter(None, (cell.dose, load, *(f"({line})" for line in cell.lines), boxes)))


def _progress(progress: Progress) -> Iterator[str]:
    yield f"# {progress.title}"
    yield progress.intro
    for panel in progress.panels:
        yield panel.title
        points = (*zip(panel.past_weeks, panel.past, strict=True), *enumerate(panel.plan, start=1))
        yield from (f"{_INDENT}{week}: {_point(point)}" for week, point in points)


def _point(point: PanelPoint | None) -> str:
    return " ".join(filter(None, (point.text, point.detail))) if point else "-"


def _safety(safety: Safety) -> Iterator[str]:
    yield f"# {safety.title}"
    for part in safety.lists:
        yield part.title
        yield from (f"{_INDENT}- {item}" for item in part.items)
    if safety.changed:
        yield f"[{safety.changed.title}]"
        yield from _indented(iter(safety.changed.lines))
    if safety.emergency:
        yield safety.emergency_title
    for line in safety.emergency:
        yield _INDENT + ": ".join(filter(None, (line.label, line.text or "[ ]")))
    yield from safety.cautions
