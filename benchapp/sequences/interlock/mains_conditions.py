"""The conditions of a live step about this place's mains: the voltage that a unit is made or set for, its frequency.

The rule is one (`judgement/limits/mains_fit.py`): 10 % over the plate, or over the selector's setting, reaches the top
of the legal range. What is a little beyond, and iron for 60 Hz on 50 Hz, is for a named supervisor to accept.
"""

from collections.abc import Iterator

from benchapp.judgement.limits.mains_fit import FrequencyFit, VoltageFit
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.entries import Accepted
from benchapp.sequences.planning.state import Condition
from benchapp.sequences.planning.terminals import circuit_now
from benchapp.wiring.assembly.selecting import frequency_doubt, selected, supply_fit, volts_of_position
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.words import say

SETTING, FREQUENCY = "setting", "frequency"
OWN_TRANSFORMER = "leave it unplugged: a specialist gives it a transformer of its own, or it goes for spares"
ACCEPT = "A named supervisor accepts it for this unit, to run it watched and cool, or it stays unplugged"
SET_IT = "set it, then answer the selector's question again"


def mains_rows(evaluation: StepEvaluation) -> Iterator[Condition]:
    """The rows on voltage and frequency; a unit that takes no mains has none."""
    circuit = circuit_now(evaluation.plan, evaluation.facts)
    if circuit.supply is None:
        return
    yield _setting(evaluation, circuit)
    yield _frequency(evaluation, circuit)


def _setting(evaluation: StepEvaluation, circuit: Circuit) -> Condition:
    words = "it is made, and set, for this place's mains"
    position = selected(circuit, State())
    ask = next((step.address for step in evaluation.plan.showing(Role.selector)), None) if position else None
    if position and volts_of_position(position) is None and position != selected(evaluation.plan.circuit, State()):
        why = say(
            "nobody knows for which mains its selector's position “{position}” is: its equipment file names no volts",
            position=position,
        )
        return Condition(id=SETTING, words=words, holds=False, go_to=ask, why=why)
    found = supply_fit(circuit, State(), evaluation.plan.profile)
    accepted = found.fit is VoltageFit.to_accept and Accepted.lower_rating.value in evaluation.ledger.acceptances
    if found.fit.opens or accepted:
        return Condition(id=SETTING, words=words, holds=True)
    way_on = SET_IT if position else ACCEPT if found.fit is VoltageFit.to_accept else OWN_TRANSFORMER
    accepts = Accepted.lower_rating.value if found.fit is VoltageFit.to_accept else ""
    why = say("{sentence} Way on: {way_on}", sentence=found.sentence, way_on=way_on)
    return Condition(id=SETTING, words=words, holds=False, go_to=ask, why=why, accepts=accepts)


def _frequency(evaluation: StepEvaluation, circuit: Circuit) -> Condition:
    fit, doubt = frequency_doubt(circuit, evaluation.plan.profile.mains)
    words = "its iron and motors are for this place's frequency"
    accepted = Accepted.frequency.value in evaluation.ledger.acceptances
    # 50 Hz on 60 Hz is said and shuts nothing. At the same volts iron carries a sixth less flux (calculated: flux goes
    # with volts over frequency), so a transformer runs cooler. A motor runs a fifth fast, and a fan or pump on it takes
    # up to 1.2 cubed, 1.7 times the power (affinity laws, textbook, from memory; hazard row S10, from memory): that
    # shows as current at first power, which is judged. A wrong speed of a tape or record is a fault of function alone.
    holds = accepted or fit is not FrequencyFit.too_low
    if holds:
        return Condition(id=FREQUENCY, words=words, holds=True)
    why, accepts = f"{doubt} {ACCEPT}", Accepted.frequency.value
    return Condition(id=FREQUENCY, words=words, holds=False, why=why, accepts=accepts)
