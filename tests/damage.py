"""Random damage to the file of a workbook: to its bytes, to the bytes of its parts, to how they are packed.

`python -m tests.damage SECONDS [SEED]` tries as many as there is time for on the example and the hostile workbooks, and
keeps what went wrong as files in `tests/data/damaged`: each is a case for a test of its own.
"""

from __future__ import annotations

import re
import sys
import traceback
import warnings
import zipfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from random import Random
from time import monotonic

from compiler.demo.workbooks import demo_workbook
from compiler.pipeline.check import check_bytes
from compiler.source.unreadable import UnreadableWorkbook

DATA = Path(__file__).parent / "data"
DAMAGED = DATA / "damaged"

TOKENS = (
    b"", b"0", b"-1", b"1", b"9" * 30, b"1e999", b"NaN", b"true", b"A1", b"XFE1048577", b"A1:A1", b"'", b'"', b"<",
    b">", b"&", b"&#0;", b"&#xFFFF;", b"&#xD800;", b"_x0000_", b"_xD83D_", b"\x00", b"\xff\xfe", b"<c/>", b"<row/>",
    b"<r>", b"<v></v>", b"<f>", b"</f>", b"<t/>", b"<is><t>x</t></is>", b"s", b"str", b"inlineStr", b"e", b"b", b"d",
    b"n", b"../", b"/", b"rId1", b"rId99", b"General", b"[h]:mm", b"0%", b"[<=5]0;[Red]0", b"yyyy", b"2026-02-30",
    b"\xe2\x80\xae",
)  # fmt: skip

_PIECE = re.compile(rb'"[^"<>]*"|>[^<>]+<|<[^<>]*>')


def sources() -> list[bytes]:
    """Return the workbooks that are damaged: the example, and those that are odd already."""
    found = [(path, path.read_bytes()) for path in sorted((DATA / "hostile").glob("*.xlsx"))]
    return [demo_workbook(), *(data for path, data in found if zipfile.is_zipfile(path) and len(data) < 20_000)]


def damaged(data: bytes, random: Random) -> bytes:
    """Return a workbook with some damage, mostly inside a part, so that the rest of it is read."""
    if random.random() < 0.15:
        return _bytes(data, random)
    with zipfile.ZipFile(BytesIO(data)) as archive:
        parts = [(info.filename, archive.read(info)) for info in archive.infolist()]
    for _ in range(random.choice((1, 1, 2, 5))):
        number = random.randrange(len(parts))
        name, part = parts[number]
        change = random.random()
        if change < 0.75:
            parts[number] = name, _piece(part, random)
        elif change < 0.9:
            parts[number] = name, _bytes(part, random)
        elif change < 0.93:
            del parts[number]
        elif change < 0.96:
            parts.append((random.choice((name, name.upper(), f"/{name}", f"../{name}")), part))
        else:
            parts[number] = name, random.choice(parts)[1]
        if not parts:
            break
    out = BytesIO()
    method = random.choice((zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED))
    with warnings.catch_warnings(action="ignore"), zipfile.ZipFile(out, "w", method) as archive:
        for name, part in parts:
            archive.writestr(name, part)
    return out.getvalue()


def _piece(part: bytes, random: Random) -> bytes:
    """Return a part with a value, a text or a tag of it replaced, doubled, left out or exchanged."""
    pieces = list(_PIECE.finditer(part))
    if not pieces:
        return _bytes(part, random)
    one, other = random.choice(pieces), random.choice(pieces)
    start, end = one.span()
    inner = one[0][0:1], one[0][-1:]
    new = random.choice(
        (b"", one[0] * 2, other[0], inner[0] + random.choice(TOKENS) + inner[1], inner[0] + other[0][1:-1] + inner[1])
    )
    return part[:start] + new + part[end:]


def _bytes(data: bytes, random: Random) -> bytes:
    at = random.randrange(len(data) + 1)
    length = random.choice((1, 1, 4, 100))
    match random.randrange(4):
        case 0:
            return data[:at]
        case 1:
            return data[:at] + data[at + length :]
        case 2:
            return data[:at] + random.choice(TOKENS) + data[at:]
        case _:
            return data[:at] + random.randbytes(length) + data[at + length :]


def wrong(data: bytes) -> str:
    """Return how checking some bytes failed; nothing where they were read or refused, as they should be."""
    try:
        check_bytes(data, "damaged.xlsx")
    except UnreadableWorkbook:
        return ""
    except Exception:  # noqa: BLE001 - whatever comes is the finding
        return traceback.format_exc()
    return ""


def tried(seconds: float, seed: int) -> Iterator[tuple[bytes, str]]:
    """Yield what went wrong, with the bytes that did it, one of each place in the program."""
    random = Random(seed)  # noqa: S311 - damage needs no secret
    books, until = sources(), monotonic() + seconds
    seen: set[str] = set()
    count = 0
    while monotonic() < until:
        data = damaged(random.choice(books), random)
        count += 1
        failure = wrong(data)
        where = "".join(re.findall(r"line \d+, in \w+", failure)[-2:])
        if failure and where not in seen:
            seen.add(where)
            yield data, failure
    sys.stderr.write(f"{count} workbooks tried\n")


if __name__ == "__main__":
    DAMAGED.mkdir(exist_ok=True)
    for number, (content, failure) in enumerate(tried(float(sys.argv[1]), int((*sys.argv[2:], "1")[0]))):
        (DAMAGED / f"found-{number}.xlsx").write_bytes(content)
        sys.stdout.write(f"found-{number}.xlsx\n{failure}\n")
