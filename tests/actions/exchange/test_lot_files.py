"""Lists of units in files: real CSV, XLSX and ODS, read without taking anything in; complaints line by line."""

from zipfile import ZipFile

import pytest

from benchapp.actions.entries.intake import take_in_units
from benchapp.actions.exchange.lot_files import try_lot_file
from benchapp.actions.papers.printing import export_record_sheet
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import IntakeProblem
from tests.desktop.windows import Clock
from tests.people import staffed

HEAD = ["shelf mark", "design", "route", "serial number", "given by", "media left inside", "what became of them"]
ROWS = [
    ["TB-001", "tb-mu1", "mains-unit", "1234", "the old school", "", ""],
    ["TB-002", "tb-ls1", "", "77 A", "the old school", "", ""],
    ["TB-003", "not known yet", "", "", "", "one tape", "returned"],
]
_SHEET = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_OASIS = "urn:oasis:names:tc:opendocument:xmlns"


def write_csv(path, rows, separator=","):
    path.write_text("\n".join(separator.join(row) for row in rows) + "\n", encoding="utf-8")
    return path


def write_xlsx(path, rows):
    """The least that ECMA-376 asks for; whole numbers are number cells, as an office program writes them."""

    def cell(text):
        return f"<c><v>{text}</v></c>" if text.isdecimal() else f'<c t="inlineStr"><is><t>{text}</t></is></c>'

    lines = "".join(f"<row>{''.join(map(cell, row))}</row>" for row in rows)
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    with ZipFile(path, "w") as packed:
        packed.writestr(
            "[Content_Types].xml",
            f'<Types xmlns="{_PACKAGE}/content-types">'
            '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            f'<Override PartName="/xl/workbook.xml" ContentType="{kind}.sheet.main+xml"/>'
            f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{kind}.worksheet+xml"/></Types>',
        )
        packed.writestr(
            "_rels/.rels",
            f'<Relationships xmlns="{_PACKAGE}/relationships">'
            f'<Relationship Id="r1" Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        )
        packed.writestr(
            "xl/workbook.xml",
            f'<workbook xmlns="{_SHEET}" xmlns:r="{_OFFICE}">'
            '<sheets><sheet name="Units" sheetId="1" r:id="r1"/></sheets></workbook>',
        )
        packed.writestr(
            "xl/_rels/workbook.xml.rels",
            f'<Relationships xmlns="{_PACKAGE}/relationships">'
            f'<Relationship Id="r1" Type="{_OFFICE}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
        )
        packed.writestr(
            "xl/worksheets/sheet1.xml", f'<worksheet xmlns="{_SHEET}"><sheetData>{lines}</sheetData></worksheet>'
        )
    return path


def write_ods(path, rows):
    """The least that ISO/IEC 26300 asks for."""

    def cell(text):
        return f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>'

    lines = "".join(f"<table:table-row>{''.join(map(cell, row))}</table:table-row>" for row in rows)
    with ZipFile(path, "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        packed.writestr("META-INF/manifest.xml", f'<m:manifest xmlns:m="{_OASIS}:manifest:1.0"/>')
        packed.writestr(
            "content.xml",
            f'<office:document-content xmlns:office="{_OASIS}:office:1.0" xmlns:table="{_OASIS}:table:1.0" '
            f'xmlns:text="{_OASIS}:text:1.0"><office:body><office:spreadsheet><table:table table:name="Units">'
            f"{lines}</table:table></office:spreadsheet></office:body></office:document-content>",
        )
    return path


@pytest.fixture
def bench(tmp_path):
    made = Bench.create(tmp_path / "tarnbeck.workbook", clock=Clock(), workshop=staffed())
    yield made
    made.close()


@pytest.mark.parametrize(
    ("write", "name"),
    [(write_csv, "van.csv"), (write_xlsx, "van.xlsx"), (write_ods, "van.ods")],
    ids=["csv", "xlsx", "ods"],
)
def test_a_mixed_lot_comes_in_from_each_kind_of_file(bench, tmp_path, write, name):
    found = try_lot_file(bench, write(tmp_path / name, [HEAD, *ROWS]))
    assert (found.head, found.wrong) == ((), ())
    assert bench.lots() == ()
    take_in_units(bench, name="From the van", units=found.units, by="AB")
    runs = {mark: bench.history(mark).run for mark in ("TB-001", "TB-002", "TB-003")}
    assert [run.equipment for run in runs.values()] == ["tb-mu1", "tb-ls1", "unknown-mains-item"]
    assert {unit.disposition for unit in bench.units("From the van")} == {"quarantine"}
    assert [lot.title for lot in bench.lots()] == ["several designs"]
    beginning = bench.workbook.entries("TB-001", after=-1)[0].content
    assert dict(beginning.known) == {"serial number": "1234", "given by": "the old school"}


def test_what_is_known_of_a_unit_stands_on_its_record_sheet(bench, tmp_path):
    from pypdf import PdfReader

    found = try_lot_file(bench, write_csv(tmp_path / "van.csv", [HEAD, *ROWS]))
    take_in_units(bench, name="From the van", units=found.units, by="AB")
    export_record_sheet(bench, "TB-003", out=tmp_path / "record.pdf")
    text = " ".join(PdfReader(tmp_path / "record.pdf").pages[0].extract_text().split())
    assert "Media left inside one tape" in text
    assert "What became of them returned" in text


@pytest.mark.parametrize("separator", [";", "\t"], ids=["semicolons", "tabs"])
def test_other_separators_of_office_programs_are_found(bench, tmp_path, separator):
    found = try_lot_file(bench, write_csv(tmp_path / "van.csv", [HEAD, *ROWS], separator))
    assert len(found.units) == 3


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        (["", "tb-ls1"], "It has no shelf mark. Give it one."),
        (["TB-001", "tb-ls1"], "The mark TB-001 stands on line 2 too. Give one of them another."),
        (["TB-900", "tb-ls1"], "There is a unit TB-900 in the workbook already. Give this one another mark."),
        (["TB-009", "tb-ls2"], "There is no design “tb-ls2”. Did you mean tb-ls1?"),
        (["TB-009", "tb-ls1", "mains-unit"], "“mains-unit” does not check tb-ls1. Its routes are: loudspeaker."),
        (
            ["TB-009", "tb-ls1", "", "", "", "one tape"],
            "Media were left inside: say whether they were recorded, returned or wiped.",
        ),
        (
            ["TB-009", "tb-ls1", "", "", "", "one tape", "kept"],
            "What became of the media is one of: recorded, returned, wiped.",
        ),
    ],
    ids=["no mark", "twice", "taken", "no design", "no route", "media", "what became"],
)
def test_each_wrong_line_says_why(bench, tmp_path, row, sentence):
    first = try_lot_file(bench, write_csv(tmp_path / "one.csv", [HEAD[:2], ["TB-900", "tb-ls1"]]))
    take_in_units(bench, name="Before", units=first.units, by="AB")
    found = try_lot_file(bench, write_csv(tmp_path / "van.csv", [HEAD, ROWS[0], row]))
    assert [(one.line, one.why) for one in found.wrong] == [(3, (sentence,))]
    assert [unit.mark for unit in found.units] == ["TB-001"]


