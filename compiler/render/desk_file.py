"""What the desk's files say of themselves, taken from the file that their pages come from."""

from __future__ import annotations

from io import BytesIO, RawIOBase
from typing import IO, Any

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


class _Patient(RawIOBase):
    """Takes what qpdf writes and puts off what goes wrong: raised through qpdf it may end the whole process."""

    def __init__(self, out: IO[bytes]) -> None:
        self._out = out
        self.wrong: BaseException | None = None

    def writable(self) -> bool:
        """Tell that it can be written to."""
        return True

    def write(self, data: Any) -> int:
        """Write some bytes, or nothing any more once that has failed; tell that all are written."""
        try:
            if self.wrong is None:
                self._out.write(data)
        except BaseException as wrong:  # noqa: BLE001 - raised by `save`
            self.wrong = wrong
        return len(data)


def save(made: pikepdf.Pdf, out: IO[bytes]) -> None:
    """Write a file, from where `out` is: the same bytes for the same content, few of them."""
    patient = _Patient(out)
    made.save(
        patient,  # type: ignore[arg-type]  # its stubs ask for a file that was opened; it only writes
        deterministic_id=True,
        object_stream_mode=pikepdf.ObjectStreamMode.generate,
    )
    if patient.wrong is not None:
        raise patient.wrong


def saved(made: pikepdf.Pdf) -> bytes:
    """Return the bytes of a file, as `save` writes them."""
    out = BytesIO()
    save(made, out)
    return out.getvalue()
