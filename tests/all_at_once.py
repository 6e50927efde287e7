"""What a compile makes one after the other, so as to hold little of it, as one value to look at."""

from __future__ import annotations

from dataclasses import replace

from compiler.documents.held import Held
from compiler.documents.neutral import Sheet
from compiler.documents.room_sheet_value import RoomSheets
from compiler.documents.summary import in_order, other_sheets, plan_sheets
from compiler.flags.model import Flag
from compiler.layout.page import Pages
from compiler.layout.room_sheet import lay_out_in_turn
from compiler.model.book import Book
from compiler.resolve.values import ClientPlan


def summarise(
    book: Book, plans: tuple[ClientPlan, ...], flags: tuple[Flag, ...], held: tuple[Held, ...]
) -> tuple[Sheet, ...]:
    """Return the sheets of the summary workbook."""
    return tuple(in_order(other_sheets(book, plans, flags, held), plan_sheets(book, plans)))


def lay_out_room_sheets(rooms: RoomSheets) -> Pages:
    """Return the pages of all room sheets."""
    made, pages = lay_out_in_turn(rooms)
    return replace(made.file, pages=tuple(page for page, _ in pages))
