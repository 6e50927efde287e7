"""Values of cells beside the programme: weights, weeks, days, kit sizes, limits, results, zones, births."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from enum import StrEnum

from compiler.frozen import frozen
from compiler.quantities import Percent, Unit


@frozen
class Weight:
    """`80`, `80 kg`, `176 lb`: `unit` None where none was typed."""

    amount: Decimal
    unit: Unit | None


@frozen
class Weeks:
    """`1-4`, `2, 4`, `all` (`numbers` None)."""

    numbers: tuple[int, ...] | None


class Weekday(StrEnum):
    """Days of the week, Monday first."""

    MON = "Monday"
    TUE = "Tuesday"
    WED = "Wednesday"
    THU = "Thursday"
    FRI = "Friday"
    SAT = "Saturday"
    SUN = "Sunday"


@frozen
class Size:
    """One size of a kit list: `20 x2` is a size of 20 with `count` 2; without a count as many as needed."""

    amount: Decimal
    count: int | None = None


@frozen
class Sizes:
    """`25, 20, 15`, `2-40 by 2`, `20 x2, 10 x4`; sizes in the order written, ranges written out."""

    items: tuple[Size, ...]


@frozen
class BandNames:
    """`light = yellow, medium = red`: the coach's word and the band that is printed."""

    pairs: tuple[tuple[str, str], ...]


@frozen
class EffortLimit:
    """A client's highest effort: `RPE 7` or `80%`; exactly one is set."""

    rpe: Decimal | None
    percent: Percent | None


@frozen
class Result:
    """A test result that is not a load: `45 s`, `12 reps`, `1000 m`, `112 bpm`; `amount` counts `word`."""

    amount: Decimal
    word: str


@frozen
class Zone:
    """A named heart-rate zone as shares of heart-rate reserve: 40 means 40 %."""

    name: str
    low: Decimal
    high: Decimal


@frozen
class Zones:
    """`easy 40-59%, steady 60-74%`: the Block's heart-rate zones, in the order written."""

    zones: tuple[Zone, ...]


@frozen
class BirthDay:
    """A year of birth, or the whole date. Of a year alone the younger age is taken: born on its last day."""

    latest: date

    def age_on(self, day: date) -> int:
        """Return the age in whole years."""
        had_birthday = (day.month, day.day) >= (self.latest.month, self.latest.day)
        return day.year - self.latest.year - (0 if had_birthday else 1)
