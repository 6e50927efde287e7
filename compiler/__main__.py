"""`python -m compiler` is the same program as `programme`."""

from __future__ import annotations

import sys

from compiler.cli import main

if __name__ == "__main__":
    sys.exit(main())
