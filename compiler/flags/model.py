"""A flag: one finding, at one cell, in the coach's words. And the placeless remark it is made from."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from enum import StrEnum

from compiler.cellref import CellRef
from compiler.frozen import frozen


class Severity(StrEnum):
    """How bad a finding is; a slug has one severity, always."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


def has(severity: Severity, flags: Collection[Flag]) -> bool:
    """Tell whether any flag is of a severity."""
    return any(flag.severity is severity for flag in flags)


@frozen
class Remark:
    """A finding without place: what a reader of one cell has to say about it.

    `message` says what was found and what was expected; only `hint` says what to do.
    """

    slug: str
    message: str
    hint: str | None = None


@frozen
class Flag:
    """One finding. `touches` names the clients that it stops; `related` the other cells that matter."""

    slug: str
    severity: Severity
    message: str
    hint: str | None = None
    place: CellRef | None = None
    sheet: str | None = None
    client: str | None = None
    found: str | None = None
    related: tuple[CellRef, ...] = ()
    touches: tuple[str, ...] = ()

    @property
    def sheet_name(self) -> str | None:
        """The sheet the flag stands on, if any."""
        return self.place.sheet if self.place else self.sheet

    @property
    def cell(self) -> str | None:
        """The cell in A1 form, if the flag has one."""
        return self.place.a1 if self.place else None

    def touching(self, clients: Iterable[str]) -> Flag:
        """Return the flag with more clients that it stops, each named once."""
        return replace(self, touches=tuple(dict.fromkeys((*self.touches, *clients))))


def sort_flags(flags: Iterable[Flag], sheet_order: Mapping[str, int]) -> tuple[Flag, ...]:
    """Return the flags without repetitions, by sheet, row, column, slug, client.

    Sheets come in the order of the workbook; what stands on no sheet comes first.
    """

    def key(flag: Flag) -> tuple[int, str, int, int, str, str, str]:
        name = flag.sheet_name or ""
        row, column = (flag.place.row, flag.place.column) if flag.place else (0, 0)
        order = sheet_order.get(name, len(sheet_order)) if name else -1
        return (order, name, row, column, flag.slug, flag.client or "", flag.message)

    return tuple(sorted(dict.fromkeys(flags), key=key))
