"""What exercises are done with and the kit that loads it: what is true of an implement stands here and nowhere else.

The two tables bring the drop-downs of Exercises and Kit, and say what an implement is loaded from and how its loads
are written. The sets below them are read from the tables, for those who ask about the name in a cell.
"""

from __future__ import annotations

from enum import Enum, auto

from compiler.frozen import frozen


@frozen
class KitKind:
    """A kind of the Kit sheet.

    `weights`: its Sizes are weights to load; else it is there or not. `taken`: one size is what is lifted, alone or one
    in each hand, and is wanted by size; `one` and `several` are what it is called then. `in_pairs`: of what is taken,
    the Kit sheet counts pairs.
    """

    name: str
    weights: bool = False
    taken: bool = False
    one: str = ""
    several: str = ""
    in_pairs: bool = False


class LoadedBy(Enum):
    """How an implement comes to its load."""

    BAR = auto()
    """Plates on a bar, which counts."""
    PLATES = auto()
    """Plates alone; what holds them does not count."""
    SIZE = auto()
    """One of the sizes of its kind of kit."""
    STACK = auto()
    """The pin of a stack."""
    BAND = auto()
    """A band by its name."""
    BODY = auto()
    """The body, with or without load added to it, which goes by the Block's step and may be help."""
    STEP = auto()
    """The Block's step: the Kit sheet has no weights for it."""


@frozen
class Implement:
    """What an exercise is done with.

    `kit` are the kinds of the Kit sheet that it is loaded with. `pair`: there is one in each hand, and loads are of
    one. `weighed`: its sets have a weight; else sets and load may be blank and no weight is logged.
    """

    name: str
    loaded_by: LoadedBy
    kit: tuple[str, ...] = ()
    pair: bool = False
    weighed: bool = True


KIT_KINDS = (
    KitKind("bar", weights=True),
    KitKind("plates", weights=True),
    KitKind("collars", weights=True),
    KitKind("dumbbells", weights=True, taken=True, one="dumbbell", several="dumbbells", in_pairs=True),
    KitKind("kettlebells", weights=True, taken=True, one="kettlebell", several="kettlebells"),
    KitKind("stack", weights=True),
    KitKind("bands"),
    KitKind("rack"),
    KitKind("bench"),
    KitKind("machine"),
    KitKind("cardio"),
    KitKind("medicine ball", weights=True, taken=True, one="medicine ball", several="medicine balls"),
    KitKind("sandbags", weights=True, taken=True, one="sandbag", several="sandbags"),
    KitKind("sled"),
    KitKind("other"),
)
"""In the order of the drop-down."""

SYSTEM = "body weight plus load"
"""The one implement of which body and load are lifted together."""

_ON_A_BAR = ("bar", "plates", "collars")

IMPLEMENTS = (
    Implement("barbell", LoadedBy.BAR, _ON_A_BAR),
    Implement("dumbbells", LoadedBy.SIZE, ("dumbbells",), pair=True),
    Implement("dumbbell", LoadedBy.SIZE, ("dumbbells",)),
    Implement("kettlebell", LoadedBy.SIZE, ("kettlebells",)),
    Implement("kettlebells", LoadedBy.SIZE, ("kettlebells",), pair=True),
    Implement("machine", LoadedBy.STACK, ("stack",)),
    Implement("cable", LoadedBy.STACK, ("stack",)),
    Implement("band", LoadedBy.BAND, ("bands",), weighed=False),
    Implement("body weight", LoadedBy.BODY, weighed=False),
    Implement(SYSTEM, LoadedBy.BODY),
    Implement("landmine", LoadedBy.PLATES, _ON_A_BAR),
    Implement("medicine ball", LoadedBy.SIZE, ("medicine ball",)),
    Implement("sandbag", LoadedBy.SIZE, ("sandbags",)),
    Implement("sled", LoadedBy.STEP),
    Implement("cardio", LoadedBy.STEP, weighed=False),
    Implement("other", LoadedBy.STEP),
)
"""In the order of the drop-down."""

KIT_KIND = {kind.name: kind for kind in KIT_KINDS}
IMPLEMENT = {implement.name: implement for implement in IMPLEMENTS}

PAIRS = frozenset(implement.name for implement in IMPLEMENTS if implement.pair)
"""Names of implements that are one in each hand: loads are per hand, and a typed weight may be the total of both."""

UNWEIGHED = frozenset(implement.name for implement in IMPLEMENTS if not implement.weighed)
"""Names of implements whose sets have no weight."""

WITH_BODY = frozenset(implement.name for implement in IMPLEMENTS if implement.loaded_by is LoadedBy.BODY)
"""Names of implements of which the body is lifted."""

PAIR_KINDS = frozenset(kind for implement in IMPLEMENTS if implement.pair for kind in implement.kit)
"""Kinds of kit that are held one in each hand."""

LOADING_KINDS = frozenset(kind for implement in IMPLEMENTS for kind in implement.kit)
"""Kinds of kit that something is loaded with; the others are there or not."""

WEIGHT_KINDS = frozenset(kind.name for kind in KIT_KINDS if kind.weights)
"""Kinds of kit whose sizes are weights."""

TAKEN = tuple(kind for kind in KIT_KINDS if kind.taken)
"""Kinds of kit of which one size is what is lifted."""
