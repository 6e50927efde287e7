"""A client whose booklet is held back, and the flags that hold it: a consequence, not a flag of its own."""

from __future__ import annotations

from compiler.flags.model import Flag
from compiler.frozen import frozen


@frozen
class Held:
    """One client without a booklet."""

    client: str
    flags: tuple[Flag, ...]
