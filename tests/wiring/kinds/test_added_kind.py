"""A kind of part that is added as one file, as DEVELOPERS.md says, is there wherever parts are."""

import importlib
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from benchapp.cli.command import main
from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model, json_schema
from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.quantities.dimensions import Kind
from benchapp.sequences.language.repairs import Fits, UsualRepairs, Work
from benchapp.wiring import kinds
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.faults.fault_modes import fault_modes_of, with_fault_modes
from benchapp.wiring.faults.weights import FaultWeights, weigh
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.registry import KindProblem, part_kinds, part_models
from benchapp.wiring.network.solve import Corner, dead_network
from benchapp.wiring.probing.probes import probe_plan
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.observations import Observation

THERMISTOR = '''\
"""A resistor whose resistance falls as it warms."""

from collections.abc import Iterator, Mapping

from benchapp.files.locations import Key
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import TolerancedResistance


class ThermistorPart(TwoEnded):
    """A thermistor."""

    kind = PartKind(name="thermistor", fault_modes=(Mode.open, Mode.shorted))
    thermistor: str
    """the part's own id"""
    cold: TolerancedResistance
    """what it has at room temperature: 120 ohm ± 20 %"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One, of what it has while it is cold."""
        return (self.branch(self.cold),)

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
        """One that would not hold the current back."""
        if self.cold.nominal < 1.0:
            yield Problem(key=(*key, "cold"), what=f"the thermistor '{self.id}' has next to nothing while it is cold")
'''
HEATER = """\
equipment: heater
title: A heater that starts gently
class: none
connectors: {in: four}
circuit:
  - {link: way-in, between: [in.1, a]}
  - {thermistor: soft-start, between: [a, b], cold: COLD}
  - {resistor: element, between: [b, in.2], resistance: 60 ohm ± 5 %}
"""
MODELS = (Equipment, FaultWeights, Fits, Work, UsualRepairs)


def anew() -> None:
    """Look for the kinds once more, as a program does that is started with another file in the room."""
    part_models.cache_clear()
    for model in MODELS:
        model.model_rebuild(force=True)


