"""The booklet of one client as a value: every string that will be printed, and nothing of how it looks.

Layout turns it into pages and adds only what depends on them: page numbers, "(continued)", set numbers. No
number of the trade is computed from here on. Strings are the words as they are printed: figures with their
unit, decimal sign chosen, × and – as typed by the documents stage. Ordinary spaces will do: layout keeps
numbers and units together. An empty string or an empty tuple prints nothing, not even a heading.

The text form for people and golden tests is `compiler.documents.booklet_text.booklet_as_text`.
"""

from __future__ import annotations

from dataclasses import field
from enum import Enum, StrEnum

from compiler.documents.progress_value import Progress
from compiler.documents.weeks_value import WeeksSheet
from compiler.frozen import frozen

LANGUAGE = "en-GB"
"""The language of every page."""


class Paper(StrEnum):
    """The sheet that the booklet is printed on, as the Block sheet names it."""

    A4 = "A4"
    LETTER = "Letter"


class Format(StrEnum):
    """How the pages of a booklet are set, as the Block sheet names it; large print is a client's own."""

    FULL_PAGE = "full page"
    HALF_PAGE = "half page"
    WEEKS_SHEET = "weeks sheet"
    LARGE_PRINT = "large print"


@frozen
class Wording:
    """The furniture of the pages, in the booklet's language. `{}` takes what layout knows.

    `page` takes number and total, and so does `page_short`, for narrow pages. `page_reference` and `week` take a
    number, `continued_title` a title, `continued_block` the head of a block. `reps_left` stands above the small box
    in two lines, `reps_left_inside` within it.
    """

    page: str = "Page {} of {}"
    page_short: str = "{} of {}"
    page_reference: str = "p. {}"
    week: str = "week {}"
    continued_title: str = "{}, continued"
    continued_block: str = "{} (continued)"
    date: str = "Date"
    effort: str = "Effort 1–10"
    effort_short: str = "Effort"
    first_set: str = "set 1"
    changed: str = "Changed"
    ramp: str = "Ramp"
    reps_left: tuple[str, str] = ("reps left,", "last set")
    reps_left_inside: str = "reps left"
    notes: str = "Notes for the coach"
    notes_page: str = "Notes"


@frozen
class Figure:
    """A number to be read from the bench, and the small words after it.

    `text` is set large ("4 × 5", "95 kg", "RPE 7", "Body weight + 10 kg"); each of `notes` follows in small
    type on the same line while there is room, below otherwise ("each side", "tempo 3-1-1",
    "25 + 10 + 2.5 a side", "77.5% of 122.5 kg", "leave 3 in reserve", "about 60 kg").
    """

    text: str
    notes: tuple[str, ...] = ()


@frozen
class BlankLoad:
    """A load that nobody can state yet: a line to write on, then `unit` ("kg", "kg each hand").

    `notes` say what to do, in small type under the line ("75% of your working max", "find it by RPE 7").
    """

    unit: str
    notes: tuple[str, ...] = ()


@frozen
class ExtraLine:
    """One more line of a dose: a single set of a list, a back-off, a drop set.

    Printed as `head` small ("set 2", "then", "drop set"), `dose` in bold beside it ("5", "2 × 5"), `load` in
    bold under the load of the row ("80 kg"), its `notes` small after it ("20 + 10 a side"). What is left out
    prints nothing; a line that is a sentence stands in `head` alone.
    """

    head: str
    dose: str = ""
    load: str = ""
    notes: tuple[str, ...] = ()


@frozen
class LogBoxes:
    """The boxes that the client writes in, one a set.

    `caption` stands in the first box ("kg × reps", "kg each hand × reps", "plates kg × reps",
    "added kg × reps", "kg × m", "reps", "seconds", "metres", "rounds", "time"). `reps_left` adds the small
    box at the end of the row: how many repetitions were left after the last set. `count` may be 0.
    """

    caption: str
    count: int
    reps_left: bool = False


@frozen
class ExerciseRow:
    """One exercise of a block.

    `label` is its order ("B1"; "A" for a block of one), `name` the exercise. `changed` holds the words beside
    the Changed tag, None when nothing was changed. `ramp` is the line of lighter sets first ("bar × 8, 50 kg
    × 5, 70 kg × 3"); the word before it comes from `Wording.ramp`. `load` None means that the exercise has
    none to speak of. `spotter` is set in semibold with the load ("spotter", "safety pins set").
    """

    label: str
    name: str
    dose: Figure
    load: Figure | BlankLoad | None
    log: LogBoxes
    changed: str | None = None
    ramp: str = ""
    spotter: str = ""
    extra: tuple[ExtraLine, ...] = ()
    cue: str = ""


@frozen
class BlockResult:
    """One result for the whole block, below its exercises: rounds of a circuit, a time.

    `words` stand left of the boxes ("Rounds done"); the boxes are as in `LogBoxes`.
    """

    words: str
    log: LogBoxes


@frozen
class Block:
    """Exercises done together; more than one are joined by a bracket.

    `letter` and `kind` make the head ("B", "Superset"); `rest` is the sentence after it ("B1 then B2, then
    rest 90 s"), the one place where the rest is told. `left_over` are sets that have no partner ("the last of B2
    alone").
    """

    letter: str
    kind: str
    rest: str
    rows: tuple[ExerciseRow, ...]
    result: BlockResult | None = None
    left_over: str = ""

    @property
    def sentence(self) -> str:
        """What stands after the head."""
        return "; ".join(filter(None, (self.rest, self.left_over)))


