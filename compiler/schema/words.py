"""Words that a coach may write in place of a name, and that mean something to the program."""

from __future__ import annotations

EVERY = "all"
"""Every client, session, exercise, order or week, by the column it stands in."""

ROTATE = "rotate"
"""In place of a client's sessions: all of them in turn, one after the other on the training days."""

NOTE_ONLY = "note only"
"""In place of the tags of a restriction: nothing is ruled out."""
