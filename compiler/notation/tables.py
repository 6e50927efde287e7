"""Parsers from ready-made tables: working them out from the grammars takes a second, reading them a twentieth.

The tables lie in `tables/`, one file a grammar, written by `pytest --update-expected`. Each says which grammars and
which release of lark it was made from; where that is not what is here, the parser is made from the grammar.
"""

from __future__ import annotations

import hashlib
import json
import pickle
from functools import cache
from importlib.resources import files
from io import BytesIO
from typing import Any

from lark import Lark, __version__

_PACKAGE = "compiler.notation"
_FOLDER = "tables"
_OF_THIS_MACHINE = ("import_paths", "source_path")


@cache
def parser_of(kind: str) -> Lark:
    """Return the parser of a grammar, from its tables where they are up to date; each is made once and kept."""
    file = files(_PACKAGE).joinpath(_FOLDER, f"{kind}.json")
    stored = json.loads(file.read_bytes()) if file.is_file() else {}
    return _from_tables(stored["tables"]) if stored.get("made from") == made_from() else _from_grammar(kind)


def tables_of(kind: str) -> bytes:
    """Return the file of a grammar's tables."""
    out = BytesIO()
    _from_grammar(kind).save(out, exclude_options=_OF_THIS_MACHINE)
    tables = pickle.loads(out.getvalue())  # noqa: S301 - written a line above; lark saves in no other form
    return json.dumps({"made from": made_from(), "tables": tables}, separators=(",", ":")).encode() + b"\n"


def kinds() -> tuple[str, ...]:
    """Return the names of all grammars that stand for themselves."""
    return tuple(name.removesuffix(".lark") for name, _ in _grammars() if name != "shared.lark")


@cache
def made_from() -> str:
    """Return what stands for all the grammars and the release of lark."""
    made = hashlib.sha256(__version__.encode())
    for name, text in _grammars():
        made.update(f"\n{name}\n{text}".encode())
    return made.hexdigest()


def _grammars() -> list[tuple[str, str]]:
    found = (entry for entry in files(_PACKAGE).iterdir() if entry.name.endswith(".lark"))
    return sorted((entry.name, entry.read_text(encoding="utf-8")) for entry in found)


def _from_grammar(kind: str) -> Lark:
    return Lark.open_from_package(_PACKAGE, f"{kind}.lark", parser="lalr", start=kind, maybe_placeholders=True)


def _from_tables(tables: dict[str, Any]) -> Lark:
    """Return a parser; JSON has turned into text the numbers by which the tables are looked up."""
    table = tables["data"]["parser"]["parser"]
    table["tokens"] = _numbered(table["tokens"])
    table["states"] = {number: _numbered(row) for number, row in _numbered(table["states"]).items()}
    return Lark.load({"data": tables["data"], "memo": _numbered(tables["memo"])})


def _numbered(by_text: dict[str, Any]) -> dict[int, Any]:
    return {int(number): value for number, value in by_text.items()}