def test_a_head_that_is_no_head_is_said_with_the_nearest_name(bench, tmp_path):
    found = try_lot_file(bench, write_csv(tmp_path / "van.csv", [["shelf mark", "designs"], ["TB-001", "tb-ls1"]]))
    assert found.head == (
        "No column is called “designs”. Did you mean design?",
        "The first line has no column “design”. Add it.",
    )


@pytest.mark.parametrize("name", ["van.xlsx", "van.ods"])
def test_a_file_that_is_no_spreadsheet_is_refused_in_a_sentence(bench, tmp_path, name):
    (tmp_path / name).write_bytes(b"no spreadsheet at all")
    with pytest.raises(IntakeProblem) as refused:
        try_lot_file(bench, tmp_path / name)
    assert refused.value.sentence == f"{name} is no spreadsheet that can be read. Save it again, or save it as CSV."


def test_a_spreadsheet_that_unpacks_without_end_is_not_unpacked(bench, tmp_path):
    from zipfile import ZIP_DEFLATED

    with ZipFile(tmp_path / "bomb.xlsx", "w", ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", b" " * 101_000_000)
    with pytest.raises(IntakeProblem, match="far larger than a list of units"):
        try_lot_file(bench, tmp_path / "bomb.xlsx")


def test_a_missing_file_is_said(bench, tmp_path):
    with pytest.raises(IntakeProblem, match="cannot be read"):
        try_lot_file(bench, tmp_path / "none.csv")
