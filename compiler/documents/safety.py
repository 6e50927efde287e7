"""The safety page: the coach's wording, what was changed for this client, who to call.

The tool clears nobody. A client without a screening date is told so, in words that say nothing of health.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.documents.booklet_value import ChangedForYou, EmergencyLine, Safety, SafetyList
from compiler.documents.session import BY_THE_COACH, changed_words
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.records import Site
from compiler.resolve.values import ClientPlan, PlannedExercise

NOT_SCREENED = "Health screening: none on record. Please see the coach before you start."
LOCAL_RULES = (
    "Local rules come first, and so does the advice of your doctor, physiotherapist or other licensed professional. "
    "This booklet is no medical advice and clears nobody for exercise."
)

WHERE_YOU_TRAIN = "Where you train"

SPOTTED = ("one", "two")
WITH_A_SPOTTER = "With a spotter: agree the number of repetitions and the signal before the set."


def safety(book: Book, plan: ClientPlan) -> Safety:
    """Return the last page of one booklet."""
    block = book.block
    planned = plan.exercises
    lists = (
        SafetyList("Before you start", (*_lines(block.safety_before.value), *_spotter(planned))),
        SafetyList("Stop the set if", _lines(block.safety_stop_set.value)),
        SafetyList("Stop the session and tell the staff if", _lines(block.safety_stop_session.value)),
    )
    changes = _changes(planned)
    sites = _sites(book, planned)
    cautions = [LOCAL_RULES]
    if plan.client.screened_on.value is None and plan.client.screening.value is None:
        cautions.insert(0, NOT_SCREENED)
    return Safety(
        title="Safety",
        lists=tuple(entry for entry in (*lists, *_rules_of(sites)) if entry.items),
        emergency_title="In an emergency",
        emergency=tuple(_emergency(sites)),
        changed=ChangedForYou("Changed for you this month", changes) if changes else None,
        cautions=tuple(cautions),
    )


def _lines(text: str | None) -> tuple[str, ...]:
    return tuple(line.strip() for line in (text or "").splitlines() if line.strip())


def _spotter(planned: Sequence[PlannedExercise]) -> tuple[str, ...]:
    """Return what to agree with whoever stands by, where a page of the booklet asks for somebody."""
    return (WITH_A_SPOTTER,) if any(e.exercise.spotter.value in SPOTTED for e in planned) else ()


def _changes(planned: Sequence[PlannedExercise]) -> tuple[str, ...]:
    """Return what was changed, exercises of which the same is said together."""
    by_words: dict[str, dict[str, None]] = {}
    for exercise in planned:
        words = changed_words(exercise)
        if words is not None:
            by_words.setdefault(words, {})[exercise.exercise.name.value or ""] = None
    return tuple(f"{', '.join(names)}. {_after_names(words)}" for words, names in by_words.items())


def _after_names(words: str) -> str:
    """Return the words beside the tag as they are read without it."""
    return f"Changed {words}" if words == BY_THE_COACH else f"{words[:1].upper()}{words[1:]}"


def _rules_of(sites: Sequence[Site]) -> Iterator[SafetyList]:
    """Yield what each site asks of whoever trains there; it is read before a session, not in an emergency."""
    for site in sites:
        place = f": {site.name.value}" if len(sites) > 1 else ""
        yield SafetyList(f"{WHERE_YOU_TRAIN}{place}", _lines(site.safety.value))


def _emergency(sites: Sequence[Site]) -> Iterator[EmergencyLine]:
    for site in sites:
        for text in _lines(site.emergency.value):
            label, colon, rest = text.partition(":")
            labelled = colon and rest.strip()
            yield EmergencyLine(label.strip(), rest.strip()) if labelled else EmergencyLine("", text)
    yield EmergencyLine("My own emergency contact")


def _sites(book: Book, planned: Sequence[PlannedExercise]) -> list[Site]:
    names = dict.fromkeys(name_key(e.site) for e in planned if e.site)
    return [book.site_named[name] for name in names if name in book.site_named]
