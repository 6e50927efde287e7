"""File names of clients: what every file system takes, and never two alike.

The device names are those of Microsoft's page "Naming Files, Paths, and Namespaces".
"""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.file_names import file_stem, unique_stems

NAMES = st.text(max_size=90)
NAMESAKES = st.sampled_from(["Ann", "ann", "Ann 2", "Änn", "ann-2-2", "con", ""])


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Imogen Thackray", "imogen-thackray"),
        ("  Imogen   Thackray ", "imogen-thackray"),
        ("Zoë O’Brien-Łuk", "zoe-obrien-luk"),
        ("Søren Weiß", "soren-weiss"),
        ("İpek Yıldız", "ipek-yildiz"),
        ("Дмитрий", "дмитрий"),
        ("王小明", "王小明"),
        ("नीति", "नीति"),
        ("A/B\\C: D*?", "a-b-c-d"),
        ("../../etc/passwd", "etc-passwd"),
        ("Client 007", "client-007"),
        ("con", "con-client"),
        ("COM1.", "com1-client"),
        ("lpt²", "lpt2-client"),
        ("Conn", "conn"),
        ("", "client"),
        ("…", "client"),
        ("🙂", "client"),
    ],
)
def test_a_name_becomes_a_stem(name: str, stem: str) -> None:
    """Plain letters where they can be, letters of other scripts where not, never nothing."""
    assert stem == file_stem(name)


def test_a_long_name_is_cut() -> None:
    """At most 60 characters and 150 bytes."""
    assert len(file_stem("ab " * 60)) <= 60
    assert len(file_stem("王" * 90).encode()) == 150


@given(NAMES)
def test_every_stem_is_safe(name: str) -> None:
    """Whatever the name: letters with their marks, digits, hyphens; bounded; not hidden; folded already."""
    stem = file_stem(name)
    assert stem
    assert all(c == "-" or c.isalnum() or unicodedata.category(c).startswith("M") for c in stem)
    assert not unicodedata.category(stem[0]).startswith("M")
    assert stem == stem.strip("-")
    assert len(stem) <= 60
    assert len(stem.encode()) <= 150


def key(stem: str) -> str:
    """Return what a file system that folds letter case and composes letters makes of a stem."""
    return unicodedata.normalize("NFC", stem.casefold())


@given(st.lists(st.one_of(NAMES, NAMESAKES), max_size=12))
def test_no_two_names_share_a_file(names: list[str]) -> None:
    """Stems differ even where letter case and composed forms do not count."""
    stems, collisions = unique_stems(names)
    assert set(stems) == set(names)
    assert len(set(map(key, stems.values()))) == len(stems)
    together = [{key(file_stem(name)) for name in group} for group in collisions]
    assert all(len(shared) == 1 for shared in together)
    assert len(stems) - len({key(file_stem(name)) for name in names}) == sum(len(group) - 1 for group in collisions)


def test_namesakes_are_numbered_in_order() -> None:
    """The first keeps the plain stem; a number that is somebody's own name is passed over."""
    stems, collisions = unique_stems(["Ann Lee", "ann lee", "Ann Lee 2", "Bo"])
    assert stems == {"Ann Lee": "ann-lee", "ann lee": "ann-lee-3", "Ann Lee 2": "ann-lee-2", "Bo": "bo"}
    assert collisions == (("Ann Lee", "ann lee"),)


def test_numbered_stems_stay_short() -> None:
    """A number does not make a stem longer than 60."""
    stems, _ = unique_stems(["x" * 80, "x" * 81])
    assert list(stems.values()) == ["x" * 60, "x" * 58 + "-2"]