@frozen
class TickItem:
    """One line of a warm-up or a cool-down, with a box to tick.

    `text` is the exercise, `detail` what to do of it ("8 each side"), kept on one line where it fits.
    `changed` as in `ExerciseRow`. `cue` follows small, below.
    """

    text: str
    detail: str = ""
    changed: str | None = None
    cue: str = ""


@frozen
class TickList:
    """A warm-up or a cool-down: its heading and its lines."""

    title: str
    items: tuple[TickItem, ...]


@frozen
class Session:
    """One session of one week: one page, more only if it does not fit.

    `key` names the session for the plan of the month and is unique in the booklet ("A-2"). `title` is the
    headline, `when` the line below it ("Monday 14 December, week 2 of 4"), `bookmark` the name in the
    reader's list of pages ("Week 2: Hinge and pull"). `note` is a sentence under the headline ("An easier
    week on purpose").
    """

    key: str
    title: str
    when: str
    bookmark: str
    blocks: tuple[Block, ...]
    warm_up: TickList | None = None
    cool_down: TickList | None = None
    note: str = ""


@frozen
class SessionRef:
    """A cell of the plan of the month: a box to tick and the page of the session with this key."""

    key: str


@frozen
class PlanWords:
    """A cell of the plan of the month without a session: "away", "–" for not this week."""

    text: str


@frozen
class PlanRow:
    """One session of the plan of the month, a cell for each week."""

    session: str
    cells: tuple[SessionRef | PlanWords, ...]


@frozen
class MonthPlan:
    """The table at the foot of the cover: contents and tick list in one.

    `weeks` are the column heads ("Week 1"); each row has as many cells. Many weeks are turned by layout.
    """

    title: str
    weeks: tuple[str, ...]
    rows: tuple[PlanRow, ...]


@frozen
class Cover:
    """The front. `title` lines stand above the client's name ("Winter strength", "December 2026").

    `about` lines stand below it ("Lower Ottermere Rowing Club", "Coach: Maud Ferrier", "Front desk, extension
    4"). `found` is the last line ("Found this booklet? Please hand it in at the front desk.").
    """

    gym: str
    title: tuple[str, ...]
    client: str
    about: tuple[str, ...]
    plan: MonthPlan
    found: str = ""
    bookmark: str = "Cover"


class Mark(Enum):
    """What a numbered circle on the sample block points at."""

    REST = "rest"
    NAME = "name"
    CHANGED = "changed"
    RAMP = "ramp"
    DOSE = "dose"
    LOAD = "load"
    CUE = "cue"
    BOXES = "boxes"
    REPS_LEFT = "reps left"


@frozen
class Point:
    """One explanation: a bold run-in `head`, then `text`.

    With `mark` it gets the next number, and the same number stands in the sample beside what it explains: the
    first row of the sample that has such a thing. Without one it is a paragraph between the others.
    """

    head: str
    text: str
    mark: Mark | None = None


@frozen
class EffortStep:
    """One field of the effort strip: "RPE 7", "three more reps were possible"."""

    head: str
    text: str


@frozen
class EffortStrip:
    """The scale of effort, left to right; up to seven steps."""

    title: str
    steps: tuple[EffortStep, ...]


@frozen
class CoachNote:
    """A framed note from the coach to this client, up to some 600 characters."""

    title: str
    text: str


@frozen
class HowTo:
    """How to read a session. `sample` is drawn by the code that draws sessions."""

    title: str
    sample: Block
    points: tuple[Point, ...]
    effort: EffortStrip | None = None
    note: CoachNote | None = None
    bookmark: str = "How to read a session"


@frozen
class SafetyList:
    """One list of the safety page. The words are the coach's."""

    title: str
    items: tuple[str, ...]


@frozen
class ChangedForYou:
    """The framed part of the safety page: what was changed for this client this month, a line each."""

    title: str
    lines: tuple[str, ...]


@frozen
class EmergencyLine:
    """One line of the emergency part: `label`, then `text`; without text a box to write in.

    Without a label the text is a sentence across the page.
    """

    label: str
    text: str = ""


@frozen
class Safety:
    """The last page. `cautions` are plain sentences under everything else (screening, local rules)."""

    title: str
    lists: tuple[SafetyList, ...]
    emergency_title: str
    emergency: tuple[EmergencyLine, ...]
    changed: ChangedForYou | None = None
    cautions: tuple[str, ...] = ()
    bookmark: str = "Safety"


@frozen
class Booklet:
    """All pages of one client.

    `language` is a BCP 47 tag ("en-GB"), `title`, `author` and `subject` go into the file's properties,
    `footer` stands at the foot of every page but the cover ("Imogen Thackray", "December 2026", "Ottermere
    Leisure Centre"), `label_prefix` before page numbers in the reader ("IT-"). `simplex` keeps the binding
    margin on the left of every page and asks the printer for one side. Sessions stand in the order of pages; `sheets`
    hold the same sessions for a booklet of weeks sheets. A half page is half a sheet of the paper.
    """

    language: str
    title: str
    author: str
    subject: str
    paper: Paper
    cover: Cover
    how_to: HowTo
    sessions: tuple[Session, ...]
    safety: Safety
    footer: tuple[str, ...]
    progress: Progress | None = None
    sheets: tuple[WeeksSheet, ...] = ()
    label_prefix: str = ""
    simplex: bool = False
    format: Format = Format.FULL_PAGE
    wording: Wording = field(default_factory=Wording)
