"""Work on a workbook: its tags, its record sheets, and whether it holds."""

import argparse
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.cli.damage import looking_at_damage
from benchapp.cli.places import tell_place
from benchapp.cli.shape import Command, add_json, path_named, print_json, print_table, progress_of, say
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.lots.board import Board
    from benchapp.workbook.model.values import Difference


def _tags_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("--lot", required=True, metavar="NAME")
    parser.add_argument("--out", required=True, metavar="FILE", type=path_named, help="the PDF to write")
    parser.add_argument("--sheet", metavar="ID", help="the label sheet; A4 with eight labels if none is named")
    parser.add_argument("--start-at", metavar="N", type=int, default=1, help="the first free label of the sheet")
    parser.add_argument("--by", metavar="INITIALS", default="", help="who prints them, for the record")


def _tags(asked: argparse.Namespace) -> int:
    from benchapp.actions.papers.printing import export_tags
    from benchapp.actions.workbench.bench import Bench

    with Bench.open(asked.workbook) as bench:
        tell_place(bench)
        done = export_tags(bench, lot=asked.lot, out=asked.out, sheet=asked.sheet, start_at=asked.start_at, by=asked.by)
    say(done.words)
    return 0


def _records_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("--lot", required=True, metavar="NAME")
    parser.add_argument("--out", required=True, metavar="FOLDER", type=path_named, help="where the PDFs go, one a unit")
    parser.add_argument("--page", choices=("A4", "Letter"), default="A4")


def _records(asked: argparse.Namespace) -> int:
    from benchapp.actions.papers.printing import export_record_sheets
    from benchapp.actions.workbench.bench import Bench

    with Bench.open(asked.workbook) as bench:
        tell_place(bench)
        done = export_record_sheets(bench, lot=asked.lot, folder=asked.out, page=asked.page)
    say(done.words)
    return 0


def _lots_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("--lot", metavar="NAME", help="the board of one lot")
    add_json(parser)


def _lots(asked: argparse.Namespace) -> int:
    from benchapp.actions.workbench.bench import Bench

    try:
        with Bench.open(asked.workbook) as bench:
            tell_place(bench)
            _print_lots(bench, asked)
        return 0
    except BenchError as problem:
        with looking_at_damage(asked.workbook, problem) as readable:
            if readable is not None:
                with Bench.look_at(readable) as bench:
                    _print_lots(bench, asked)
        return 1


def _print_lots(bench: "Bench", asked: argparse.Namespace) -> None:
    from benchapp.actions.exchange.holds import told_of

    if asked.lot is not None:
        _print_board(bench.board(asked.lot), asked)
    elif asked.json:
        print_json([asdict(lot) for lot in bench.lots()])
    else:
        rows = [(lot.name, str(lot.units), lot.title, lot.taken_in[:10]) for lot in bench.lots()]
        print_table(rows, head=("lot", "units", "equipment", "taken in"))
        for words in told_of(bench.workbook):
            say(words)


def _print_board(board: "Board", asked: argparse.Namespace) -> None:
    if asked.json:
        print_json(asdict(board))
        return
    print_table(
        [(row.mark, row.disposition, *(cell.word for cell in row.cells), row.due) for row in board.rows],
        head=("unit", "disposition", *(title for _, title in board.columns), "due"),
    )


def _verify_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="FILE", type=path_named)
    parser.add_argument("--units", metavar="A,B", default="", help="check these units alone, beside file and workshop")
    one = parser.add_mutually_exclusive_group()
    one.add_argument("--head", metavar="HEX", help="say where the entry stands whose hash begins so, as printed")
    one.add_argument(
        "--heads", action="store_true", help="list the newest entry of every chain, to print or write down"
    )
    accept = "take a file that lacks what this computer has seen (a restored backup) as the newest from here on"
    one.add_argument("--accept-older", action="store_true", help=accept)
    add_json(parser)


