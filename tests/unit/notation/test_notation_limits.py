"""The last value within each limit is read, the first beyond it is refused, and the message says the limit.

The limits are ours: wide enough for any training, and near enough to catch a slip of the unit (design, notation). What
they are is written out here, so that none moves by accident.
"""

from __future__ import annotations

import pytest

from compiler.flags.model import Remark
from compiler.notation.languages import LANGUAGES

READERS = {language.name: language.read for language in LANGUAGES}

SAID = [
    ("sets", "20", "21", "1 to 20 sets"),
    ("reps", "100", "101", "from 1 to 100"),
    ("reps", "1000 cal", "1001 cal", "from 1 to 1000"),
    ("reps", "20RM", "21RM", "from 1 to 20"),
    ("reps", "14400 s", "14401 s", "between a second and 4 hours"),
    ("reps", "100000 m", "100001 m", "not a distance that can be covered in a set"),
    ("reps", "100000 yd", "100001 yd", "not a distance that can be covered in a set"),
    ("reps", "100 km", "100.5 km", "not a distance that can be covered in a set"),
    ("reps", "100 mi", "100.5 mi", "not a distance that can be covered in a set"),
    ("reps", "100% of max", "101% of max", "up to 100%"),
    ("load", "20%", "19%", "20% to 110%"),
    ("load", "110%", "111%", "20% to 110%"),
    ("load", "80% 20RM", "80% 21RM", "1 to 20 repetitions"),
    ("load", "300% BW", "301% BW", "up to 300%"),
    ("load", "1000 kg", "1001 kg", "between 0 and 1000 kg"),
    ("load", "2200 lb", "2201 lb", "between 0 and 2200 lb"),
    ("load", "30 bpm", "29 bpm", "between 30 and 250 bpm"),
    ("load", "250 bpm", "251 bpm", "between 30 and 250 bpm"),
    ("done as", "EMOM 120 min", "EMOM 121 min", "up to 2 hours"),
    ("done as", "E2MOM x 60", "E2MOM x 61", "from 1 to 60"),
    ("done as", "drop last set 20% x 5", "drop last set 20% x 6", "from 1 to 5"),
    ("rest", "3600 s", "3601 s", "more than an hour"),
    ("tempo", "60-0-1-0", "61-0-1-0", "not a tempo"),
    ("ramp", "50% x 20", "50% x 21", "from 1 to 20"),
    ("highest effort", "20%", "19%", "20% to 100%"),
    ("highest effort", "100%", "101%", "20% to 100%"),
    ("weight", "1000 kg", "1000.5 kg", "above 1000 kg"),
    ("weight", "2200 lb", "2201 lb", "above 2200 lb"),
    ("weight", "2200", "2201", "above 2200,"),
    ("result", "25 bpm", "24 bpm", "between 25 and 250 bpm"),
    ("result", "250 bpm", "251 bpm", "between 25 and 250 bpm"),
    ("result", "100000 reps", "100001 reps", "not a result"),
    ("weeks", "12", "13", "1 to 12"),
    ("sizes", "20 x200", "20 x201", "from 1 to 200"),
    ("sizes", "2200", "2201", "up to 2200"),
    ("sizes", "1-400 by 1", "1-401 by 1", "more than 400 sizes"),
    ("sizes", "1-399 by 1, 500", "1-400 by 1, 500", "more than 400 sizes"),
    ("log", "60x1000", "60x1001", "not what was done"),
    ("log", "1000 kg x 5", "1001 kg x 5", "not what was done"),
    ("log", "14400 s", "14401 s", "not what was done"),
    ("log", "1000 reps", "1001 reps", "not what was done"),
]


@pytest.mark.parametrize(("language", "within", "beyond", "said"), SAID, ids=lambda text: text)
def test_the_limit(language: str, within: str, beyond: str, said: str) -> None:
    """One step further and the coach is told where the limit is."""
    read = READERS[language]
    assert not isinstance(read(within), Remark)
    refused = read(beyond)
    assert isinstance(refused, Remark)
    assert said in refused.message
