"""The list for the front desk: every booklet once, in the order of the run, and nothing that a desk need not know."""

from __future__ import annotations

from dataclasses import replace

import pytest

from compiler.demo.workbooks import demo_source
from compiler.documents.paper import Printing
from compiler.documents.run_list import RunItem, RunList, build_run_list
from compiler.layout.run_list import lay_out_run_list
from compiler.model.book import Book
from compiler.model.records import Client
from compiler.pipeline.check import Checked, check_source
from compiler.render.booklet import render_booklet
from tests.unit.render.pdf_facts import colours, opened, page_texts, words

MM = 72 / 25.4
COUNTS = (5, 7, 4)


@pytest.fixture(scope="module")
def checked() -> Checked:
    return check_source(demo_source())


@pytest.fixture(scope="module")
def book(checked: Checked) -> Book:
    assert checked.book is not None
    return checked.book


def client(book: Book, name: str) -> Client:
    """Return a client of the example."""
    return next(found for found in book.clients if found.name.known == name)


def three(book: Book, printing: Printing = Printing.BOTH_SIDES) -> RunList:
    """Return the list of three booklets of 5, 7 and 4 pages."""
    names = ("Imogen Thackray", "Wilhelmina Oakenshaw-Pell", "Mabel Stannard")
    items = [RunItem(client(book, name), count, printing) for name, count in zip(names, COUNTS, strict=True)]
    return build_run_list(book, items)


def test_rows_in_the_order_of_the_run(book: Book) -> None:
    """Print name, first page, pages, sheets, group and site; by hand as in `test_paper`."""
    rows = [(r.name, r.first, r.pages, r.sheets, r.group, r.site) for r in three(book).rows]
    assert rows == [
        ("Imogen Thackray", "1", "5", "3", "Tuesday early", "Gym"),
        ("Mina O.-P.", "7", "7", "4", "Tuesday evening", "Gym"),
        ("Mabel Stannard", "15", "4", "2", "Home", "Home"),
    ]


def test_totals(book: Book) -> None:
    total = three(book).total
    assert (total.name, total.pages, total.sheets) == ("3 booklets", "16", "9")
    assert three(book, Printing.FOLDED).total.sheets == "5"


@pytest.mark.parametrize(
    ("printing", "said"),
    [
        (Printing.BOTH_SIDES, ("print-run.pdf", "both sides", "long edge", "100%")),
        (Printing.FOLDED, ("print-run-imposed.pdf", "both sides", "short edge", "100%", "Fold")),
        (Printing.ONE_SIDE, ("print-run.pdf", "one side only", "100%")),
    ],
)
def test_says_how_to_print(book: Book, printing: Printing, said: tuple[str, ...]) -> None:
    """Viewers may ignore the hints in the file, so the list says it in words."""
    how = " ".join(three(book, printing).how)
    assert [words for words in said if words not in how] == []


def test_two_files_where_some_are_folded_and_some_are_not(book: Book) -> None:
    """Half pages stand in one file and large print in another: each row names its stack, each file is one."""
    items = [
        RunItem(client(book, "Imogen Thackray"), 16, Printing.FOLDED),
        RunItem(client(book, "Mabel Stannard"), 23, Printing.BOTH_SIDES),
        RunItem(client(book, "Rufus Pemberly"), 12, Printing.FOLDED),
        RunItem(client(book, "Dorothea Lunt"), 17, Printing.BOTH_SIDES),
    ]
    run = build_run_list(book, items)
    assert [(row.name, row.stack, row.first, row.sheets) for row in run.rows] == [
        ("Mabel Stannard", "flat", "1", "12"),
        ("Dorothea Lunt", "flat", "25", "9"),
        ("Imogen Thackray", "folded", "1", "4"),
        ("Rufus Pemberly", "folded", "9", "3"),
    ]
    assert [("long edge" in words, "short edge" in words) for words in run.how] == [(True, False), (False, True)]
    assert "Stack" in page_texts(render_booklet(lay_out_run_list(run)))[0]
    assert "Stack" not in page_texts(render_booklet(lay_out_run_list(three(book))))[0]


