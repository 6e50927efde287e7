"""What of an output folder has been printed: the mark that the next print run is compared with.

The marks stand in `printed.json` beside the manifest, and like it hold file names and hashes alone. What counts as
printed is what was in the print run, so that a run of one client marks nobody else. The file is no part of a set:
writing a set neither replaces nor removes it.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from compiler.files import finish_interrupted
from compiler.files_decision import PRINTED, as_listing, read_manifest
from compiler.files_disk import CannotWrite, digest_of, read_json, to_json, write_file

RUN = "print-run.json"
"""The file of a set that lists the booklets in its print run with their hashes."""


def listing_of_run(booklets: Mapping[str, str]) -> bytes:
    """Return the content of `print-run.json`: booklets with their hashes."""
    return to_json(dict(booklets))


def read_printed(folder: Path) -> dict[str, str]:
    """Return the booklets that are marked as printed, with their hashes. Empty where nothing is marked.

    Raises `CannotWrite` where a `printed.json` stands that this program did not write.
    """
    place = folder / PRINTED
    found = read_json(place)
    if found is None and digest_of(place) is None:
        return {}
    listed = as_listing(found)
    if listed is None:
        raise CannotWrite(
            f"{place} is not a list of printed booklets that this tool wrote; move it or choose another folder."
        )
    return listed


def read_run(folder: Path) -> dict[str, str]:
    """Return the booklets in a folder's print run, with their hashes."""
    return as_listing(read_json(folder / RUN)) or {}


def mark_printed(folder: Path) -> tuple[str, ...]:
    """Mark the booklets of the print run in a folder as printed; return their names.

    Marks of booklets that are not in the folder any more are dropped. Raises `CannotWrite` where there is no print run
    or its list has been changed, and where the mark cannot be written.
    """
    finish_interrupted(folder)
    listed = read_manifest(folder)
    if RUN not in listed:
        raise CannotWrite(f"There is no print run in {folder}; name the folder that programme compile wrote.")
    if digest_of(folder / RUN) != listed[RUN]:
        raise CannotWrite(f"{folder / RUN} is not as it was written; compile again, and print that.")
    run = read_run(folder)
    kept = {name: content for name, content in read_printed(folder).items() if name in listed}
    write_file(folder / PRINTED, to_json(kept | run))
    return tuple(run)
