"""The question that makes an instrument measure each function.

Headers as SCPI-1999, volume 2, MEASure subsystem (from memory; the forms are shared by bench multimeters of all makes).
Functions for which the instrument itself puts a voltage or a large current on the unit are not asked: whoever presses
that key has the unit in sight.
"""

from benchapp.judgement.meters.functions import Function
from benchapp.meters.problems import MeterProblem

_QUESTIONS = {
    Function.ac_voltage: "MEASure:VOLTage:AC?",
    Function.mains_voltage: "MEASure:VOLTage:AC?",
    Function.dc_voltage: "MEASure:VOLTage:DC?",
    Function.ac_current: "MEASure:CURRent:AC?",
    Function.dc_current: "MEASure:CURRent:DC?",
    Function.resistance: "MEASure:RESistance?",
    Function.continuity: "MEASure:RESistance?",
    Function.frequency: "MEASure:FREQuency?",
    Function.capacitance: "MEASure:CAPacitance?",
    Function.temperature: "MEASure:TEMPerature?",
    Function.power: "MEASure:POWer?",
}


def can_ask(function: Function) -> bool:
    """Whether this function may be asked of an instrument at all."""
    return function in _QUESTIONS


def question_for(function: Function) -> str:
    """The question to send; raises MeterProblem for functions that are taken by hand only."""
    if function not in _QUESTIONS:
        raise MeterProblem(
            f"{function.value.capitalize()} is not taken through the cable: the tester puts a voltage or a "
            "current on the unit, so its key is pressed by hand with the unit in sight. Type the reading."
        )
    return _QUESTIONS[function]
