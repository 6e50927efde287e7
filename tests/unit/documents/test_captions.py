"""What a box asks for and what a load counts, by the implement; the words after a dose."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.documents.dose import dose, log_boxes
from compiler.documents.figures import Figures
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Weeks | 1 |
| Unit | kg |
| Round loads | down |
## Exercises
| Exercise | Implement |
| Chin-up | {implement} |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | Pull | A | Chin-up | 3 | 5 | {load} |
## Clients
| Client | Programme |
| Ana Ruiz | Strength |
"""


@pytest.mark.parametrize(
    ("implement", "load", "caption"),
    [
        ("body weight plus load", "RPE 8", "added kg × reps"),
        ("body weight plus load", "body weight + 10 kg", "added kg × reps"),
        ("kettlebell", "16 kg", "kg × reps"),
        ("kettlebells", "16 kg", "kg each hand × reps"),
    ],
)
def test_what_the_boxes_ask_for(implement: str, load: str, caption: str) -> None:
    """Weight added to the body is asked for as that, even where the client finds it."""
    book = bind_book(fragment_book(BOOK.format(implement=implement, load=load))).book
    assert book is not None
    (planned,) = resolve_book(book).plans[0].sessions[0].parts[Part.MAIN]
    assert log_boxes(planned).caption == caption


@pytest.mark.parametrize(
    ("implement", "reps", "load", "caption", "reps_left"),
    [
        ("cardio", "8 min", "", "metres", False),
        ("cardio", "2000 m", "", "time", False),
        ("body weight", "30 s", "", "seconds", False),
        ("body weight", "3 min", "", "min", False),
        ("body weight", "20 yd", "", "yd", False),
        ("body weight", "20 metres", "", "metres", False),
        ("body weight", "10 breaths", "", "breaths", False),
        ("body weight", "AMRAP", "", "reps", False),
        ("kettlebells", "20 metres", "16 kg", "kg each hand × m", False),
        ("dumbbell", "30 s", "16 kg", "kg × s", False),
        ("dumbbell", "8+", "16 kg", "kg × reps", True),
    ],
)
def test_what_is_counted(implement: str, reps: str, load: str, caption: str, reps_left: bool) -> None:
    """What the row does not fix is asked for: how far in a time, how long for a distance; reps left with a weight."""
    text = BOOK.format(implement=implement, load=load).replace("| 3 | 5 |", f"| 3 | {reps} |")
    book = bind_book(fragment_book(text)).book
    assert book is not None
    (planned,) = resolve_book(book).plans[0].sessions[0].parts[Part.MAIN]
    boxes = log_boxes(planned)
    assert (boxes.caption, boxes.reps_left) == (caption, reps_left)


@pytest.mark.parametrize(
    ("reps", "load", "text", "notes"),
    [
        ("3RM", "work up", "heaviest 3", ()),
        ("3RM", "RPE 9", "heaviest 3", ("work up to the heaviest 3",)),
        ("1RM", "RPE 9", "heaviest single", ("work up to the heaviest single",)),
        ("8+", "16 kg", "8+", ("more if they are good",)),
        ("AMRAP", "16 kg", "max", ("as many as you can",)),
        ("2+2+2", "16 kg", "2 + 2 + 2", ("a breath between the parts",)),
    ],
)
def test_words_after_a_dose(reps: str, load: str, text: str, notes: tuple[str, ...]) -> None:
    """A form that a client may not know is told; that the set is worked up to is said once, here or as the load."""
    book_text = BOOK.format(implement="kettlebell", load=load).replace("| 3 | 5 |", f"| 1 | {reps} |")
    book = bind_book(fragment_book(book_text)).book
    assert book is not None
    (planned,) = resolve_book(book).plans[0].sessions[0].parts[Part.MAIN]
    figure = dose(planned, Figures("."))
    assert (figure.text.replace("\N{NO-BREAK SPACE}", " ").removeprefix("1 × "), figure.notes) == (text, notes)
