"""The wire of a meter, kept in the workshop's own record of it."""

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.meter_wires import keep_wire, with_wire
from benchapp.actions.workbench.problems import Refused
from tests.people import staffed

SOCKET = "TCPIP::192.168.7.21::5025::SOCKET"


@pytest.fixture
def bench(tmp_path):
    made = Bench.create(tmp_path / "shelf.workbook", workshop=staffed())
    yield made
    made.close()


def test_a_shipped_record_is_copied_beside_the_workbook_with_its_wire(bench, tmp_path):
    before = bench.catalogue.meters["tb-m1"]
    keep_wire(bench, "tb-m1", SOCKET, identity="Tarnbeck,Bench Meter Six,0007")
    after = bench.catalogue.meters["tb-m1"]
    assert (tmp_path / "meters" / "tb-m1.yaml").exists()
    assert after.wire.address.resource == SOCKET
    assert after.wire.identity == "Tarnbeck,Bench Meter Six,0007"
    assert after.model_copy(update={"wire": None}) == before
    assert bench.left_out == ()


def test_another_address_changes_that_line_alone(bench, tmp_path):
    keep_wire(bench, "tb-m1", SOCKET)
    path = tmp_path / "meters" / "tb-m1.yaml"
    path.write_text(path.read_text().replace("wire:", "wire:  # on the shelf"))
    bench.reread_files()
    keep_wire(bench, "tb-m1", "ASRL/dev/ttyUSB0::INSTR")
    assert "wire:  # on the shelf\n  address: ASRL/dev/ttyUSB0::INSTR" in path.read_text()


def test_a_meter_that_types_is_kept_with_its_dialect(bench):
    keep_wire(bench, "tb-m2", "keyboard")
    assert bench.catalogue.meters["tb-m2"].wire.dialect == "keyboard"


@pytest.mark.parametrize(("address", "words"), [("over there", "no address of a meter"), ("", "no address of a meter")])
def test_what_is_no_address_is_not_kept(bench, tmp_path, address, words):
    with pytest.raises(Refused, match=words):
        keep_wire(bench, "tb-m1", address)
    assert not (tmp_path / "meters").exists()


def test_a_wire_is_known_without_reading_all_files_and_anew_after_a_change(bench):
    assert bench.wire_of("tb-m1") is None
    keep_wire(bench, "tb-m1", SOCKET)
    assert bench.wire_of("tb-m1").address.port == 5025
    assert bench.wire_of("tb-m2") is None


def test_a_file_that_was_left_out_is_never_written_over(bench, tmp_path):
    (tmp_path / "meters").mkdir()
    path = tmp_path / "meters" / "tb-m1.yaml"
    path.write_text("meter: tb-m1\ntitle: half of a record\n")
    bench.reread_files()
    with pytest.raises(Refused, match="was left out of the workshop's files"):
        keep_wire(bench, "tb-m1", SOCKET)
    assert path.read_text() == "meter: tb-m1\ntitle: half of a record\n"
    assert bench.wire_of("tb-m1") is None


def test_a_meter_without_a_record_is_not_kept(bench):
    with pytest.raises(Refused, match="no record of a meter"):
        keep_wire(bench, "tb-x9", SOCKET)


def test_a_serial_meter_whose_line_is_described_keeps_its_description():
    text = "wire:\n  address: ASRL1::INSTR\n  dialect: lines\n  line: '{value} {unit}'  # as its handbook says\n"
    head = "meter: a\ntitle: A\nkind: hand meter\ncalibrated: 2026-01-01\ndue: 2027-01-01\nfunctions:\n"
    head += "  resistance:\n    ranges:\n      - {to: 60 ohm, resolution: 0.1 ohm, accuracy: 1 %}\n"
    assert with_wire(head + text, "ASRL2::INSTR") == (head + text).replace("ASRL1", "ASRL2")
