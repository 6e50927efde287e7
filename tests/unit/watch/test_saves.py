"""When a file that is being saved is read: looks one after the other, with the times of an invented clock."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

from compiler.watch.saves import AWAY, COARSE, EVERY, STILL, Look, News, Saves, look_at

OLD, HALF, EMPTY, NEW = Look(100, 1, 1), Look(60, 2, 1), Look(0, 2, 1), Look(110, 3, 1)
OTHER = Look(110, 3, 2)
"""The same size and time in another place on the disk: it was put in the place of the first."""

STEP = STILL / 3


def seen(looks: Iterable[Look | None], saves: Saves | None = None) -> list[tuple[News, Look | None]]:
    """Return the news of looks a third of the stillness apart, without those that told nothing."""
    saves = saves or Saves(OLD, 0.0, OLD)
    told = [(saves.see(look, number * STEP), look) for number, look in enumerate(looks, start=1)]
    return [one for one in told if one[0] is not News.NOTHING]


@pytest.mark.parametrize(
    ("looks", "expected"),
    [
        pytest.param([OLD] * 60, [], id="nothing happens"),
        pytest.param([OLD, NEW, NEW, NEW], [], id="not still for long enough"),
        pytest.param([OLD, *[NEW] * 5], [(News.SAVED, NEW)], id="saved"),
        pytest.param([EMPTY, HALF, NEW, *[NEW] * 5], [(News.SAVED, NEW)], id="emptied and filled"),
        pytest.param([HALF, HALF, HALF, *[NEW] * 5], [(News.SAVED, NEW)], id="a pause half-way, short of stillness"),
        pytest.param([None, None, *[NEW] * 5], [(News.SAVED, NEW)], id="missing for a moment while it is replaced"),
        pytest.param([None, *[OLD] * 5], [], id="missing for a moment, and the same again"),
        pytest.param([NEW, OTHER] * 9, [], id="never still"),
        pytest.param([*[NEW] * 5, *[OTHER] * 5], [(News.SAVED, NEW), (News.SAVED, OTHER)], id="another"),
        pytest.param([None] * 60, [(News.GONE, None)], id="gone is told once"),
        pytest.param(
            [*[None] * 12, *[OLD] * 5, *[None] * 12],
            [(News.GONE, None), (News.SAVED, OLD), (News.GONE, None)],
            id="gone, back as it was, and gone again",
        ),
    ],
)
def test_when_a_file_is_read(looks: list[Look | None], expected: list[tuple[News, Look | None]]) -> None:
    """Only what has been still is read, and each save once."""
    assert [one for one in seen(looks) if one[0] is not News.AGAIN] == expected


def test_a_second_save_that_looks_like_the_first() -> None:
    """After a save the file is read once more, later than drives with coarse times would hide another."""
    saves = Saves(OLD, 0.0, OLD)
    news = [(saves.see(NEW, number * STEP), number * STEP) for number in range(1, 60)]
    told = [one for one in news if one[0] is not News.NOTHING]
    assert [one for one, _ in told] == [News.SAVED, News.AGAIN]
    assert told[1][1] - told[0][1] >= COARSE > 2  # FAT keeps times to two seconds (Microsoft, "File Times")


def test_what_could_not_be_read_is_read_again_when_asked() -> None:
    """A file that another program held looks the same once it is free."""
    saves = Saves(OLD, 0.0, OLD)
    assert [saves.see(NEW, at) for at in (1.0, 1.0 + STILL)] == [News.NOTHING, News.SAVED]
    saves.read_again(5.0)
    assert [saves.see(NEW, at) for at in (4.9, 5.0, 9.9, 99.0)] == [
        News.NOTHING,
        News.AGAIN,
        News.NOTHING,
        News.NOTHING,
    ]


def test_reading_again_waits_while_the_file_is_saved() -> None:
    """A new save takes the place of a second reading."""
    saves = Saves(OLD, 0.0, OLD)
    saves.read_again(1.0)
    assert [saves.see(NEW, at) for at in (1.0, 1.1, 1.0 + STILL)] == [News.NOTHING, News.NOTHING, News.SAVED]


def test_looks_at_a_real_file(tmp_path: Path) -> None:
    """Size, time and place on the disk; nothing of a file that is not there, or of a name that no file has."""
    path = tmp_path / "block.xlsx"
    assert look_at(path) is None
    assert look_at(tmp_path / "a\0b") is None
    path.write_bytes(b"one")
    first = look_at(path)
    assert first is not None
    assert first.size == 3
    other = tmp_path / "other"
    other.write_bytes(b"two")
    other.replace(path)
    assert look_at(path) != first


def test_measures_hang_together() -> None:
    """A file is looked at several times before it is still, and is away for longer than a replacement takes."""
    assert 2 * EVERY < STILL < AWAY < COARSE