def _verify(asked: argparse.Namespace) -> int:
    from benchapp.actions.audit.heads import not_promised
    from benchapp.actions.audit.pinned import notes_on_pinned_texts
    from benchapp.actions.exchange.holds import told_of_file

    if asked.head is not None or asked.heads or asked.accept_older:
        return _heads(asked)
    units = tuple(mark.strip() for mark in asked.units.split(",") if mark.strip())
    found = _found_in(asked.workbook, units)
    if asked.json:
        print_json([asdict(difference) for difference in found])
    elif found:
        say(found[0].words)
        if len(found) > 1:
            say(f"and {len(found) - 1} more (--json lists them)")
    else:
        for note in (*told_of_file(asked.workbook), *notes_on_pinned_texts(asked.workbook)):
            say(note)
        what = f"units {', '.join(units)}" if units else "every judgement"
        say(f"{asked.workbook.name} holds: file, chains, anchors, and {what} computed again.")
        for words in not_promised(asked.workbook):
            say(words)
    return 1 if found else 0


def _heads(asked: argparse.Namespace) -> int:
    from benchapp.actions.audit.heads import accept_as_it_is, compare_head, heads_of

    if asked.accept_older:
        say(accept_as_it_is(asked.workbook))
        return 0
    if asked.heads:
        heads = heads_of(asked.workbook)
        if asked.json:
            print_json([one._asdict() for one in heads])
        else:
            rows = [(one.kind, one.name, str(one.number), one.at, one.sha256) for one in heads]
            print_table(rows, head=("record of", "name", "entry", "recorded", "hash"))
        return 0
    there, sentences = compare_head(asked.workbook, asked.head)
    if asked.json:
        print_json({"there": there, "words": list(sentences)})
    else:
        for sentence in sentences:
            say(sentence)
    return 0 if there else 1


def _found_in(workbook: Path, units: tuple[str, ...]) -> "tuple[Difference, ...]":
    """What verifying finds; where the file itself is damaged, what is left of it is told on stderr."""
    from benchapp.actions.audit.verifying import verify_workbook
    from benchapp.workbook.model.problems import DamagedWorkbook
    from benchapp.workbook.model.values import Difference

    try:
        found = verify_workbook(workbook, units=units, progress=progress_of("units"))
        if not any("damaged" in difference.words for difference in found):
            return found
        problem: BenchError = DamagedWorkbook(workbook.name, "its structure does not hold")
    except BenchError as raised:
        problem, found = raised, (Difference(unit="", entry=None, words=raised.sentence),)
    with looking_at_damage(workbook, problem):
        return found


def _rejudge_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("--sequence", metavar="FILE", type=path_named, help="a new revision to judge by instead")
    add_json(parser)


def _rejudge(asked: argparse.Namespace) -> int:
    from benchapp.actions.audit.rejudging import rejudge_workbook

    done = rejudge_workbook(asked.workbook, sequence=asked.sequence, progress=progress_of("steps"))
    if asked.json:
        print_json(asdict(done))
        return 1 if done.changes else 0
    rows = [(one.unit, str(one.entry), one.address, one.before, one.after, one.words) for one in done.changes]
    if rows:
        print_table(rows, head=("unit", "entry", "step", "was", "would be", "why"))
    say(f"{done.readings} readings judged again, {len(rows) or 'none'} would change")
    return 1 if rows else 0


COMMANDS = (
    Command(name="lots", says="list the lots of a workbook, or the board of one", arguments=_lots_arguments, run=_lots),
    Command(name="tags", says="print the tags of a lot to a PDF", arguments=_tags_arguments, run=_tags),
    Command(
        name="records",
        says="print the record sheets of a lot, one PDF a unit",
        arguments=_records_arguments,
        run=_records,
    ),
    Command(
        name="rejudge",
        says="judge every stored reading again, also by a new sequence; exit 1 when one would change",
        arguments=_rejudge_arguments,
        run=_rejudge,
    ),
    Command(
        name="verify",
        says="check a workbook's chain, integrity and every judgement; exit 1 with the first difference",
        arguments=_verify_arguments,
        run=_verify,
    ),
)
