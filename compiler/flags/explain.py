"""The long explanation of a flag: what it is, why it matters, an example, how to fix it. One page a slug in pages/."""

from __future__ import annotations

import re
from importlib import resources

from compiler.flags.catalogue import CATALOGUE
from compiler.flags.nearest import nearest
from compiler.folding import fold

_PACKAGE = "compiler.flags"
_BETWEEN_WORDS = re.compile(r"[\s_]+")


class UnknownFlag(LookupError):  # noqa: N818 - it is what the coach asked for, not an error of the program
    """A flag was asked for that there is not. Its text says so, with the near ones."""

    def __init__(self, asked: str) -> None:
        near = nearest(_slug_of(asked), CATALOGUE)
        hint = f"Near it: {', '.join(near)}." if near else "Run `programme explain` for the list."
        super().__init__(f'There is no flag "{asked}". {hint}')
        self.near = near


def explain(slug: str) -> str:
    """Return the page of a flag, headed by its slug and severity. Raises `UnknownFlag`."""
    known = _slug_of(slug)
    if known not in CATALOGUE:
        raise UnknownFlag(slug)
    page = resources.files(_PACKAGE).joinpath("pages", f"{known}.md").read_text(encoding="utf-8")
    return f"{known} ({CATALOGUE[known].severity})\n\n{page}"


def list_of_flags() -> str:
    """Return all flags, one a line: slug, severity, title."""
    longest = max(map(len, CATALOGUE))
    lines = [f"{slug:<{longest}}  {entry.severity:<7}  {entry.title}" for slug, entry in CATALOGUE.items()]
    return "\n".join(lines) + "\n"


def _slug_of(asked: str) -> str:
    """Return what was asked for in the form of a slug: `Missing test` is missing-test."""
    return _BETWEEN_WORDS.sub("-", fold(asked))
