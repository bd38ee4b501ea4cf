"""The pairs that a probe step touches."""

from benchapp.sequences.kinds.probe import voltage_pairs
from tests.sequences.bench import plan_of

MAINS_UNIT = plan_of().circuit
RECORDER = plan_of("recorder", "tb-rec1").circuit
SPEAKER = plan_of("loudspeaker", "tb-ls1").circuit


def test_voltage_is_read_once_for_each_winding_and_at_stated_outputs():
    assert voltage_pairs(MAINS_UNIT, "outlet") == (
        ("outlet.1", "outlet.2", "AC voltage"),
        ("outlet.2", "outlet.3", "AC voltage"),
    )
    assert voltage_pairs(RECORDER, "line") == (("line.3", "line.2", "AC voltage"), ("line.5", "line.2", "AC voltage"))
    assert voltage_pairs(SPEAKER, "input") == ()
