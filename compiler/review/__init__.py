"""Checks that need plans: what the whole of a month says. Each is `(book, resolution) -> flags`."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from compiler.flags.model import Flag
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.resolve.plan import Resolution
from compiler.review.dates import review_closed_days
from compiler.review.kit_demand import Demand, kit_demand, review_kit
from compiler.review.log import review_log
from compiler.review.no_kit import review_sites_without_kit
from compiler.review.reps import review_reps
from compiler.review.session_time import review_session_time
from compiler.review.tests import review_tests
from compiler.review.volume import Volumes
from compiler.review.volume_jump import review_volume

Review = Callable[[Book, Resolution], Iterable[Flag]]

ALL_REVIEWS: tuple[Review, ...] = (
    review_reps,
    review_session_time,
    review_tests,
    review_closed_days,
    review_sites_without_kit,
    review_log,
)


@frozen
class Reviewed:
    """What the reviews found, and what two of them rest on: kit demand and volumes, which the summary shows, too."""

    flags: tuple[Flag, ...]
    demand: tuple[Demand, ...]
    volumes: Volumes


def review_book(book: Book, resolution: Resolution) -> Reviewed:
    """Return what all reviews say of the plans; kit demand and volumes are worked out once."""
    demand = kit_demand(book, resolution.plans)
    volume = review_volume(book, resolution.plans)
    found = [flag for review in ALL_REVIEWS for flag in review(book, resolution)]
    return Reviewed((*found, *volume.flags, *review_kit(book, demand)), demand, volume.volumes)


__all__ = ["ALL_REVIEWS", "Review", "Reviewed", "review_book"]
