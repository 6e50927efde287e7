"""The table of flags: slug, severity, title. A slug names the bad thing, is given once and never reused.

The wording of a message stands in the module that finds the problem; the long explanation in pages/.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.cellref import CellRef
from compiler.flags.model import Flag, Remark, Severity
from compiler.frozen import frozen

E, W, N = Severity.ERROR, Severity.WARNING, Severity.NOTE


@frozen
class Entry:
    """One row of the catalogue."""

    severity: Severity
    title: str


CATALOGUE: dict[str, Entry] = {
    # reading
    "not-a-workbook": Entry(E, "The file is not a workbook"),
    "protected-workbook": Entry(E, "The workbook is protected by a password"),
    "damaged-workbook": Entry(E, "The workbook is incomplete or damaged"),
    "workbook-too-large": Entry(E, "The file unpacks to far more than a block workbook"),
    "newer-workbook": Entry(E, "The workbook was made by a newer release"),
    "missing-sheet": Entry(E, "A sheet that is needed is missing"),
    "missing-column": Entry(E, "A column that is needed is missing"),
    "duplicate-column": Entry(E, "Two columns have the same header"),
    "hidden-rows": Entry(W, "Hidden rows were read"),
    "text-under-table": Entry(W, "Text under the table was not read"),
    "extra-column": Entry(N, "A column or sheet of the coach's own was left alone"),
    "merged-cells": Entry(N, "Merged cells were read as one value for each row"),
    "macros-ignored": Entry(N, "Macros were not run"),
    "other-date-system": Entry(N, "The workbook counts days from 1904"),
    # cells
    "formula-not-calculated": Entry(E, "A formula has no result yet"),
    "formula-error": Entry(E, "A formula shows an error"),
    "not-a-number": Entry(E, "A number was expected"),
    "bare-percentage": Entry(E, "A number that may be a percentage or a weight"),
    "impossible-percentage": Entry(E, "A percentage that cannot be right"),
    "unreadable-reps": Entry(E, "Sets or repetitions that cannot be read"),
    "unreadable-load": Entry(E, "A load that cannot be read"),
    "unreadable-rest": Entry(E, "A rest that cannot be read"),
    "unreadable-tempo": Entry(E, "A tempo that cannot be read"),
    "unreadable-date": Entry(E, "A date that cannot be read"),
    "ambiguous-date": Entry(E, "A date with two readings"),
    "ambiguous-number": Entry(E, "A number with two readings"),
    "metres-or-minutes": Entry(E, "An m that may be metres or minutes"),
    "unit-missing": Entry(E, "A weight without a unit"),
    "unknown-choice": Entry(E, "Not one of the choices"),
    "too-long": Entry(E, "A text that is too long"),
    "cells-disagree": Entry(E, "Two cells that contradict each other"),
    "struck-out": Entry(E, "Part of a cell is struck out"),
    "truth-value": Entry(E, "TRUE or FALSE where something else belongs"),
    "formula-as-text": Entry(W, "A formula was typed as text"),
    "became-date": Entry(W, "Repetitions became a date and were recovered"),
    "became-time": Entry(W, "A rest became a time of day and was recovered"),
    "lost-to-date": Entry(E, "What was typed became a date and is lost"),
    "lost-to-time": Entry(E, "What was typed became a time and is lost"),
    "unusual-percentage": Entry(W, "A percentage outside the Block's range"),
    "unprintable-character": Entry(W, "A character that cannot be printed"),
    "near-midnight": Entry(W, "A date stored late in the evening"),
    "decimal-comma": Entry(N, "A decimal comma was read"),
    "odd-characters": Entry(N, "Invisible characters, or some that look like others"),
    "shown-rounded": Entry(N, "A cell shows less than it holds"),
    "unit-in-format": Entry(N, "A unit that is only in the number format"),
    "number-as-name": Entry(N, "A name that is stored as a number"),
    "loose-date": Entry(N, "A date that was read, but is not in the plain form"),
    # names
    "missing-name": Entry(E, "A cell that every row needs is blank"),
    "unknown-exercise": Entry(E, "An exercise that is not on the Exercises sheet"),
    "unknown-client": Entry(E, "A client who is not on the Clients sheet"),
    "unknown-programme": Entry(E, "A programme that is not on the Programme sheet"),
    "unknown-site": Entry(E, "A site that is not on the Sites sheet"),
    "unknown-restriction": Entry(E, "A restriction that is not on the Restrictions sheet"),
    "empty-restriction": Entry(E, "A restriction that restricts nothing"),
    "unmatched-tag": Entry(W, "A restriction avoids a tag that no exercise has"),
    "duplicate-client": Entry(E, "The same client twice"),
    "duplicate-exercise": Entry(E, "The same exercise twice"),
    "duplicate-name": Entry(E, "The same restriction or site twice"),
    "circular-load-from": Entry(E, "Load from goes round in a circle"),
    "circular-instead": Entry(E, "Instead goes round in a circle"),
    "change-matches-nothing": Entry(E, "A change that matches nothing"),
    "near-duplicate": Entry(W, "Two names that differ by a letter"),
    "unused-exercises": Entry(N, "Exercises that no row uses"),
    # programme
    "missing-sets": Entry(E, "Sets are missing"),
    "missing-reps": Entry(E, "Repetitions are missing"),
    "missing-load": Entry(E, "A load is missing"),
    "sets-and-list-disagree": Entry(E, "A list does not have one entry for each set"),
    "step-without-start": Entry(E, "A step with no week before it to start from"),
    "tempo-and-hold": Entry(E, "A tempo on a timed hold"),
    "weeks-overlap": Entry(E, "Two rows with the same order in the same week"),
    "misplaced-done-as": Entry(E, "How a group is done stands below its first row"),
    "reps-far-beyond-percentage": Entry(E, "Far more repetitions than the percentage allows"),
    "reps-beyond-percentage": Entry(W, "More repetitions than the percentage allows"),
    "order-gap": Entry(W, "A gap in the order labels"),
    "rest-inside-group": Entry(W, "A long rest inside a superset"),
    "session-too-long": Entry(W, "A session longer than the Block allows"),
    "volume-jump": Entry(W, "A jump in weekly volume load"),
    "empty-session": Entry(W, "A session without exercises"),
    "two-bars-at-once": Entry(W, "A superset that needs two bars"),
    "lone-member": Entry(N, "A group label with one exercise"),
    "unequal-sets": Entry(N, "A group whose exercises differ in sets"),
    # clients
    "test-required": Entry(E, "A test is required and missing"),
    "tests-disagree": Entry(E, "Two tests that cannot both be right"),
    "ask-first": Entry(E, "Screening says to ask first, and nobody has signed"),
    "minor-without-consent": Entry(E, "A minor without a guardian's consent"),
    "over-client-limit": Entry(E, "More effort than this client's limit"),
    "restricted-exercise": Entry(E, "An exercise that a restriction rules out"),
    "spotter-alone": Entry(E, "A spotted lift where nobody is on duty"),
    "keep-without-reason": Entry(E, "A kept exercise without a reason"),
    "choose-sessions": Entry(E, "More sessions than training days"),
    "missing-test": Entry(W, "A client has no test for a percentage"),
    "stale-test": Entry(W, "A test is old"),
    "test-after-start": Entry(W, "A test done after the client's start"),
    "test-in-pounds": Entry(W, "A test looks like pounds"),
    "test-jump": Entry(W, "A test far from the last one"),
    "many-rep-test": Entry(W, "A test of too many repetitions for a good estimate"),
    "missing-body-weight": Entry(W, "A client's body weight is needed"),
    "missing-heart-rate": Entry(W, "A client's heart rates are needed"),
    "no-start-date": Entry(W, "No start date to work out ages from"),
    "not-screened": Entry(W, "A client has not been screened"),
    "swap-needs-load": Entry(W, "A substitute needs a load of its own"),
    "closed-date": Entry(W, "A session falls on a closed day"),
    "no-working-weight": Entry(N, "A client has no working weight yet"),
    "changed": Entry(N, "An exercise was changed for a client"),
    # kit
    "not-loadable": Entry(W, "No weight here comes near the load"),
    "below-lightest-bar": Entry(W, "A load below the lightest bar"),
    "pair-total": Entry(W, "A load that looks like the total of a pair"),
    "coarse-rounding": Entry(W, "A rounding that moves the load a long way"),
    "weight-rounded": Entry(N, "A typed weight that the kit cannot load"),
    "kit-too-light": Entry(W, "The kit is too light for the load"),
    "kit-short": Entry(W, "Not enough kit for everybody at once"),
    "kit-missing": Entry(E, "Kit that an exercise needs is not at the site"),
    "no-kit-list": Entry(N, "A site without kit: loads are rounded to the Block's step"),
    # log
    "log-matches-nothing": Entry(E, "A log entry that matches nothing in the plan"),
    "log-off-target": Entry(W, "A log entry far from what was planned"),
    # printing
    "cannot-print-name": Entry(E, "A name with a character the font does not have"),
    "session-over-a-page": Entry(W, "A session that takes more than a page"),
    "weeks-sheet-too-full": Entry(N, "A session that does not fit on a weeks sheet"),
    "sample-safety-text": Entry(W, "The safety text is still the sample"),
    "file-names-collide": Entry(N, "Two clients whose file names would be the same"),
}


def flag(
    remark: Remark,
    place: CellRef | None = None,
    *,
    sheet: str | None = None,
    client: str | None = None,
    found: str | None = None,
    related: Iterable[CellRef] = (),
    touches: Iterable[str] = (),
) -> Flag:
    """Return the flag of a remark at a place, or of a whole sheet; the severity is the catalogue's."""
    return Flag(
        slug=remark.slug,
        severity=CATALOGUE[remark.slug].severity,
        message=remark.message,
        hint=remark.hint,
        place=place,
        sheet=None if place else sheet,
        client=client,
        found=found,
        related=tuple(related),
        touches=tuple(touches),
    )
