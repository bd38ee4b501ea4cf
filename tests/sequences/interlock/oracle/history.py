"""What was told of a unit before one more thing is: facts, answers that count, and what made them old."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from tests.sequences.interlock.oracle.files import Step, alike
from tests.sequences.interlock.oracle.typed import BAD, GOOD, Told, quantity, through_leads_over, worth

DAY_AT_THE_BENCH = 14 * 3600
"""seconds for which what was done in the morning is of the same day"""
YES_IS_STRICTER = ("bare metal", "live chassis", "voltage selector", "internal fuse", "plug fuse", "mains fed")
NO_IS_STRICTER = ("surge suppressor", "heating")
DISTURBED = ("repair", "opened", "event", "hazard", "plug-kept")
LATELY, LEFT = "under power lately", "left, may be live"
"""what befell a unit of which power is left, and which ages nothing"""
TO_VOLTS = "leads off every pin, then the meter to volts"
NOT_VOLTS = ("resistance", "continuity", "earth continuity", "insulation", "capacitance", "temperature")
"""functions at which leads are on and the meter stands on no volts"""
OPENING_AGES = frozenset({"visual", "polarity", "earth continuity", "insulation"})
PLUG_AGES = frozenset({"plug", "internal fuse"})


def seconds(earlier: str, later: str) -> float:
    """From one time to another; negative when the clock was set back."""
    return (datetime.fromisoformat(later) - datetime.fromisoformat(earlier)).total_seconds()


def is_same_day(earlier: str, later: str) -> bool:
    """Whether both lie in one day at the bench; a clock set back proves nothing."""
    return bool(earlier) and 0 <= seconds(earlier, later) <= DAY_AT_THE_BENCH


def befell(told: Told) -> str:
    """What befell the unit so that its tests are old; empty for nothing, or for power alone."""
    said = happened(told)
    return "" if said in (LATELY, LEFT) else said


def disturbs(told: Told) -> bool:
    """Whether the unit was in other hands, or befell what makes tests old."""
    return (told.kind in DISTURBED and told.kind != "event") or bool(befell(told))


def happened(told: Told) -> str:
    """What happened to the unit by what was told, be it recorded by itself or given as an answer; empty for nothing."""
    if told.kind == "event":
        return str(told.said["event"])
    step = told.step if told.kind == "answer" else None
    for option in step.written.get("answers", ()) if step is not None else ():
        if "event" in option and alike(option["answer"], str(told.said.get("answer", "")).strip()):
            return str(option["event"])
    return ""


class History:
    """All that was told of one unit before `now`, looked at under the files of now."""

    def __init__(self, told: Sequence[Told], now: Told) -> None:
        self.now, self.files = now, now.files
        self.before = [one for one in told if one.number < now.number]
        self.withdrawn = {one.said["number"] for one in self.before if one.kind == "withdrawal"}
        self.false_alarms = {one.said["hazard"] for one in self.before if one.kind == "false-alarm"}
        self._facts: dict[int, dict[str, object]] = {}
        self._worth: dict[int, str] = {}

    def last(self, *kinds: str) -> int:
        """The number of the last that is of one of these kinds; 0 when there is none."""
        return max(
            (
                one.number
                for one in self.before
                if one.kind in {*kinds} - {"event"} or ("event" in kinds and befell(one))
            ),
            default=0,
        )

    def last_disturbance(self) -> int:
        """The same of what disturbed it, but for what was a false alarm."""
        told = (one for one in self.before if disturbs(one))
        return max((one.number for one in told if one.number not in self.false_alarms), default=0)

    def answers(self, address: str) -> list[Told]:
        """All that was answered at that address, withdrawn or not."""
        return [one for one in self.before if one.kind == "answer" and one.address == address]

    def answer(self, address: str) -> Told | None:
        """The last of them."""
        given = self.answers(address)
        return given[-1] if given else None

    # Facts ---------------------------------------------------------------------------------------------------------

    def facts(self, until: int = 0) -> dict[str, object]:
        """What the unit is taken to be: said of it may be what asks for more care, never what asks for less."""
        if until not in self._facts:
            self._facts[until] = self._facts_until(until or self.now.number)
        return self._facts[until]

    def _facts_until(self, number: int) -> dict[str, object]:
        known, moulded = dict(self.files.facts), set[str]()
        for told in self.before:
            if told.number >= number or told.number in self.withdrawn:
                continue
            for name, said in self._said(told):
                if name == "plug":
                    moulded = {*moulded, told.who} if said == "moulded" else set()
                known[name] = self._stricter(name, said)
        if self.files.facts["plug"] == "rewirable" and len(moulded) == 1:
            known["plug"] = "rewirable"
        return known

    @staticmethod
    def _said(told: Told) -> Iterator[tuple[str, object]]:
        if told.kind == "fact":
            yield from told.said["facts"].items()
        step = told.step if told.kind == "answer" else None
        if step is not None and "fact" in step.written:
            chosen = [one for one in step.written.get("answers", ()) if alike(one["answer"], told.said["answer"])]
            if chosen and "answers from" in step.written:
                return  # none of the positions
            yield (
                step.written["fact"],
                (chosen[0].get("value") or chosen[0]["answer"]) if chosen else told.said["answer"],
            )

    def _stricter(self, name: str, said: object) -> object:
        designed = self.files.facts.get(name)
        if name == "class" and (designed, said) == ("I", "II"):
            return "I"
        if name in YES_IS_STRICTER:
            return True if designed else alike(said, True)
        if name in NO_IS_STRICTER:
            return bool(designed) and alike(said, True)
        return said

    def is_class_one(self) -> bool:
        """Whether it needs an earth path; double insulation needs none, bare metal or not."""
        return self.facts()["class"] == "I"

    def is_left_out(self, step: Step, facts: dict[str, object] | None = None) -> bool:
        """Whether the step is not for this unit; an earlier answer of its own sequence may say so too."""
        facts = self.facts() if facts is None else facts
        for name, wanted in step.when.items():
            said = self.answer(f"{step.stage}.{name}")
            known = facts.get(name, said.said.get("answer") if said is not None else None)
            if known is not None and not any(alike(known, one) for one in wanted):
                return True
        return False

    def waits_for_an_answer(self, step: Step) -> bool:
        """Whether nobody has said yet what the step is for."""
        return any(n not in self.facts() and self.answer(f"{step.stage}.{n}") is None for n in step.when)

    # What an answer is worth now -----------------------------------------------------------------------------------

    def worth(self, told: Told | None) -> str:
        """Under the files and facts of its time and of now: the worse of both."""
        if told is None or told.number in self.withdrawn:
            return BAD
        if told.number not in self._worth:
            self._worth[told.number] = self._worse(told)
        return self._worth[told.number]

    def _worse(self, told: Told) -> str:
        if not self.asks_the_same(told):
            return BAD
        found = {worth(told, told.files, self.facts(told.number)), worth(told, self.files, self.facts())}
        return GOOD if found == {GOOD} else BAD if BAD in found else "near"

    def asks_the_same(self, told: Told) -> bool:
        """Whether the step asks now what it asked then."""
        then, today = told.step, self.files.step(told.address)
        return told.files is self.files or (then is not None and today is not None and then.asks == today.asks)

    def good(self, told: Told | None) -> bool:
        """Whether a live step may rest on it, its age apart."""
        return self.worth(told) == GOOD

    def done(self, told: Told | None) -> bool:
        """Whether it settles its step; near a limit it does, though no live step may rest on it."""
        return self.worth(told) != BAD

    # What makes an answer old --------------------------------------------------------------------------------------

    def moved(self, step: Step, role: str) -> int:
        """The number of the last thing that took the good from an answer which shows that role."""
        return max((one.number for one in self.before if self._moves(one, step, role)), default=0)

    def _moves(self, told: Told, step: Step, role: str) -> bool:
        if told.kind == "hazard" or befell(told):
            return told.number not in self.false_alarms
        if told.kind == "answer" and told.step is not None and told.step.written.get("opens"):
            return role in ("polarity", "earth continuity", "primary continuity", "insulation")
        if told.kind == "plug-kept":
            return role in OPENING_AGES | PLUG_AGES
        if told.kind not in ("repair", "opened"):
            return False
        part = str(told.said.get("part", ""))
        opened = {*told.said.get("opened", ()), *told.files.home(part)}
        ages = OPENING_AGES if opened else frozenset[str]()
        if {"plug", "cord"} & opened:
            ages |= PLUG_AGES
        return role in ages or (told.kind == "repair" and self._touches(told, part, step, role))

    def _touches(self, told: Told, part: str, step: Step, role: str) -> bool:
        """Whether a repair was made at what the step reads, or at the fault that it found."""
        fault = told.said.get("fault")
        found = [one for one in self.before if one.number == fault]
        if found and (found[0].kind == "hazard" or found[0].address == step.address):
            return True
        if part not in told.files.parts:
            return not told.files.home(part)
        earths = {name for name, (kind, _) in told.files.parts.items() if kind == "earth"}
        kind = told.files.parts[part][0]
        on_the_path = part in told.files.on_the_mains_side - earths and kind != "barrier"
        return (role == "primary continuity" and on_the_path) or (role == "earth continuity" and part in earths)

    # Leads ---------------------------------------------------------------------------------------------------------

    def leads_complaints(self, told: Told) -> Iterator[str]:
        """An "OL" counts between two good checks of the leads of its meter, of its day and in its own stage."""
        step = told.step
        if step is None or not through_leads_over(told):
            return
        checks = [one for one in self._checks(step.stage) if one.said["meter"] == told.said["meter"]]
        earlier = [one for one in checks if one.number < told.number]
        later = [one for one in checks if one.number > told.number]
        if not earlier or not self.done(earlier[-1]) or not is_same_day(earlier[-1].at, told.at):
            yield "leads not proved before"
        if not later or not self.done(later[0]) or not is_same_day(told.at, later[0].at):
            yield "leads not proved after"

    def _checks(self, stage: str) -> list[Told]:
        places = {one.address for one in self.files.showing("leads proved") if one.stage == stage}
        given = [one for one in self.before if one.kind == "answer" and one.address in places]
        return [one for one in given if one.number not in self.withdrawn or self.was_bad(one)]

    def was_bad(self, told: Told) -> bool:
        """Whether it was bad when it was given: that goes on doubting, withdrawn or not."""
        return worth(told, told.files, self.facts(told.number)) == BAD

    # Set-up --------------------------------------------------------------------------------------------------------

    def set_up(self, told: Told) -> tuple[str, ...]:
        """What was confirmed in the stage of that answer and was still so when it was given."""
        standing: tuple[str, ...] = ()
        for one in self.before:
            if one.number >= told.number:
                break
            if one.kind == "set-up" and one.step is not None:
                same = told.step is not None and one.step.stage == told.step.stage
                standing = tuple(one.said["items"]) if same else ()
            unplugged = one.kind == "answer" and one.step is not None and "plug out" in one.step.shows
            if unplugged or disturbs(one) or happened(one):
                standing = ()
        return standing

    def is_on_volts(self, told: Told) -> bool:
        """Whether it was confirmed in the stage of that answer that the meter stands on volts, and nothing moved it."""
        stage = ""
        for one in self.before:
            if one.number >= told.number:
                break
            away = one.kind == "answer" and one.step is not None and "plug out" in one.step.shows
            other = one.kind == "answer" and one.step is not None and one.step.function in NOT_VOLTS
            if one.kind == "set-up" and one.step is not None and TO_VOLTS in one.said["items"]:
                stage = one.step.stage
            elif away or other or one.kind in ("meter", "repair", "opened", "event", "hazard"):
                stage = ""
        return told.step is not None and stage == told.step.stage

    def test_voltage(self) -> float:
        """At which a unit like this is tested, by the region's limits."""
        suppressed = bool(self.facts()["surge suppressor"])
        figure = self.files.limits["insulation"]["test voltage with suppressor" if suppressed else "test voltage"]
        return quantity(f"{figure['value']} {figure['unit']}")
