"""Other ways than the straight walk to the sale: what a row's hazard does to a unit after it, or beside it."""

from collections.abc import Callable
from dataclasses import replace

from tests.hazards.driver import Driver, Workplace
from tests.hazards.matching import says
from tests.hazards.outcome import Outcome
from tests.hazards.technician import Technician
from tests.hazards.units.bench import PINCHES, TOUCHED
from tests.hazards.units.unit import Feed

YEAR = 400 * 86400.0
"""seconds that a unit lies in the store: a year and a month"""
Way = Callable[[Technician, Driver, Workplace], Outcome]


def straight(technician: Technician, _driver: Driver, _workplace: Workplace) -> Outcome:
    """Walk it to the sale."""
    return technician.work()


def spares(technician: Technician, driver: Driver, _workplace: Workplace) -> Outcome:
    """What failed is to go for parts: with its plug on that must be refused, in words that say what to do with it."""
    outcome = technician.work()
    if outcome.left:
        return outcome
    refused = [driver.dispose(disposition) for disposition in ("spares or repair", "scrap")]
    told = [words for words in refused if says(words, "plug destroy") or says(words, "plug cut")]
    if len(told) == len(refused):
        return Outcome(caught="V", energy=technician.energy, where="spares, scrap", words=told[0])
    return Outcome(left=True, energy=technician.energy, where="spares, scrap", words=" / ".join(refused))


def opened_after_power(technician: Technician, driver: Driver, _workplace: Workplace) -> Outcome:
    """A fault shows under power or after it; the way back is gone, hands go in: the charge must be read before that."""
    outcome = technician.work(sell=False)
    if outcome.stuck or outcome.hurt:
        return by_its_charge(technician, outcome)
    driver.record_fault("It does not work.")
    outcome = technician.work()
    if (shown := charge_shown(technician))[0]:
        return Outcome(caught="D", energy=technician.energy, where=shown[0], words=shown[1])
    if (page := driver.page()).kind == "repair" and (charge := technician.handling.inside_pinches()):
        return Outcome(hurt=f"{charge}, at its repair", energy=technician.energy, where=page.address)
    return outcome


def charge_shown(technician: Technician) -> tuple[str, str]:
    """The page at which a meter showed charge, and what was told there; empty where none did."""
    for page, told, typed in technician.readings:
        if page.function == "DC voltage" and page.supply == "none" and abs(float(typed.split()[0])) > TOUCHED:
            return page.address, told
    return "", ""


def by_its_charge(technician: Technician, outcome: Outcome) -> Outcome:
    """Caught where a meter showed the charge and the page lets nobody on; else as it was."""
    shown = charge_shown(technician)
    if not shown[0] or outcome.hurt or outcome.left:
        return outcome
    return Outcome(caught="D", energy=technician.energy, where=shown[0], words=shown[1])


def charged_by_the_test(technician: Technician, _driver: Driver, _workplace: Workplace) -> Outcome:
    """The insulation test leaves its volts behind: a meter must show them before a hand does."""
    outcome = technician.work()
    if not outcome.hurt and (shown := charge_shown(technician))[0]:
        return Outcome(caught="D", energy=technician.energy, where=shown[0], words=shown[1])
    if outcome.left:
        return Outcome(caught="I", energy="500 V", where="leads left on", words="It ran down before a hand came near.")
    return outcome


def pulled_by_the_buyer(technician: Technician, _driver: Driver, _workplace: Workplace) -> Outcome:
    """Sold, switched off at the item and unplugged at the peak of the mains: its pins must be dead a second later."""
    outcome = by_its_charge(technician, technician.work())
    unit = technician.handling.unit
    unit.charges.drain()
    unit.switched["power"] = "on"
    unit.plug_in(Feed(volts=technician.handling.mains))
    unit.switched["power"] = "off"
    unit.plug_out()
    unit.pass_time(1.0)
    if outcome.left and abs(unit.dc_volts("plug.L", "plug.N")) <= PINCHES:
        return Outcome(stuck="the row is not in the unit: its pins are dead after a second")
    return outcome


def trips(technician: Technician, _driver: Driver, _workplace: Workplace) -> Outcome:
    """The RCD trips: no power again before a finding."""
    outcome = technician.work()
    if technician.handling.unit.fed_again:
        return replace(outcome, caught="", hurt="it was put on power again before a finding")
    return outcome


def stored_a_year(technician: Technician, driver: Driver, workplace: Workplace) -> Outcome:
    """All is well, then it lies in the store for a year before anybody sells it; meters are calibrated in between."""
    outcome = technician.work(sell=False)
    if not outcome.left:
        return outcome
    driver.pass_seconds(YEAR)
    workplace.open()
    return technician.sell()


WAYS: dict[str, Way] = {
    "": straight,
    "wet cleaning": straight,
    "spares": spares,
    "opened after power": opened_after_power,
    "charged by the test": charged_by_the_test,
    "plug pulled by the buyer": pulled_by_the_buyer,
    "trips": trips,
    "stored a year": stored_a_year,
}
