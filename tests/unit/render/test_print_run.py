"""Facts about the file with all booklets: the whole run of the example, and a made-up run of odd and even counts."""

from __future__ import annotations

import errno
import sys
from collections.abc import Iterable
from dataclasses import dataclass, replace
from io import BytesIO
from tempfile import TemporaryFile

import pytest
from pikepdf import Dictionary

from compiler.demo.workbooks import demo_source
from compiler.documents.booklet import build_booklet
from compiler.documents.paper import Printing, first_pages
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.page import Pages
from compiler.pipeline.check import check_source
from compiler.render.booklet import render_booklet
from compiler.render.print_run import PrintRun, RunBooklet
from compiler.render.sealing import seal
from tests.unit.layout.sample_booklet import BOOKLET
from tests.unit.render.pdf_facts import colours, fonts, opened, page_texts, words

MM = 72 / 25.4


@dataclass(frozen=True)
class Run:
    """The print run of the example workbook: its booklets laid out and as files, the run, the text of each page."""

    laid_out: tuple[Pages, ...]
    booklets: tuple[RunBooklet, ...]
    data: bytes
    texts: tuple[str, ...]

    @property
    def firsts(self) -> tuple[int, ...]:
        """The page on which each booklet begins."""
        return first_pages([len(pages.pages) for pages in self.laid_out], Printing.BOTH_SIDES)

    def texts_of(self, index: int) -> tuple[str, ...]:
        """Return the pages of one client, with the blank page that may follow."""
        bounds = [*self.firsts, len(self.texts) + 1]
        return self.texts[bounds[index] - 1 : bounds[index + 1] - 1]


def together(booklets: Iterable[RunBooklet], title: str) -> bytes:
    """Return one file with every booklet in turn."""
    run = PrintRun(title)
    for booklet in booklets:
        run.add(booklet)
    return run.finish()


@pytest.fixture(scope="module")
def run() -> Run:
    checked = check_source(demo_source())
    assert checked.book is not None
    laid_out = tuple(lay_out_booklet(build_booklet(checked.book, plan)) for plan in checked.plans)
    booklets = tuple(
        RunBooklet(plan.name, render_booklet(pages)) for plan, pages in zip(checked.plans, laid_out, strict=True)
    )
    data = together(booklets, "Print run")
    return Run(laid_out, booklets, data, tuple(page_texts(data)))


def test_qpdf_finds_nothing_wrong(run: Run) -> None:
    """The library behind `qpdf --check` reads every object and finds no mistake in the file."""
    assert opened(run.data).check_pdf_syntax() == []


def test_every_booklet_begins_on_the_front_of_a_sheet(run: Run) -> None:
    """The cover with the client's name is on an odd page, everywhere; some of the example's counts are odd."""
    assert any(len(pages.pages) % 2 for pages in run.laid_out)
    for pages, first in zip(run.laid_out, run.firsts, strict=True):
        assert first % 2 == 1
        name = pages.title.split(",")[0]
        assert name in run.texts[first - 1]
        assert "Tick each session when it is done" in run.texts[first - 1]


def test_odd_counts_are_followed_by_a_blank_page(run: Run) -> None:
    """Except after the last booklet, where nothing follows."""
    for index, pages in enumerate(run.laid_out):
        count = len(pages.pages)
        texts = run.texts_of(index)
        last = index == len(run.booklets) - 1
        assert len(texts) == count + (0 if last else count % 2)
        assert all(texts[:count])
        assert not any(texts[count:])


def test_nobody_reads_of_anybody_else(run: Run) -> None:
    """No page of a client's booklet holds the name of another client, printed or full."""
    names = [
        {booklet.client.casefold(), pages.title.split(",")[0].casefold()}
        for booklet, pages in zip(run.booklets, run.laid_out, strict=True)
    ]
    for index in range(len(run.booklets)):
        own = " ".join(run.texts_of(index)).casefold()
        assert any(name in own for name in names[index])
        others = set().union(*names[:index], *names[index + 1 :]) - names[index]
        assert [name for name in others if name in own] == []


def test_pages_are_those_of_the_booklets(run: Run) -> None:
    """Each page of the run shows what the page of the booklet shows, operator by operator and letter by letter."""
    pdf = opened(run.data)
    for index, first in enumerate(run.firsts):
        booklet = opened(run.booklets[index].content)
        printed = pdf.pages[first - 1 : first - 1 + len(booklet.pages)]
        for own, page in zip(booklet.pages, printed, strict=True):
            assert page.Contents.read_bytes() == own.Contents.read_bytes()
            assert page.MediaBox.as_list() == own.MediaBox.as_list()
    for index in (0, len(run.booklets) - 1):
        texts = page_texts(run.booklets[index].content)
        assert list(run.texts_of(index))[: len(texts)] == texts


def with_words(words: str) -> bytes:
    """Return the file of a booklet whose coach's note says so."""
    note = replace(BOOKLET.how_to.note, text=words)
    return render_booklet(lay_out_booklet(replace(BOOKLET, how_to=replace(BOOKLET.how_to, note=note))))


def test_rare_letters_are_those_of_their_booklet() -> None:
    """Letters beyond the fixed alphabet have codes of their own in each booklet, and the run shows the same letters."""
    words = ("Ștefan and Őrs", "Ģirts", "Ștefan and Őrs")
    files = [with_words(said) for said in words]
    data = together([RunBooklet(said, file) for said, file in zip(words, files, strict=True)], "Run")
    assert opened(data).check_pdf_syntax() == []
    assert [text for text in page_texts(data) if text] == [text for file in files for text in page_texts(file)]
    assert all(said in " ".join(page_texts(file)) for said, file in zip(words, files, strict=True))
    assert len(fonts(opened(data))) == 5  # three weights, and the further letters of either note, in one of them


