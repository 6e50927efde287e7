"""Numbers as coaches type them: what a comma means, and text into exact numbers.

In: folded text. Out: the same text with `,` only between the entries of a list and `.` only in decimals, or why that
is not clear. The rule looks at how a number is written, never at how big it is:

- a comma beside anything but a digit separates a list (`12, 10`), and so does a semicolon;
- two commas or more in one run of digits separate a list (`12,10,8`);
- one comma and one digit after it is a decimal (`62,5`), which the caller notes;
- one comma and two digits or more after it can be read in two ways (`12,10`, `1,000`) and is refused.
"""

from __future__ import annotations

import re
from decimal import Decimal

from compiler.flags.model import Remark
from compiler.folding import fold
from compiler.frozen import frozen

_RUN = re.compile(r"[0-9][0-9.]*(?:,[0-9][0-9.]*)+")
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_LONGEST_NUMBER = 12  # characters; nothing a coach types is longer, and decimals stay exact


class Refused(Exception):  # noqa: N818  a finding about a cell, not an error of the program
    """Ends the reading of one text; it never leaves this package."""

    def __init__(self, reason: Remark) -> None:
        super().__init__(reason.slug)
        self.reason = reason


@frozen
class Settled:
    """Text with its commas decided."""

    text: str
    decimal_comma: bool


def settle_commas(folded: str) -> Settled:
    """Return the text with list commas as `,` and decimal commas as `.`.

    Raises Refused with the slug ambiguous-number where a comma has two readings.
    """
    semicolons = ";" in folded
    pieces: list[str] = []
    end = 0
    decimal_comma = False
    for run in _RUN.finditer(folded):
        pieces += [folded[end : run.start()], _settle_run(run.group(), semicolons=semicolons)]
        decimal_comma = decimal_comma or "," not in pieces[-1]
        end = run.end()
    return Settled("".join((*pieces, folded[end:])).replace(";", ","), decimal_comma)


def _settle_run(run: str, *, semicolons: bool) -> str:
    parts = run.split(",")
    if len(parts) > 2 and not semicolons:
        return ", ".join(parts)
    if len(parts) == 2 and "." not in run and len(parts[1]) == 1:
        return ".".join(parts)
    raise Refused(_two_readings(run, parts))


def _two_readings(run: str, parts: list[str]) -> Remark:
    listed = ", ".join(parts[:-1]) + f" and {parts[-1]}"
    readings = [f"the list {listed}"]
    if len(parts) == 2 and "." not in run:
        readings.insert(0, f"{parts[0]}.{parts[1]}")
    if all(len(part.split(".")[0]) == 3 for part in parts[1:]):
        readings.insert(0, "".join(parts))
    elif len(parts) == 2 and _in_thousands(parts[0]):
        readings.insert(0, f"{parts[0].replace('.', '')}.{parts[1]}")
    if len(readings) == 1:
        readings.insert(0, "one number with a slip in it")
    return Remark(
        "ambiguous-number",
        f'"{run}" can be read as {" or as ".join(readings)}.',
        "Write a decimal with a point (62.5), and a list with a space after each comma (12, 10).",
    )


def _in_thousands(digits: str) -> bool:
    """Tell whether the points of a number part its thousands: 1.250."""
    return "." in digits and all(len(group) == 3 for group in digits.split(".")[1:])


def had_decimal_comma(text: str) -> bool:
    """Tell whether a text that was read had a decimal comma: what the note `decimal-comma` is about."""
    try:
        return settle_commas(fold(text)).decimal_comma
    except Refused:
        return False


def decimal(digits: str) -> Decimal | None:
    """Return ASCII digits as an exact number; None where they are not a number, or far too long."""
    if len(digits) > _LONGEST_NUMBER or not _NUMBER.fullmatch(digits):
        return None
    return Decimal(digits)


def whole(number: Decimal) -> int | None:
    """Return a number without a fraction as a whole number; 5.0 is 5, 5.5 is None."""
    return int(number) if number == number.to_integral_value() else None
