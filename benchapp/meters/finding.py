"""Which meters answer on this computer's USB and serial ports; sockets are named by whoever set them up."""

import warnings
from dataclasses import dataclass

from benchapp.files.locations import Mistake
from benchapp.judgement.meters.wire import read_address
from benchapp.meters.links import pyvisa_or_problem
from benchapp.meters.problems import MissingPackage
from benchapp.words import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Addresses that something is at, and what to say of the search; empty where it went well."""

    addresses: tuple[str, ...] = ()
    remark: str = ""


def find_meters() -> Found:
    """What hangs on USB and serial ports; takes some seconds. Nothing is sent to any of it."""
    try:
        visa = pyvisa_or_problem()
    except MissingPackage as missing:
        return Found(remark=missing.sentence)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of networks that are not looked through here
            names = visa.ResourceManager("@py").list_resources("?*")
    except Exception as error:  # the back ends raise classes of their own
        return Found(
            remark=say(
                "The ports could not be looked through ({splitlines}).", splitlines=str(error).splitlines()[0][:120]
            )
        )
    known = tuple(name for name in names if _is_of_a_port(name))
    remark = "" if known else say("Nothing hangs on a USB or serial port. Check the cable, and that the meter is on.")
    return Found(addresses=known, remark=remark)


def _is_of_a_port(name: str) -> bool:
    try:
        return read_address(name).kind in ("USB", "serial")
    except Mistake:
        return False
