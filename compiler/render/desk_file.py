"""What the desk's files say of themselves, taken from the file that their pages come from."""

from __future__ import annotations

from io import BytesIO
from typing import IO

import pikepdf

_FACTS = ("/Title", "/Author", "/Subject", "/Creator", "/CreationDate", "/ModDate")


def describe(made: pikepdf.Pdf, source: pikepdf.Pdf, duplex: str) -> None:
    """Say what a file is and how it is printed: `duplex` as ISO 32000-1, 12.2, names it. The clock stays out of it."""
    for key in _FACTS:
        if key in source.docinfo:
            made.docinfo[key] = str(source.docinfo[key])
    if "/Lang" in source.Root:
        made.Root.Lang = str(source.Root.Lang)
    made.Root.ViewerPreferences = pikepdf.Dictionary(
        PrintScaling=pikepdf.Name("/None"), Duplex=pikepdf.Name(duplex), DisplayDocTitle=True
    )


def save(made: pikepdf.Pdf, out: IO[bytes]) -> None:
    """Write a file, from where `out` is: the same bytes for the same content, few of them."""
    made.save(
        out,  # type: ignore[arg-type]  # its stubs ask for a file that was opened; it only writes
        deterministic_id=True,
        object_stream_mode=pikepdf.ObjectStreamMode.generate,
    )


def saved(made: pikepdf.Pdf) -> bytes:
    """Return the bytes of a file, as `save` writes them."""
    out = BytesIO()
    save(made, out)
    return out.getvalue()
