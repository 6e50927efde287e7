"""What a kit has: sizes (`25, 20, 15`, `2-40 by 2`, `20 x2, 10 x4`) or names of bands (`light = yellow`).

Sizes come without a unit: the unit has a column of its own, and two places for it would differ one day.
"""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.folding import name_key
from compiler.notation.numbers import Refused
from compiler.notation.reading import (
    Node,
    amount,
    branches,
    cleaned,
    grammar_text,
    guarded,
    quoted,
    tokens,
    tree_of,
    whole_amount,
)
from compiler.notation.values import BandNames, Size, Sizes
from compiler.quantities import plain

MOST_SIZES = 400
LARGEST_SIZE = Decimal(2200)
MOST_OF_A_SIZE = 200
_HINT = "Write 25, 20, 15; or 2-40 by 2; or 20 x2, 10 x4 where there are few."

EXAMPLES: tuple[tuple[str, Sizes], ...] = (
    ("25, 20, 15", Sizes((Size(Decimal(25)), Size(Decimal(20)), Size(Decimal(15))))),
    ("2-10 by 2", Sizes(tuple(Size(Decimal(size)) for size in (2, 4, 6, 8, 10)))),
    ("20 x2, 10 x4", Sizes((Size(Decimal(20), 2), Size(Decimal(10), 4)))),
    ("20", Sizes((Size(Decimal(20)),))),
    ("25,20,15", Sizes((Size(Decimal(25)), Size(Decimal(20)), Size(Decimal(15))))),
    ("2.5, 1.25", Sizes((Size(Decimal("2.5")), Size(Decimal("1.25"))))),
    ("2,5; 5", Sizes((Size(Decimal("2.5")), Size(Decimal(5))))),
    ("2 to 6 step 2 x2, 10", Sizes((*(Size(Decimal(size), 2) for size in (2, 4, 6)), Size(Decimal(10))))),
    ("1-2 by 0.5", Sizes((Size(Decimal(1)), Size(Decimal("1.5")), Size(Decimal(2))))),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "not-a-number"),
    ("many", "not-a-number"),
    ("2-40", "not-a-number"),
    ("2-40 kg by 2", "not-a-number"),
    ("20 kg", "not-a-number"),
    ("40-2 by 2", "not-a-number"),
    ("2-41 by 2", "not-a-number"),
    ("2-40 by 0", "not-a-number"),
    ("0.1-400 by 0.1", "not-a-number"),
    ("20, 20", "not-a-number"),
    ("20 x0", "not-a-number"),
    ("20 x1.5", "not-a-number"),
    ("0", "not-a-number"),
    ("2,5, 1,25", "ambiguous-number"),
    ("25,20", "ambiguous-number"),
)

BAND_EXAMPLES: tuple[tuple[str, BandNames], ...] = (
    ("light = yellow", BandNames((("light", "yellow"),))),
    ("light = yellow, medium = red", BandNames((("light", "yellow"), ("medium", "red")))),
    ("light = Yellow; red", BandNames((("light", "Yellow"), ("red", "red")))),
)

BAND_REFUSED: tuple[tuple[str, str], ...] = (
    ("", "not-a-number"),
    ("light =", "not-a-number"),
    ("light = yellow = red", "not-a-number"),
    ("light = yellow, light = red", "not-a-number"),
    ("25, 20", "not-a-number"),
    ("yellow,, red", "not-a-number"),
    ("20 kg", "not-a-number"),
)


def read_sizes(text: str) -> Sizes | Remark:
    """Return sizes in the order typed, ranges written out, or why they could not be read."""
    return guarded(_read_sizes, text)


def read_bands(text: str) -> BandNames | Remark:
    """Return (the coach's word, the band), in the letter case typed; a name alone stands for itself."""
    return guarded(_read_bands, text)


def _refusal(text: str, found: str, hint: str = _HINT) -> Refused:
    return Refused(Remark("not-a-number", f"{quoted(text)} {found}.", hint))


def _read_sizes(text: str) -> Sizes:
    tree = tree_of("sizes", grammar_text(text))
    if tree is None:
        raise _refusal(text, "is not a list of sizes")
    items = branches(tree)
    if any(token.type == "UNIT" for item in items for token in tokens(item)):
        raise _refusal(text, "has a unit; sizes are numbers", "Put kg or lb into the Unit column.")
    sizes = tuple(size for item in items for size in _item(item, text))
    if len(sizes) > MOST_SIZES:
        raise _refusal(text, f"has more than {MOST_SIZES} sizes")
    if not all(0 < size.amount <= LARGEST_SIZE for size in sizes):
        raise _refusal(text, f"has a size that is not above 0 and up to {LARGEST_SIZE}")
    if len({size.amount for size in sizes}) < len(sizes):
        raise _refusal(text, "has a size twice", "Write how many there are after it: 20 x2.")
    return Sizes(sizes)


def _item(node: Node, text: str) -> list[Size]:
    otherwise = _refusal(text, "is not a list of sizes").reason
    numbers = [amount(token, otherwise) for token in tokens(node) if token.type == "NUMBER"]
    if node.data == "no_step":
        raise _refusal(text, "is a range without its step", "Write 2-40 by 2.")
    times = [child for child in branches(node) if child.data == "times"]
    count = whole_amount(tokens(times[0])[0], otherwise) if times else None
    if count is not None and not 1 <= count <= MOST_OF_A_SIZE:
        raise _refusal(text, f"has a count that is not from 1 to {MOST_OF_A_SIZE}")
    if node.data == "single":
        return [Size(numbers[0], count)]
    return [Size(size, count) for size in _run(numbers, text)]


def _run(numbers: list[Decimal], text: str) -> list[Decimal]:
    first, last, step = numbers
    if not 0 < first <= last or step <= 0:
        raise _refusal(text, "is not a range of sizes with the smaller end first and a step above 0")
    steps = (last - first) / step
    if steps != steps.to_integral_value():
        found = f"does not reach {plain(last)} from {plain(first)} in steps of {plain(step)}"
        raise _refusal(text, found, "Write the last size that there is.")
    if steps >= MOST_SIZES:
        raise _refusal(text, f"has more than {MOST_SIZES} sizes")
    return [first + step * number for number in range(int(steps) + 1)]


def _read_bands(text: str) -> BandNames:
    hint = "Write light = yellow, medium = red."
    tree = tree_of("bands", cleaned(text))
    if tree is None:
        raise _refusal(text, "is not a list of bands: your word = the band", hint)
    pairs = []
    for node in branches(tree):
        names = [str(token).strip() for token in tokens(node)]
        if not names[0][:1].isalpha() or not any(letter.isalpha() for letter in names[-1]):
            raise _refusal(text, "has a word or a band that is not a name", hint)
        pairs.append((names[0], names[-1]))
    if len({name_key(word) for word, _ in pairs}) < len(pairs):
        raise _refusal(text, "uses one word for two bands", hint)
    return BandNames(tuple(pairs))
