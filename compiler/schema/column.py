"""What a column and a sheet of the block workbook are: the one declaration that drives everything.

Template, reader, checks and field reference all read these values; nobody writes a header twice.
"""

from __future__ import annotations

from typing import Any

from compiler.frozen import frozen
from compiler.schema.kinds import Kind


@frozen
class Column:
    """One column, or one setting of the Block sheet.

    `key` is the field of the record it fills. `required`: a row without it is refused. `optional`: the column
    may be left out of the sheet. `default` is the text a blank setting is read as. `choices_shown` may be cut
    short in messages; the kind holds them all. `prompt` is shown beside a cell that is about to be filled in, where
    a wrong reading would hurt.
    """

    key: str
    header: str
    kind: Kind[Any]
    help: str
    example: str
    aliases: tuple[str, ...] = ()
    required: bool = False
    optional: bool = False
    default: str | None = None
    width: int = 14
    prompt: str = ""


@frozen
class SheetSpec:
    """One sheet: its columns, and those repeated for each week with the week's number in the header.

    `settings`: one row a setting (Setting, Value, What it does) in place of one row a record.
    `weekly` headers hold `{week}`. `optional`: the sheet may be left out.
    """

    name: str
    help: str
    columns: tuple[Column, ...]
    weekly: tuple[Column, ...] = ()
    optional: bool = False
    settings: bool = False
    aliases: tuple[str, ...] = ()

    def column(self, key: str) -> Column:
        """Return the column of a key; a key that is not declared is a mistake of ours."""
        return next(column for column in (*self.columns, *self.weekly) if column.key == key)


def weekly_header(column: Column, week: int) -> str:
    """Return the header of a weekly column in one week: Week 1 sets."""
    return column.header.format(week=week)
