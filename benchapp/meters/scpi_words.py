"""The words of SCPI-1999 by which a meter is set to a function, and by which it says to which it is set.

CONFigure sets the function once; the query READ then takes one reading after the other as it stands, so that nulled
leads and a range set by hand stay. The query MEASure would set all of it anew each time (SCPI-1999, volume 2,
MEASurement instructions; from memory).
"""

import re

from benchapp.judgement.meters.functions import Function

CONFIGURE = {
    Function.ac_voltage: "CONFigure:VOLTage:AC",
    Function.mains_voltage: "CONFigure:VOLTage:AC",
    Function.dc_voltage: "CONFigure:VOLTage:DC",
    Function.ac_current: "CONFigure:CURRent:AC",
    Function.dc_current: "CONFigure:CURRent:DC",
    Function.resistance: "CONFigure:RESistance",
    Function.continuity: "CONFigure:RESistance",
    Function.frequency: "CONFigure:FREQuency",
    Function.capacitance: "CONFigure:CAPacitance",
    Function.temperature: "CONFigure:TEMPerature",
    Function.power: "CONFigure:POWer",
}
_SHOWS = {
    Function.ac_voltage: ("VOLT:AC",),
    Function.mains_voltage: ("VOLT:AC",),
    Function.dc_voltage: ("VOLT", "VOLT:DC"),
    Function.ac_current: ("CURR:AC",),
    Function.dc_current: ("CURR", "CURR:DC"),
    Function.resistance: ("RES", "FRES"),
    Function.continuity: ("RES", "FRES", "CONT"),
    Function.frequency: ("FREQ",),
    Function.capacitance: ("CAP",),
    Function.temperature: ("TEMP", "TEMP:RTD", "TEMP:TC", "TEMP:THER"),
    Function.power: ("POW", "POW:AC"),
}
_SAID = {word: function for function, words in reversed(_SHOWS.items()) for word in words}
_SHORT = {
    "VOLTAGE": "VOLT",
    "CURRENT": "CURR",
    "RESISTANCE": "RES",
    "FRESISTANCE": "FRES",
    "FREQUENCY": "FREQ",
    "CAPACITANCE": "CAP",
    "TEMPERATURE": "TEMP",
    "CONTINUITY": "CONT",
    "POWER": "POW",
}


def short_name(answer: str) -> str:
    """The function in an answer to SENSe:FUNCtion? in short form: `"VOLTage:AC"` and `VOLT:AC 10,0.001` as VOLT:AC."""
    first = re.split(r"[ ,\"']+", answer.strip().strip("\"'"), maxsplit=1)[0].upper()
    nodes = [_SHORT.get(node, node) for node in first.split(":")]
    return ":".join(node for node in nodes if node not in ("SENS", "SENSE", "1", "SENS1", "SENSE1"))


def is_set_to(answer: str, function: Function) -> bool:
    """Whether the answer says that the meter is set to the function."""
    return short_name(answer) in _SHOWS.get(function, ())


def words_for(answer: str) -> str:
    """The function in an answer in the bench's own words; the answer itself where it is none of ours."""
    found = _SAID.get(short_name(answer))
    return found.value if found is not None else f"“{short_name(answer)[:20]}”"
