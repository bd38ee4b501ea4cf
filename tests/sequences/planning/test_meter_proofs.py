"""What may be said of a meter that sent its readings at the opening: a person took them, a known source was on."""

import math

import pytest

from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.sequences.planning.contents import content_json, read_content
from benchapp.sequences.planning.meter_proofs import refuse_proof

BY_WIRE = {"lead_resistance": 0.12, "leads_source": ReadingSource.wire, "leads_sent": "+1.2E-01"}
KNOWN = {"known_reading": 9.02, "known_sent": "+9.02E+00"}


def proof(**said):
    return MeterProof(**{"meter": "tb-m1", "proved": True, **said})


@pytest.mark.parametrize(
    "said", [{}, {"lead_resistance": 0.1}, BY_WIRE, KNOWN, BY_WIRE | KNOWN, KNOWN | {"known_reading": -9.02}]
)
def test_what_a_person_took_is_accepted(said):
    assert refuse_proof(proof(**said)) is None


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (BY_WIRE | {"leads_source": ReadingSource.steady}, "are read by a person"),
        (BY_WIRE | {"leads_source": ReadingSource.transcribed}, "are read by a person"),
        (BY_WIRE | {"leads_sent": ""}, "are read by a person"),
        ({"lead_resistance": 0.1, "leads_sent": "+1.2E-01"}, "are read by a person"),
        (KNOWN | {"known_reading": 0.02}, "no known source"),
        (KNOWN | {"known_reading": math.nan}, "no known source"),
        (KNOWN | {"known_reading": math.inf}, "no known source"),
        (KNOWN | {"known_sent": ""}, "no known source"),
        (KNOWN | {"proved": False}, "no known source"),
        ({"known_sent": "+9.02E+00"}, "no known source"),
    ],
)
def test_what_nobody_took_or_nothing_gave_is_refused(said, words):
    assert words in refuse_proof(proof(**said))


def test_an_opening_keeps_what_was_sent_and_one_of_before_reads_as_typed():
    kept = {"meters": [{"meter": "tb-m1", "proved": True, "lead_resistance": 0.12}], "rcd_button_tested": True}
    (before,) = read_content("opening", kept).meters
    assert (before.leads_source, before.leads_sent, before.known_reading) == (ReadingSource.keys, "", None)
    now = read_content("opening", kept | {"meters": [kept["meters"][0] | BY_WIRE | KNOWN]})
    assert read_content("opening", content_json(now)) == now
