"""Programme compiler: a coach's block workbook in, booklets with loadable weights out.

    import compiler
    checked = compiler.check("block.xlsx")
    compiled = compiler.compile_block("block.xlsx", "out")
    made = compiler.next_block("block.xlsx", ["out/coach/log-entry.xlsx"])

They return values and never print or exit. They are loaded when first asked for, so that importing the package is
cheap.
"""

from __future__ import annotations

from typing import Any

__all__ = ["check", "compile_block", "next_block"]


def __getattr__(name: str) -> Any:
    if name in __all__:
        from compiler import api  # loaded late: the PDF and workbook libraries are slow to import

        return getattr(api, name)
    raise AttributeError(f"module 'compiler' has no attribute {name!r}")