def test_locked_booklets_give_the_same_run() -> None:
    """The run of locked booklets is locked as a whole, by whoever asks for it."""
    files = [drawn(3), drawn(2)]
    locked = [RunBooklet("A", seal(file, "dry feet"), "dry feet") for file in files]
    assert together(locked, "Run") == together([RunBooklet("A", file) for file in files], "Run")


def test_a_bookmark_and_page_labels_for_each_client(run: Run) -> None:
    pdf = opened(run.data)
    numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages, start=1)}
    with pdf.open_outline() as outline:
        marks = [(item.title, numbers[item.destination[0].objgen]) for item in outline.root]
    assert marks == [(b.client, first) for b, first in zip(run.booklets, run.firsts, strict=True)]
    for pages, first in zip(run.laid_out, run.firsts, strict=True):
        prefix = pages.label_prefix
        assert pdf.pages[first - 1].label == f"{prefix}1"
        assert pdf.pages[first].label == f"{prefix}2"


def test_one_font_file_a_weight(run: Run) -> None:
    pdf = opened(run.data)
    assert sorted(name.split("+")[1] for name in fonts(pdf)) == [
        "SourceSans3-Bold",
        "SourceSans3-Regular",
        "SourceSans3-SemiBold",
    ]
    descriptors = [item for item in pdf.objects if isinstance(item, Dictionary) and "/FontFile2" in item]
    assert len(descriptors) == 3


def test_smaller_than_its_booklets(run: Run) -> None:
    """At most 0.4 of the size of the booklets together."""
    alone = sum(len(booklet.content) for booklet in run.booklets)
    assert len(run.data) <= 0.4 * alone


def test_black_only(run: Run) -> None:
    assert colours(opened(run.data)) == {("G", (0.0,)), ("g", (0.0,))}


def test_words_are_inside_the_sheet(run: Run) -> None:
    """8 mm from every edge."""
    pdf = opened(run.data)
    width, height = (float(edge) for edge in pdf.pages[0].MediaBox.as_list()[2:])
    for word in words(run.data):
        assert word.left >= 8 * MM, word
        assert word.right <= width - 8 * MM, word
        assert word.low >= 8 * MM, word
        assert word.high <= height - 8 * MM, word


def test_two_runs_are_the_same_bytes(run: Run) -> None:
    assert together(run.booklets, "Print run") == run.data


def sample(count: int, *, simplex: bool = False) -> Pages:
    """Return the first pages of the sample booklet."""
    pages = lay_out_booklet(replace(BOOKLET, simplex=simplex))
    return replace(pages, pages=pages.pages[:count])


def drawn(count: int, *, simplex: bool = False) -> bytes:
    """Return the file of those pages."""
    return render_booklet(sample(count, simplex=simplex))


def test_hints_for_the_printer() -> None:
    """No scaling, both sides over the long edge; one side where the booklets are for one side."""
    both = opened(together([RunBooklet("A", drawn(3))], "Run"))
    assert str(both.Root.ViewerPreferences.PrintScaling) == "/None"
    assert str(both.Root.ViewerPreferences.Duplex) == "/DuplexFlipLongEdge"
    one = opened(together([RunBooklet("A", drawn(3, simplex=True))], "Run"))
    assert str(one.Root.ViewerPreferences.Duplex) == "/Simplex"


def test_blank_pages_only_where_both_sides_are_printed() -> None:
    """5, 7 and 4 pages take 6, 8 and 4 on both sides, and as many as they are on one."""
    counts = (5, 7, 4)
    for simplex, total in ((False, 18), (True, 16)):
        booklets = [RunBooklet(str(count), drawn(count, simplex=simplex)) for count in counts]
        assert len(opened(together(booklets, "Run")).pages) == total


def test_sheets_of_two_sizes_keep_theirs() -> None:
    """A booklet on other paper is drawn on its own sheet, the blank page after it too."""
    small = replace(sample(3), width=400.0, height=500.0)
    pdf = opened(together([RunBooklet("A", render_booklet(small)), RunBooklet("B", drawn(2))], "Run"))
    widths = [round(float(page.MediaBox[2])) for page in pdf.pages]
    assert widths == [400, 400, 400, 400, 595, 595]


class Failing(BytesIO):
    """A file on a disk that stops giving what it holds, some reads after it is asked to."""

    left = sys.maxsize

    def read(self, size: int | None = -1, /) -> bytes:
        """Read, or fail as the system does."""
        self.left -= 1
        if self.left < 0:
            raise OSError(errno.EIO, "Input/output error")
        return super().read(size)


def test_what_is_drawn_can_wait_on_the_disk(run: Run) -> None:
    """The run is the same as of what waits in memory."""
    with TemporaryFile() as room:
        waiting = PrintRun("Print run", room)
        for booklet in run.booklets:
            waiting.add(booklet)
        assert waiting.finish() == run.data


def test_a_disk_that_fails_is_told_and_leaves_no_damaged_page(run: Run) -> None:
    """Wherever it fails: qpdf alone would write an empty page in place of what it cannot read, or say nothing of it."""
    room = Failing()
    whole = PrintRun("Print run", room)
    whole.add(run.booklets[0])
    room.left = 10**6
    whole.finish()
    reads = 10**6 - room.left
    for fails_at in {0, 1, reads // 2, reads - 1}:
        room = Failing()
        broken = PrintRun("Print run", room)
        broken.add(run.booklets[0])
        room.left = fails_at
        with pytest.raises(OSError, match="Input/output error"):
            broken.finish()


def test_an_empty_run_is_refused() -> None:
    with pytest.raises(ValueError, match="needs a booklet"):
        together([], "Run")
