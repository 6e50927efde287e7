"""The rows of the block workbook as frozen records. Every field knows its cell; keys are the declaration's.

Nothing here is checked against anything else and nothing is computed.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from compiler.cellref import RowRef
from compiler.frozen import frozen
from compiler.model.field import Field
from compiler.notation.values import (
    BandNames,
    BirthDay,
    DoneAs,
    EffortLimit,
    LoadText,
    NotThisWeek,
    Ramp,
    Reps,
    Rest,
    Result,
    Sets,
    Sizes,
    Tempo,
    Weekday,
    Weeks,
    Weight,
    Zones,
)
from compiler.quantities import Percent, Unit


@frozen
class Block:
    """The settings of the block. A blank one has been read as its default."""

    title: Field[str]
    gym: Field[str]
    coach: Field[str]
    contact: Field[str]
    start_date: Field[date]
    weeks: Field[int]
    easier_weeks: Field[Weeks]
    unit: Field[str]
    step: Field[Weight]
    paper: Field[str]
    booklet: Field[str]
    page_order: Field[str]
    method: Field[str]
    working_max: Field[Percent]
    rounding: Field[str]
    test_good_days: Field[int]
    test_used_days: Field[int]
    missing_test: Field[str]
    session_minutes: Field[int]
    lowest_percent: Field[Percent]
    highest_percent: Field[Percent]
    volume_jump: Field[Percent]
    biggest_rise: Field[Percent]
    print_percent: Field[bool]
    lifters_to_bar: Field[int]
    ramp_sets: Field[Ramp]
    adult_age: Field[int]
    zones: Field[Zones]
    closed_dates: Field[tuple[date, ...]]
    decimal_sign: Field[str]
    safety_before: Field[str]
    safety_stop_set: Field[str]
    safety_stop_session: Field[str]

    @property
    def kit_unit(self) -> Unit:
        """The unit of what states none. Where the setting failed nobody has a plan, and reading goes on in kg."""
        return Unit(self.unit.known or Unit.KG)


@frozen
class Exercise:
    """One exercise of the library."""

    row: RowRef
    name: Field[str]
    implement: Field[str]
    bar: Field[str]
    needs: Field[tuple[str, ...]]
    load_from: Field[str]
    ratio: Field[Percent]
    share: Field[Percent]
    each_side: Field[bool]
    area: Field[str]
    works: Field[tuple[str, ...]]
    also_works: Field[tuple[str, ...]]
    tags: Field[tuple[str, ...]]
    spotter: Field[str]
    instead_restricted: Field[str]
    instead_kit: Field[str]
    cue: Field[str]
    note: Field[str]


@frozen
class WeekCells:
    """The cells of one row in one week. A prescription typed whole has been dealt out to its three fields."""

    sets: Field[Sets | NotThisWeek]
    reps: Field[Reps]
    load: Field[LoadText]
    rest: Field[Rest]
    tempo: Field[Tempo]


@frozen
class ProgrammeRow:
    """One exercise of a session; `weeks[0]` is week 1."""

    row: RowRef
    programme: Field[str]
    session: Field[str]
    part: Field[str]
    order: Field[str]
    exercise: Field[str]
    done_as: Field[DoneAs]
    tempo: Field[Tempo]
    rest: Field[Rest]
    ramp: Field[bool | Ramp]
    cue: Field[str]
    weeks: tuple[WeekCells, ...]


@frozen
class Client:
    """One client."""

    row: RowRef
    name: Field[str]
    print_name: Field[str]
    programme: Field[str]
    level: Field[str]
    group: Field[str]
    site: Field[str]
    sessions: Field[tuple[str, ...]]
    training_days: Field[tuple[Weekday, ...]]
    first_week: Field[int]
    start_date: Field[date]
    body_weight: Field[Weight]
    born: Field[BirthDay]
    resting_hr: Field[int]
    max_hr: Field[int]
    highest_hr: Field[int]
    working_max: Field[Percent]
    highest_effort: Field[EffortLimit]
    restrictions: Field[tuple[str, ...]]
    screened_on: Field[date]
    screening: Field[str]
    signed_off_by: Field[str]
    guardian_consent: Field[date]
    print: Field[str]
    note: Field[str]

    @property
    def has_booklet(self) -> bool:
        """False for a client who follows the programme without paper: Print says `none`."""
        return self.print.known != "none"


@frozen
class Test:
    """One test of one client."""

    __test__ = False
    row: RowRef
    client: Field[str]
    date: Field[date]
    exercise: Field[str]
    load: Field[Weight]
    unit: Field[str]
    reps: Field[int]
    rpe: Field[Decimal]
    result: Field[Result]
    body_weight: Field[Weight]
    source: Field[str]


@frozen
class Restriction:
    """One named restriction."""

    row: RowRef
    name: Field[str]
    avoid_tags: Field[tuple[str, ...]]
    highest_effort: Field[EffortLimit]
    heart_rate_targets: Field[bool]
    raise_loads: Field[bool]
    words: Field[str]
    review_by: Field[date]


@frozen
class Change:
    """One exception for somebody."""

    row: RowRef
    who: Field[tuple[str, ...]]
    session: Field[str]
    order: Field[str]
    exercise: Field[str]
    weeks: Field[Weeks]
    do: Field[str]
    with_: Field[str]
    sets: Field[Sets | NotThisWeek]
    reps: Field[Reps]
    load: Field[LoadText]
    words: Field[str]
    why: Field[str]


@frozen
class Site:
    """One place to train."""

    row: RowRef
    name: Field[str]
    staffed: Field[bool]
    emergency: Field[str]
    safety: Field[str]


@frozen
class KitRow:
    """One row of the Kit sheet."""

    row: RowRef
    site: Field[str]
    kind: Field[str]
    name: Field[str]
    sizes: Field[Sizes | BandNames]
    unit: Field[str]
    how_many: Field[int]
