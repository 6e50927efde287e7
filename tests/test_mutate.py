"""The faults that `python -m tests.mutate` makes: what they are, and that each is one line that still parses."""

from __future__ import annotations

import ast

import pytest

from tests.mutate import ROOT, chosen, faults, likely_tests


@pytest.mark.parametrize(
    ("line", "faulty"),
    [
        ("a = b < c", ["a = b <= c"]),
        ("a = b + c", ["a = (b - c)"]),
        ("a = not b", ["a = (b)"]),
        ("a = b and c", ["a = (b or c)"]),
        ("a = b[0]", ["a = b[1]"]),
        ("a = f(b, c)", ["a = f(c, b)"]),
        ("a = b if c else d", ["a = (d if c else b)"]),
        ("a = min(b)", ["a = max(b)"]),
        ("a = '×' + b < c", ["a = '×' + b <= c"]),
        ("if a: return b", ["if a: pass"]),
        ("a: int = b", []),
        ("a = zip(b, strict=True)", []),
    ],
)
def test_a_fault_is_a_slip_in_one_place(line: str, faulty: list[str]) -> None:
    """Columns are bytes to Python's parser; texts, types and what is no more than a precaution are left alone."""
    assert [fault.put_into(line) for fault in faults(line)] == faulty


def test_the_same_seed_makes_the_same_faults() -> None:
    """Chosen below the places asked for, a line once, and the module can still be read."""
    found = chosen(5, 7, ("resolve", "quantities"))
    assert found == chosen(5, 7, ("resolve", "quantities"))
    assert len({(place, fault.line) for place, fault in found}) == 5
    for place, fault in found:
        assert place.parts[1] in {"resolve", "quantities.py"}
        ast.parse(fault.put_into((ROOT / place).read_text(encoding="utf-8")))
        assert likely_tests(place)
