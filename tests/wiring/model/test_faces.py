"""One description of a connector's face, true to the standard that its file names."""

import math
import subprocess
import sys
from collections.abc import Mapping

import pytest

from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.faces import face


def test_din_pins_lie_on_their_circle_in_the_order_of_the_standard(connectors: Mapping[str, Connector]) -> None:
    # 7.0 mm circle, 45° spacing, outlet left to right 3 5 2 4 1: DIN 41524 / IEC 60130-9; confirmed (museum page)
    pins = face(connectors["din-5-180"]).pins
    assert all(math.hypot(pin.x, pin.y) == pytest.approx(3.5, abs=0.001) for pin in pins)
    by_x = sorted(pins, key=lambda pin: pin.x)
    assert [pin.name for pin in by_x] == ["3", "5", "2", "4", "1"]
    angles = [math.degrees(math.atan2(pin.y, pin.x)) for pin in reversed(by_x)]
    assert angles == pytest.approx([0, 45, 90, 135, 180], abs=0.01)


def test_the_plug_has_its_pins_at_the_standard_centres(connectors: Mapping[str, Connector]) -> None:
    # L and N 22.2 mm apart, E 22.2 mm above their line: BS 1363-1; confirmed (encyclopedia copy)
    pins = {pin.name: pin for pin in face(connectors["gb-13a-plug"]).pins}
    assert pins["N"].x - pins["L"].x == pytest.approx(22.2)
    assert pins["E"].y - pins["L"].y == pytest.approx(22.2)


def test_from_behind_the_face_is_mirrored(connectors: Mapping[str, Connector]) -> None:
    front, back = face(connectors["din-5-180"]), face(connectors["din-5-180"], from_behind=True)
    assert [(-pin.x, pin.y) for pin in front.pins] == [(pin.x, pin.y) for pin in back.pins]
    assert (front.view, back.view) == ("from the mating side", "from the solder side")


def test_lead_connector_and_inlet_mate(connectors: Mapping[str, Connector]) -> None:
    inlet = {pin.name: pin for pin in face(connectors["iec-c14-inlet"]).pins}
    lead = {pin.name: pin for pin in face(connectors["iec-c13-connector"]).pins}
    assert all((lead[name].x, lead[name].y) == (-inlet[name].x, inlet[name].y) for name in inlet)


def test_every_shape_and_pin_lies_inside_the_stated_size(connectors: Mapping[str, Connector]) -> None:
    for connector in connectors.values():
        drawn = face(connector)
        for pin in drawn.pins:
            assert abs(pin.x) + pin.width / 2 <= drawn.width / 2 + 1e-9
            assert abs(pin.y) + pin.height / 2 <= drawn.height / 2 + 1e-9


def test_importing_wiring_loads_nothing_heavy() -> None:
    code = "import sys, benchapp.wiring; print([m for m in ('numpy', 'pydantic', 'yaml', 'pint') if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def test_the_types_of_wiring_load_nothing_heavy() -> None:
    code = "import sys, benchapp.wiring.model.circuit, benchapp.wiring.model.faces; "
    code += "print([m for m in ('numpy', 'pydantic', 'yaml', 'pint') if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"
