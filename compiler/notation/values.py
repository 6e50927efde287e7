"""What the small languages of cells mean, as values. No cell, no client, no kit: only what was written.

Numbers are Decimals or whole numbers; seconds are whole seconds; percentages are `Percent` (75 is 75 %).
A range has `low` and `high`; a single value is a range with both ends equal.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.notation.values_beside import (
    BandNames,
    BirthDay,
    EffortLimit,
    Result,
    Size,
    Sizes,
    Weekday,
    Weeks,
    Weight,
    Zone,
    Zones,
)
from compiler.notation.values_load import (
    BodyWeightLoad,
    BodyWeightShare,
    Effort,
    EffortLoad,
    EffortScale,
    Feel,
    FeelLoad,
    HeartRateLoad,
    HeartRateOf,
    LoadText,
    NamedLoad,
    OwnWeight,
    PercentLoad,
    PercentOf,
    PercentRange,
    Step,
    WeightLoad,
    WeightRange,
    WorkUp,
)
from compiler.notation.values_reps import (
    AsManyAsPossible,
    AtLeast,
    Cluster,
    Count,
    Distance,
    DistanceUnit,
    NotThisWeek,
    Reps,
    RepsItem,
    Sets,
    ShareOfMost,
    Tally,
    TestSet,
    Timed,
)
from compiler.notation.values_row import (
    DoneAs,
    DoneAsKind,
    Prescription,
    Ramp,
    RampStep,
    Rest,
    Tempo,
)

__all__ = [
    "AsManyAsPossible",
    "AtLeast",
    "BandNames",
    "BirthDay",
    "BodyWeightLoad",
    "BodyWeightShare",
    "Cluster",
    "Count",
    "Distance",
    "DistanceUnit",
    "DoneAs",
    "DoneAsKind",
    "Effort",
    "EffortLimit",
    "EffortLoad",
    "EffortScale",
    "Feel",
    "FeelLoad",
    "HeartRateLoad",
    "HeartRateOf",
    "LoadText",
    "NamedLoad",
    "NotThisWeek",
    "OwnWeight",
    "PercentLoad",
    "PercentOf",
    "PercentRange",
    "Prescription",
    "Ramp",
    "RampStep",
    "Reason",
    "Reps",
    "RepsItem",
    "Rest",
    "Result",
    "Sets",
    "ShareOfMost",
    "Size",
    "Sizes",
    "Step",
    "Tally",
    "Tempo",
    "TestSet",
    "Timed",
    "Weekday",
    "Weeks",
    "Weight",
    "WeightLoad",
    "WeightRange",
    "WorkUp",
    "Zone",
    "Zones",
]


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a text could not be read: the slug it becomes, what was found and expected, what to do."""

    slug: str
    message: str
    hint: str | None = None
