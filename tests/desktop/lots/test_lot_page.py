"""The lot in one look, in the window: by key, by mouse, in words and drawn."""

from benchapp.desktop.lots.look_words import kit_rows, yield_rows
from benchapp.sequences.kinds.ask import AskAnswer
from tests.actions.driving import do_what_is_due

FUSE = "plug-rewire.fuse-rating"


def words(rows):
    return [row.words for row in rows.rows()]


def test_a_key_shows_the_lot_in_one_look_and_leads_back(technician):
    technician.strike("F2", "Ctrl+Shift+L")
    page = technician.window.lots.page
    assert page.isVisible()
    assert not technician.window.lots.board.isVisible()
    assert technician.at_keyboard() is page
    assert words(page.stand)[:2] == ["Where they stand", "3 units: 3 not tested"]
    assert "Nothing so far." in words(page.found)
    technician.strike("Esc")
    assert not page.isVisible()
    assert technician.at_keyboard() is technician.window.lots.board


def test_the_mouse_does_the_same(technician):
    lots = technician.window.lots
    technician.strike("F2")
    lots.look.click()
    technician.settle()
    assert lots.page.isVisible()
    assert lots.look.isChecked()
    lots.look.click()
    technician.settle()
    assert lots.board.isVisible()


def test_yield_faults_and_parts_follow_from_the_record(technician):
    bench = technician.window.context.bench
    do_what_is_due(bench, "TB-001", answers={FUSE: AskAnswer(answer="13 A")})
    technician.strike("F2", "Ctrl+Shift+L")
    found = technician.window.lots.page.found.rows()
    said = {row.words: row for row in found}
    fault = said["The fuse in the plug, wrong rating: 1 unit"]
    assert (fault.detail, fault.share) == ("TB-001", 1 / 3)
    first_go = said["Mains plug: 0 of 1, 0 %"]
    assert (first_go.drawing.share, first_go.drawing.lower) == (0.0, 0.0)
    assert first_go.detail == "What so few can tell: between 0 % and 79 % (95 % sure)."
    assert "Plug fuse of 3 A: 1 for sure, at most 2 more (Mains plug)" in said["Parts"].detail.splitlines()


def test_what_changes_while_the_look_is_open_is_read_again(technician):
    bench = technician.window.context.bench
    technician.strike("F2", "Ctrl+Shift+L")
    do_what_is_due(bench, "TB-002", until="plug-rewire.inside")
    technician.window.lots.refresh()
    technician.settle()
    assert "Visual inspection: 1 done, 2 to do" in words(technician.window.lots.page.stand)


def test_keys_scroll_the_look_where_the_window_is_small(technician):
    technician.window.resize(1024, 560)
    technician.strike("F2", "Ctrl+Shift+L")
    bar = technician.window.lots.page.area.verticalScrollBar()
    assert bar.maximum() > 0
    technician.strike("PgDown")
    assert bar.value() > 0
    technician.strike("Home")
    assert bar.value() == 0


def test_every_figure_that_is_drawn_is_said(technician):
    technician.strike("F2", "Ctrl+Shift+L")
    page = technician.window.lots.page
    drawn = [row for row in (*page.stand.rows(), *page.found.rows()) if row.drawing or row.share is not None]
    assert drawn
    assert all(any(sign.isdigit() for sign in row.spoken()) for row in drawn)


def test_an_empty_look_says_so():
    from benchapp.lots.board import lot_board
    from benchapp.lots.lot_look import lot_look

    empty = lot_look(lot_board(()), ())
    assert kit_rows(empty)[-1].words == "Nothing: no step is left to do."
    assert yield_rows(empty)[-1].words == "No stage was carried through yet."
