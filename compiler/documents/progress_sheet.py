"""What was proposed for next month -> the Progress sheet, as a value: who, what, why, and the row that carries it.

It is written for the coach and never read.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler.cellref import RowRef
from compiler.documents.neutral import Heading, Sheet
from compiler.progress.values import NextMonth, Proposal

NAME = "Progress"
WRITTEN, LISTED = "written", "only listed"
HOW = (
    "What the log says about the new block. A proposal that is written stands in the row named: delete it to refuse."
    " What is only listed changes nothing until you type it."
)
HEADINGS = (
    Heading("Client", width=22),
    Heading("Exercise", width=26),
    Heading("What", width=16),
    Heading("Before", width=11),
    Heading("After", width=11),
    Heading("Proposal", width=11),
    Heading("Row", width=16),
    Heading("Why", width=50),
    Heading("Rule", width=34),
    Heading("Rests on", width=24),
    Heading("To type", width=50),
)


def progress_sheet(month: NextMonth, rows: Mapping[int, Sequence[RowRef]]) -> Sheet:
    """Return the sheet. `rows` are the rows that carry each proposal, by its place among the proposals."""
    told = [_proposal(proposal, rows.get(number, ())) for number, proposal in enumerate(month.proposals)]
    told += [(name, "", "", "", "", "nothing", "", why, "", "", "") for name, why in month.without]
    return Sheet(NAME, HOW, HEADINGS, tuple(told), frozen=2)


def _proposal(proposal: Proposal, rows: Sequence[RowRef]) -> tuple[str, ...]:
    return (
        proposal.client,
        proposal.exercise,
        proposal.what,
        str(proposal.old or ""),
        str(proposal.new or ""),
        WRITTEN if proposal.written else LISTED,
        ", ".join(map(str, rows)),
        proposal.why,
        proposal.source,
        ", ".join(map(str, proposal.rests_on)),
        proposal.type_this or "",
    )
