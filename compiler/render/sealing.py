"""A PDF file -> the same file, encrypted: it opens with a password alone."""

from __future__ import annotations

from io import BytesIO

import pikepdf

MOST_BYTES = 127
"""The longest password, in UTF-8 (ISO 32000-2, 7.6.4.3.3)."""


def seal(content: bytes, password: str) -> bytes:
    """Return a file encrypted by AES with 256 bits (ISO 32000-2), tags and bookmarks as they were.

    Salt and keys are drawn at random, so that no two results are alike.
    """
    sealed = BytesIO()
    with pikepdf.open(BytesIO(content)) as pdf:
        pdf.save(sealed, encryption=pikepdf.Encryption(user=password, owner=password, R=6))
    return sealed.getvalue()
