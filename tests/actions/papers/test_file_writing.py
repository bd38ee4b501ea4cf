"""A paper never takes the place of what is not a paper of its kind, and never comes half."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter

import benchapp
from benchapp.actions.papers.file_writing import write_whole
from benchapp.actions.papers.pin_cards import export_pin_card
from benchapp.actions.papers.printing import export_record_sheet, export_record_sheets, export_tags
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import ExportProblem
from benchapp.files.shipped import shipped_folder
from benchapp.paper.content import PaperKind
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import tag_sheet
from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.model.problems import ForLookingOnly
from tests.paper.making import make_tag


@pytest.fixture(scope="module")
def tags():
    return tag_sheet([make_tag()], read_label_sheet("a4-2-by-4"))


def foreign_pdf(path):
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    writer.write(path)


def test_an_earlier_paper_stays_until_the_new_one_is_whole(tmp_path, tags):
    target = tmp_path / "tags.pdf"
    write_whole(target, tags, PaperKind.TAGS)
    later = tag_sheet([make_tag(shelf_mark="TB-099")], read_label_sheet("a4-2-by-4"))
    write_whole(target, later, PaperKind.TAGS)
    assert target.read_bytes() == later
    assert [file.name for file in tmp_path.iterdir()] == ["tags.pdf"]


@pytest.mark.parametrize(
    "fill",
    [
        lambda path: path.write_text("dear diary"),
        lambda path: path.write_bytes(b""),
        lambda path: path.write_bytes(b"%PDF-1.4 Bench workbook: tag sheet"),
        foreign_pdf,
    ],
    ids=["text", "empty", "half a PDF", "another's PDF"],
)
def test_a_file_that_is_not_ours_is_left_as_it_was(tmp_path, tags, fill):
    target = tmp_path / "tags.pdf"
    fill(target)
    before = target.read_bytes()
    with pytest.raises(ExportProblem, match="already that is no tag sheet of this program: it was left as it is"):
        write_whole(target, tags, PaperKind.TAGS)
    assert target.read_bytes() == before


def test_a_paper_of_another_kind_is_left_as_it_was(bench, lot, tmp_path, tags):
    out = tmp_path / "paper.pdf"
    export_record_sheet(bench, "TB-001", out=out)
    before = out.read_bytes()
    with pytest.raises(ExportProblem, match="no tag sheet of this program"):
        export_tags(bench, lot=lot, out=out)
    assert out.read_bytes() == before
    assert bench.workbook.tags_printed("TB-001") == ()
    export_record_sheet(bench, "TB-002", out=out)
    assert "TB-002" in PdfReader(out).metadata.title


def test_each_kind_of_paper_names_itself_in_the_file(bench, lot, tmp_path):
    export_tags(bench, lot=lot, out=tmp_path / "tags.pdf")
    export_record_sheet(bench, "TB-001", out=tmp_path / "record.pdf")
    export_pin_card("tb-mu1", out=tmp_path / "pins.pdf")
    named = {path.stem: PdfReader(path).metadata.creator for path in tmp_path.glob("*.pdf")}
    assert named == {
        "tags": "Bench workbook: tag sheet",
        "record": "Bench workbook: record sheet",
        "pins": "Bench workbook: pin card",
    }


def test_no_paper_takes_the_place_of_the_open_workbook_or_of_what_belongs_to_it(bench, lot, path):
    for name in (path.name, path.name + "-wal", path.name + "-shm", path.name + "-journal", "new.workbook"):
        with pytest.raises(ExportProblem, match=r"Give a name that ends in \.pdf"):
            export_tags(bench, lot=lot, out=path.with_name(name))
    renamed = path.with_name("no ending of ours")
    os.link(path, renamed)
    with pytest.raises(ExportProblem, match="already that is no record sheet"):
        export_record_sheet(bench, "TB-001", out=renamed)
    assert list(check_records(bench.workbook.store)) == []


def test_a_link_is_not_followed_nor_replaced(tmp_path, tags):
    target, link, loose = tmp_path / "mine.pdf", tmp_path / "link.pdf", tmp_path / "loose.pdf"
    write_whole(target, tags, PaperKind.TAGS)
    link.symlink_to(target)
    loose.symlink_to(tmp_path / "nowhere.pdf")
    for one in (link, loose):
        with pytest.raises(ExportProblem, match="is a link to"):
            write_whole(one, tags, PaperKind.TAGS)
        assert one.is_symlink()
    assert not (tmp_path / "nowhere.pdf").exists()


@pytest.mark.parametrize(
    "folder", [Path(benchapp.__file__).parent, shipped_folder("sequences"), shipped_folder("resources") / "limits"]
)
def test_no_paper_is_put_among_the_files_of_the_program(tmp_path, tags, folder):
    by_a_link = tmp_path / "folder"
    by_a_link.symlink_to(folder)
    for place in (folder, by_a_link):
        with pytest.raises(ExportProblem, match="is among the files of this program"):
            write_whole(place / "tags.pdf", tags, PaperKind.TAGS)
        assert not (folder / "tags.pdf").exists()


def test_a_file_that_comes_while_the_paper_is_written_stays(tmp_path, tags, monkeypatch):
    target, sync = tmp_path / "tags.pdf", os.fsync

    def meanwhile(handle):
        sync(handle)
        target.write_text("mine")

    monkeypatch.setattr(os, "fsync", meanwhile)
    with pytest.raises(ExportProblem, match="it was left as it is"):
        write_whole(target, tags, PaperKind.TAGS)
    assert target.read_text() == "mine"
    assert [file.name for file in tmp_path.iterdir()] == ["tags.pdf"]


def test_record_sheets_of_like_marks_do_not_overwrite_each_other(bench, clock, tmp_path):
    from benchapp.actions.entries.intake import take_in_lot

    marks = ("A 1", "A/1", "A_1", "a_1")
    take_in_lot(bench, name="Hall", equipment="tb-ls1", route="small-check", marks=marks, by="AB")
    done = export_record_sheets(bench, lot="Hall", folder=tmp_path)
    names = [file.name for file in done.files]
    assert names[1] == "A%2F1.pdf"
    assert len({name.casefold() for name in names}) == 4
    for mark, file in zip(marks, done.files, strict=True):
        assert PdfReader(file).metadata.title == f"Record of {mark}"
    assert [file.name for file in export_record_sheets(bench, lot="Hall", folder=tmp_path).files] == names


def test_one_foreign_file_among_many_stops_all_before_the_first_is_written(bench, lot, tmp_path):
    (tmp_path / "TB-003.pdf").write_text("mine")
    with pytest.raises(ExportProblem, match=r"TB-003\.pdf already"):
        export_record_sheets(bench, lot=lot, folder=tmp_path)
    assert [file.name for file in tmp_path.glob("*.pdf")] == ["TB-003.pdf"]


def test_what_is_open_for_looking_only_prints_no_tags_but_its_records(bench, lot, path, tmp_path):
    bench.close()
    with Bench.look_at(path) as looking:
        with pytest.raises(ForLookingOnly):
            export_tags(looking, lot=lot, out=tmp_path / "tags.pdf")
        assert not (tmp_path / "tags.pdf").exists()
        export_record_sheet(looking, "TB-001", out=tmp_path / "record.pdf")


@pytest.mark.parametrize("name", ["nowhere/tags.pdf", ""], ids=["no folder", "a folder"])
def test_a_place_that_takes_no_file_is_told(tmp_path, name):
    with pytest.raises(ExportProblem):
        write_whole(tmp_path / name, b"x", PaperKind.TAGS)


CHILD = """
import resource, signal, sys, os
from pathlib import Path
from benchapp.actions.papers.file_writing import write_whole
from benchapp.errors import BenchError
from benchapp.paper.content import PaperKind
import benchapp.paper.drawing.pictures, benchapp.files.shipped
import tempfile, random, hashlib
path = Path(sys.argv[1])
{trouble}
try:
    write_whole(path, b"x" * 100_000, PaperKind.TAGS)
    print("no complaint")