@pytest.mark.parametrize(
    ("pages", "thick"), [((48, 28), ""), ((49, 28), "1 booklet has"), ((52, 96), "2 booklets have")]
)
def test_says_when_too_many_sheets_are_folded(book: Book, pages: tuple[int, int], thick: str) -> None:
    """Above twelve sheets, 48 pages (printers' limits run from 50 to 90 pages); flat ones may have any number."""
    people = client(book, "Imogen Thackray"), client(book, "Mabel Stannard")
    for printing in Printing:
        items = [RunItem(who, count, printing) for who, count in zip(people, pages, strict=True)]
        said = " ".join(build_run_list(book, items).how)
        if thick and printing is Printing.FOLDED:
            assert f"{thick} more than 12 sheets" in said
        else:
            assert "more than" not in said


def test_says_when_only_what_changed_is_in_it(book: Book) -> None:
    items = [RunItem(client(book, "Imogen Thackray"), 5, Printing.BOTH_SIDES)]
    assert "changed" not in " ".join(build_run_list(book, items).how)
    changed = build_run_list(book, items, changed_only=True)
    assert "changed since the last print" in changed.how[0]


def test_nothing_of_health_and_no_reasons(checked: Checked, book: Book) -> None:
    """Neither restrictions, limits and notes of clients nor the words and reasons of changes."""
    items = [RunItem(plan.client, 4, Printing.BOTH_SIDES) for plan in checked.plans]
    text = " ".join(page_texts(render_booklet(lay_out_run_list(build_run_list(book, items)))))
    private = [restriction.name.text for restriction in book.restrictions]
    private += [restriction.words.text for restriction in book.restrictions]
    private += [cell.text for change in book.changes for cell in (change.why, change.words)]
    private += [cell.text for found in book.clients for cell in (found.note, found.highest_effort, found.signed_off_by)]
    assert [words for words in private if words and words in text] == []


def test_flows_over_pages_with_its_heads(checked: Checked, book: Book) -> None:
    """Every booklet is there once, heads are on every page, the total ends the last one; black, inside the sheet."""
    items = [RunItem(plan.client, 15, Printing.BOTH_SIDES, label="IT") for plan in checked.plans] * 3
    pages = lay_out_run_list(build_run_list(book, items))
    data = render_booklet(pages)
    texts = page_texts(data)
    assert len(texts) == 3
    assert all("Cover says" in text and "Sheets" in text for text in texts)
    for plan in checked.plans:
        name = plan.client.print_name.value or plan.name
        assert sum(text.count(name) for text in texts) == 3
    assert "72 booklets" in texts[-1]
    assert [text.endswith(f"Page {number} of 3") for number, text in enumerate(texts, 1)] == [True] * 3
    assert colours(opened(data)) == {("G", (0.0,)), ("g", (0.0,))}
    for word in words(data):
        assert word.left >= 8 * MM, word
        assert word.right <= pages.width - 8 * MM, word
        assert word.low >= 8 * MM, word


def test_long_names_wrap_and_stay_apart(book: Book) -> None:
    """Words of neighbouring columns never share ink."""
    run = three(book)
    long = replace(
        run.rows[0],
        name="Maximiliana Featherstonehaugh Cholmondeley of Nether Wallop",
        group="Wednesday and Friday before the early shift",
        site="The old boathouse at Lower Ottermere",
        label="MFC 12",
    )
    found = list(words(render_booklet(lay_out_run_list(replace(run, rows=(long, *run.rows[1:]))))))
    for index, word in enumerate(found):
        for other in found[index + 1 :]:
            across = min(word.right, other.right) - max(word.left, other.left)
            down = min(word.high, other.high) - max(word.low, other.low)
            assert across < 0.6 or down < 1.2, (word, other)
