"""Records of meters on a wire, made for tests."""

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.judgement.meters.records import MeterRecord

HEAD = """
meter: tb-b6
title: Bench meter, six digits
kind: bench meter
category: [CAT II 300 V]
calibrated: 2026-04-14
due: 2027-04-14
input impedance: 10 Mohm
functions:
  AC voltage:
    ranges:
      - {to: 6 V, resolution: 0.001 V, accuracy: {45 Hz to 500 Hz: 0.3 % + 3 counts}}
      - {to: 60 V, resolution: 0.01 V, accuracy: {45 Hz to 500 Hz: 0.3 % + 3 counts}}
      - {to: 600 V, resolution: 0.1 V, accuracy: {45 Hz to 500 Hz: 0.3 % + 3 counts}}
  DC voltage:
    ranges:
      - {to: 60 V, resolution: 0.01 V, accuracy: 0.1 % + 2 counts}
  resistance:
    ranges:
      - {to: 60 ohm, resolution: 0.01 ohm, accuracy: 0.2 % + 3 counts}
      - {to: 60 kohm, resolution: 10 ohm, accuracy: 0.2 % + 3 counts}
  continuity:
    ranges:
      - {to: 600 ohm, resolution: 0.1 ohm, accuracy: 0.5 % + 3 counts}
"""


def record(wire: str = "") -> MeterRecord:
    """A bench meter with that block of lines as its wire."""
    lines = "".join(f"  {line.strip()}\n" for line in wire.strip().splitlines())
    return build_model(parse_document(HEAD + (f"wire:\n{lines}" if lines else ""), "meter.yaml"), MeterRecord)


def on_socket(port: int, more: str = "") -> MeterRecord:
    """The same, on a loopback port."""
    return record(f"address: TCPIP::127.0.0.1::{port}::SOCKET\n{more}")