except BenchError as problem:
    print(problem.sentence)
"""
FULL = "signal.signal(signal.SIGXFSZ, signal.SIG_IGN); resource.setrlimit(resource.RLIMIT_FSIZE, (5000, 5000))"
READ_ONLY = "os.geteuid() or os.setuid(65534)"


@pytest.mark.parametrize(
    ("trouble", "mode", "sentence"),
    [
        (FULL, 0o755, "is full: tags.pdf was not written"),
        (READ_ONLY, 0o555, "is read-only. Choose another folder"),
        (READ_ONLY, 0o000, "is read-only. Choose another folder"),
    ],
    ids=["no room", "read-only folder", "closed folder"],
)
def test_a_disk_that_takes_nothing_is_told_and_no_half_file_is_left(tmp_path, trouble, mode, sentence):
    for folder in (tmp_path, *list(tmp_path.parents)[:3]):
        folder.chmod(0o755)
    tmp_path.chmod(mode)
    command = [sys.executable, "-c", CHILD.format(trouble=trouble), str(tmp_path / "tags.pdf")]
    child = subprocess.run(command, capture_output=True, text=True, check=False, env=os.environ | {"PYTHONPATH": "."})
    tmp_path.chmod(0o755)
    assert sentence in child.stdout, child.stderr
    assert list(tmp_path.iterdir()) == []
