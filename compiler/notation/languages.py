"""All the small languages in one table, for the field reference and for the tests."""

from __future__ import annotations

from collections.abc import Callable

from compiler.frozen import frozen
from compiler.notation import (
    done_as,
    effort,
    load,
    log,
    ramp,
    reps,
    rest,
    result,
    sets,
    sizes,
    tempo,
    weekdays,
    weeks,
    weight,
    zones,
)


@frozen
class Language:
    """One kind of cell: its reader, the forms it accepts with their values, those it refuses with slugs."""

    name: str
    read: Callable[[str], object]
    examples: tuple[tuple[str, object], ...]
    refused: tuple[tuple[str, str], ...]


LANGUAGES: tuple[Language, ...] = (
    Language("sets", sets.read_sets, sets.EXAMPLES, sets.REFUSED),
    Language("reps", reps.read_reps, reps.EXAMPLES, reps.REFUSED),
    Language("load", load.read_load, load.EXAMPLES, load.REFUSED),
    Language("done as", done_as.read_done_as, done_as.EXAMPLES, done_as.REFUSED),
    Language("rest", rest.read_rest, rest.EXAMPLES, rest.REFUSED),
    Language("tempo", tempo.read_tempo, tempo.EXAMPLES, tempo.REFUSED),
    Language("ramp", ramp.read_ramp, ramp.EXAMPLES, ramp.REFUSED),
    Language("highest effort", effort.read_effort_limit, effort.EXAMPLES, effort.REFUSED),
    Language("weight", weight.read_weight, weight.EXAMPLES, weight.REFUSED),
    Language("result", result.read_result, result.EXAMPLES, result.REFUSED),
    Language("days", weekdays.read_weekdays, weekdays.EXAMPLES, weekdays.REFUSED),
    Language("weeks", weeks.read_weeks, weeks.EXAMPLES, weeks.REFUSED),
    Language("sizes", sizes.read_sizes, sizes.EXAMPLES, sizes.REFUSED),
    Language("bands", sizes.read_bands, sizes.BAND_EXAMPLES, sizes.BAND_REFUSED),
    Language("zones", zones.read_zones, zones.EXAMPLES, zones.REFUSED),
    Language("log", log.read_log, log.EXAMPLES, log.REFUSED),
)
