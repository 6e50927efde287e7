"""Flags as text for people."""

from __future__ import annotations

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.text import counted_flags, flags_as_text

ORDER = {"Programme": 0, "Clients": 1}
LOAD = CellRef("Programme", 12, 12)


def _missing_test(client: str, place: CellRef = LOAD) -> Flag:
    remark = Remark(
        "missing-test", f"{client} has no test for Front squat; the load is left blank.", "Add a row to Tests."
    )
    return flag(remark, place, client=client, found="82.5%", related=(CellRef("Clients", 7, 1),))


def _ask_first(client: str) -> Flag:
    message = f"{client} is marked `ask first`, and nobody has signed off."
    remark = Remark("ask-first", message, "Fill in Signed off by.")
    return flag(remark, CellRef("Clients", 7, 20), client=client, found="ask first", touches=(client,))


def _missing_sheet() -> Flag:
    return flag(Remark("missing-sheet", 'The workbook has no sheet "Clients".'))


def test_whole_text() -> None:
    """Flags stand by sheet and cell, each with its cell's text; the summary has the worst first."""
    text = flags_as_text(
        [_ask_first("Ana Ruiz"), _missing_test("Ana Ruiz"), _missing_sheet()], ORDER, 100, colour=False
    )
    assert text == (
        "The workbook\n"
        '  -     error    missing-sheet  The workbook has no sheet "Clients".\n'
        "\n"
        "Programme\n"
        "  L12   warning  missing-test  Ana Ruiz has no test for Front squat; the load is left blank.\n"
        '        the cell says "82.5%"\n'
        "        related: Clients!A7\n"
        "        hint: Add a row to Tests.\n"
        "\n"
        "Clients\n"
        "  T7    error    ask-first  Ana Ruiz is marked `ask first`, and nobody has signed off.\n"
        '        the cell says "ask first"\n'
        "        stops 1 client: Ana Ruiz\n"
        "        hint: Fill in Signed off by.\n"
        "\n"
        "2 errors, 1 warning\n"
        "  error    ask-first        1\n"
        "  error    missing-sheet    1\n"
        "  warning  missing-test     1\n"
        "No booklet for 1 client: Ana Ruiz\n"
    )


def test_one_cell_with_many_clients() -> None:
    """The text of a cell and a hint that all share are told once."""
    text = flags_as_text([_missing_test(f"Client {number}") for number in range(5)], ORDER, 120, colour=False)
    assert (text.count("missing-test  Client"), text.count("the cell says"), text.count("hint:")) == (5, 1, 1)


def test_many_stopped_clients() -> None:
    """A flag that stops many tells their number and the first of them."""
    remark = Remark("missing-reps", "Week 1 reps is blank.")
    stopped = flag(remark, LOAD, touches=[f"Client {number}" for number in range(40)])
    assert "stops 40 clients: Client 0, Client 1," in flags_as_text([stopped], ORDER, 80, colour=False)
    assert "and 28 more" in flags_as_text([stopped], ORDER, 80, colour=False)


def test_width_holds() -> None:
    """No line is longer than asked for."""
    remark = Remark("missing-test", "word " * 60, "hint " * 60)
    text = flags_as_text([flag(remark, LOAD, found="cell " * 30, touches=["Ana"] * 9)], ORDER, 60, colour=False)
    assert max(map(len, text.splitlines())) <= 60


def test_colour_only_when_asked() -> None:
    """The same text, but for the colours."""
    flags = [_ask_first("Ana Ruiz"), _missing_test("Ana Ruiz")]
    plain, coloured = (flags_as_text(flags, ORDER, 100, colour=colour) for colour in (False, True))
    assert "\x1b" not in plain
    assert "\x1b[1;31merror   \x1b[0m" in coloured
    for code in ("1", "33", "36", "1;31", "0"):
        coloured = coloured.replace(f"\x1b[{code}m", "")
    assert plain == coloured


def test_a_cell_cannot_steer_the_terminal() -> None:
    """Line breaks and control characters of a cell are not printed."""
    remark = Remark("unreadable-load", "\x1b[2Jgone\nnext", "a\x07b")
    text = flags_as_text([flag(remark, LOAD, found="\x1b]0;x\x07\n75\u202e%")], ORDER, 100, colour=False)
    assert not set(text) & {"\x1b", "\x07", "\u202e"}
    assert 'the cell says "]0;x 75%"' in text


def test_order_of_input_does_not_matter() -> None:
    """The same flags give the same text, each once."""
    flags = [_ask_first("Ana Ruiz"), _missing_test("Bo"), _missing_test("Ana Ruiz"), _missing_sheet()]
    assert flags_as_text(flags, ORDER, 100, colour=False) == flags_as_text(
        [*reversed(flags), *flags], ORDER, 100, colour=False
    )


def test_nothing_found() -> None:
    """A workbook without flags is told so."""
    assert flags_as_text([], ORDER, 80, colour=False) == "Nothing was flagged.\n"
    assert counted_flags([]) == "no flags"
