"""Every documented form reads as documented, every refused form is refused with its slug."""

from __future__ import annotations

from typing import Any

import pytest

from compiler.flags.catalogue import CATALOGUE
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
from compiler.notation.values import Reason

LANGUAGES = (
    ("sets", sets.read_sets, sets.EXAMPLES, sets.REFUSED),
    ("reps", reps.read_reps, reps.EXAMPLES, reps.REFUSED),
    ("load", load.read_load, load.EXAMPLES, load.REFUSED),
    ("rest", rest.read_rest, rest.EXAMPLES, rest.REFUSED),
    ("tempo", tempo.read_tempo, tempo.EXAMPLES, tempo.REFUSED),
    ("effort", effort.read_effort_limit, effort.EXAMPLES, effort.REFUSED),
    ("weight", weight.read_weight, weight.EXAMPLES, weight.REFUSED),
    ("weeks", weeks.read_weeks, weeks.EXAMPLES, weeks.REFUSED),
    ("weekdays", weekdays.read_weekdays, weekdays.EXAMPLES, weekdays.REFUSED),
    ("sizes", sizes.read_sizes, sizes.EXAMPLES, sizes.REFUSED),
    ("bands", sizes.read_bands, sizes.BAND_EXAMPLES, sizes.BAND_REFUSED),
    ("zones", zones.read_zones, zones.EXAMPLES, zones.REFUSED),
    ("done_as", done_as.read_done_as, done_as.EXAMPLES, done_as.REFUSED),
    ("result", result.read_result, result.EXAMPLES, result.REFUSED),
    ("log", log.read_log, log.EXAMPLES, log.REFUSED),
    ("ramp", ramp.read_ramp, ramp.EXAMPLES, ramp.REFUSED),
)


def _cases(column: int) -> list[Any]:
    return [
        pytest.param(language[1], text, expected, id=f"{language[0]}: {text}")
        for language in LANGUAGES
        for text, expected in language[column]  # type: ignore[attr-defined]  # the table mixes its columns
    ]


@pytest.mark.parametrize(("read", "text", "expected"), _cases(2))
def test_documented_form_reads_as_documented(read: Any, text: str, expected: object) -> None:
    """The examples of the field reference are true."""
    assert expected == read(text)


@pytest.mark.parametrize(("read", "text", "slug"), _cases(3))
def test_refused_form_gives_its_slug_and_a_way_out(read: Any, text: str, slug: str) -> None:
    """A refusal has a known slug, a message for a coach and a hint."""
    reason = read(text)
    assert isinstance(reason, Reason)
    assert slug == reason.slug
    assert slug in CATALOGUE
    assert reason.message.endswith(".")
    assert reason.hint