@pytest.fixture
def room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder that the room of kinds reaches into; afterwards the program knows its own kinds alone."""
    with monkeypatch.context() as here:
        here.setattr(kinds, "__path__", [*kinds.__path__, str(tmp_path)])
        importlib.invalidate_caches()
        yield tmp_path
    sys.modules.pop("benchapp.wiring.kinds.thermistor", None)
    anew()


@pytest.fixture
def thermistor(room: Path) -> None:
    (room / "thermistor.py").write_text(THERMISTOR, encoding="utf-8")
    anew()


@pytest.fixture
def heater(thermistor: None, connectors: Mapping[str, Connector]) -> Circuit:
    return compiled("120 ohm ± 20 %", connectors)


def compiled(cold: str, connectors: Mapping[str, Connector]) -> Circuit:
    return compile_circuit(
        build_model(parse_document(HEATER.replace("COLD", cold), "heater.yaml"), Equipment), connectors
    )


def starting_weights(row: str) -> FaultWeights:
    text = (shipped_folder("resources") / "faults" / "starting-weights.yaml").read_text(encoding="utf-8")
    return build_model(parse_document(text.replace("parts:\n", f"parts:\n{row}", 1), "weights.yaml"), FaultWeights)


def test_the_schema_of_equipment_offers_it(thermistor: None, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--schema", "equipment"]) == 0
    assert "what it has at room temperature" in capsys.readouterr().out
    part = json_schema(Equipment)["properties"]["circuit"]["items"]
    assert {"$ref": "#/$defs/ThermistorPart"} in part["oneOf"]


def test_repairs_may_be_for_it(thermistor: None) -> None:
    assert Fits(parts=("thermistor",)).parts == ("thermistor",)


def test_it_is_compiled_into_its_branches(heater: Circuit) -> None:
    branch = next(branch for branch in heater.branches if branch.part == "soft-start")
    assert (branch.a, branch.b, branch.kind.name) == ("a", "b", "thermistor")
    assert branch.resistance is not None
    assert branch.resistance.low == pytest.approx(96.0)
    assert heater.part_names["soft-start"] == "the thermistor soft-start"


def test_its_own_checks_are_heard(thermistor: None, connectors: Mapping[str, Connector]) -> None:
    with pytest.raises(WiringProblem, match="'soft-start' has next to nothing while it is cold") as found:
        compiled("0.2 ohm", connectors)
    assert [problem.key for problem in found.value.problems] == [("circuit", 1, "cold")]


def test_it_fails_as_it_says_and_as_often_as_the_weights_say(heater: Circuit) -> None:
    modes = {one.mode for one in fault_modes_of(heater, {}) if one.part == "soft-start"}
    assert modes == {Mode.open, Mode.shorted}
    weighted = weigh(heater, starting_weights("  thermistor: {open: 9, shorted: 1}\n"))
    chances = {one.mode: chance for one, chance in zip(weighted.fault_modes, weighted.chances, strict=True)
               if one.part == "soft-start"}  # fmt: skip
    assert chances[Mode.open] == pytest.approx(9 * chances[Mode.shorted])


def test_weights_that_leave_it_out_are_refused(thermistor: None) -> None:
    with pytest.raises(FileProblems, match="a thermistor may be shorted, and no weight says how often"):
        starting_weights("  thermistor: {open: 9}\n")


def test_the_plan_of_probes_shows_it(heater: Circuit) -> None:
    assert any("the thermistor soft-start" in probe.why for probe in probe_plan(heater, "in"))


@pytest.mark.parametrize("mode", [Mode.open, Mode.shorted])
def test_the_search_finds_it_broken(heater: Circuit, mode: Mode) -> None:
    fault = next(one for one in fault_modes_of(heater, {}) if one.part == "soft-start" and one.mode is mode)
    broken = dead_network(with_fault_modes(heater, (fault,)), State(), Corner.nominal)
    diagnoser = Diagnoser(heater, starting_weights("  thermistor: {open: 9, shorted: 1}\n"))
    observations: list[Observation] = []
    for _ in range(8):
        diagnosis = diagnoser.diagnosis(observations)
        probe = diagnosis.next_probe
        if probe is None:
            break
        ohms = broken.resistance(probe.a, probe.b)
        value = None if ohms > 1e7 else ohms + 0.2
        observations.append(Observation(a=probe.a, b=probe.b, kind=Kind.resistance, value=value))
    assert "soft-start" in (*diagnosis.found, *diagnosis.ambiguity_group), diagnosis.sentence


@pytest.mark.parametrize(
    ("left_out", "lacks"),
    [
        (", fault_modes=(Mode.open, Mode.shorted)", "its faults"),
        ('    thermistor: str\n    """the part\'s own id"""\n', "the field `thermistor`"),
        (THERMISTOR[THERMISTOR.index("    def branches") : THERMISTOR.index("    def complaints")], "its `branches`"),
        (THERMISTOR[THERMISTOR.index("    def complaints") :], "its checks"),
        ('    kind = PartKind(name="thermistor", fault_modes=(Mode.open, Mode.shorted))\n', "its `kind`"),
    ],
)
def test_a_kind_that_is_not_whole_does_not_import(room: Path, left_out: str, lacks: str) -> None:
    assert left_out in THERMISTOR
    (room / "thermistor.py").write_text(THERMISTOR.replace(left_out, ""), encoding="utf-8")
    with pytest.raises(KindProblem, match=r"The part kind ThermistorPart in thermistor\.py cannot be used") as found:
        anew()
    assert lacks in str(found.value)


def test_the_kinds_that_are_shipped_are_found_in_their_room() -> None:
    files = {path.stem for path in Path(kinds.__file__).parent.glob("*.py")} - {"__init__"}
    assert set(part_kinds()) == files
    assert list(part_kinds()) == [
        "link",
        "resistor",
        "winding",
        "fuse",
        "switch",
        "diode",
        "capacitor",
        "earth",
        "barrier",
    ]
