"""What the design demands of a live answer and of a hand on the unit, worked out once more and in another way.

Nothing of the engine is used here but its plain values: entries as they were recorded, and the models of the files. The
demands are those of the design's section 6; where the engine is stricter, the oracle asks for less.
"""

from collections.abc import Iterator, Sequence
from datetime import date, datetime

from benchapp.sequences import Entry, Plan, PlannedStep

BENCH_DAY = 14 * 3600
SUPPLY_SIDE = {"plug-fuse", "cord-live", "cord-neutral", "cord-earth", "case-bond", "primary"}
"""Parts of tb-mu1 on its mains side, read off its file by hand."""
OUTPUT_SIDE = {"low", "high", "low-a", "low-a-twin", "common-wire", "high-b"}
HANDS = ("inspect", "work", "probe", "measure", "ask", "photo")
OPENINGS = {"visual", "polarity", "earth continuity", "insulation"}
FITNESS = {
    "earth continuity": lambda m: m.function == "earth continuity" and m.accept == "limit earth-continuity",
    "insulation": lambda m: (
        m.function == "insulation"
        and m.accept == "limit insulation"
        and {"switch on", "fuse in", "L and N joined"} <= set(m.set_up)
    ),
    "primary continuity": lambda m: (
        m.function in ("resistance", "continuity") and "least" not in m.accept and m.at is not None
    ),
    "limited power": lambda m: m.function in ("AC current", "power") and bool(m.accept),
    "leads proved": lambda m: m.function in ("resistance", "continuity") and m.accept.startswith("at most"),
    "voltage low": lambda m: m.accept == "limit voltage-low",
}


def seconds(earlier: str, later: str) -> float:
    return (datetime.fromisoformat(later) - datetime.fromisoformat(earlier)).total_seconds()


class Oracle:
    """The history before one entry, under the plan that the entry was accepted by."""

    def __init__(self, plan: Plan, entries: Sequence[Entry], entry: Entry, lives: frozenset[int]) -> None:
        self.plan, self.entry = plan, entry
        self.before = [one for one in entries if one.number < entry.number]
        self.withdrawn = {e.content["number"] for e in self.before if e.kind == "withdrawal"}
        self.lives = lives
        """numbers of entries that put the unit on mains when they were made, whatever the files say now"""

    def steps(self, role: str) -> Iterator[PlannedStep]:
        fit = FITNESS.get(role, lambda _model: True)
        for step in (*self.plan.steps, *self.plan.way_back):
            if any(one.value == role for one in step.model.shows) and fit(step.model):
                yield step

    def last(self, *kinds: str) -> int:
        return max((e.number for e in self.before if e.kind in kinds), default=0)

    def answer(self, address: str) -> Entry | None:
        given = [e for e in self.before if e.kind == "answer" and e.address == address]
        return given[-1] if given else None

    def good(self, entry: Entry | None) -> bool:
        return entry is not None and entry.number not in self.withdrawn and entry.content["judgement"] == "pass"

    def facts(self) -> dict[str, object]:
        known = dict(self.plan.facts)
        for entry in self.before:
            if entry.number not in self.withdrawn and entry.kind in ("answer", "fact"):
                known.update(entry.content.get("facts", {}))
        return known

    def skipped(self, step: PlannedStep) -> bool:
        facts = {key: str(value).casefold() for key, value in self.facts().items()}
        for name, wanted in step.when.items():
            if name in facts and facts[name] not in {str(one).casefold() for one in wanted}:
                return True
        return False

    # what a live answer must rest on ----------------------------------------------------------------------------------

    def live_complaints(self) -> Iterator[str]:
        supply = self.plan.step(self.entry.address).supply.value
        yield from self.construction()
        for role in ("visual", "plug", "polarity", "earth continuity", "primary continuity", "insulation"):
            if role == "insulation" and not self.plan.workshop.insulation_tester:
                yield from self.supervised(supply)
            else:
                yield from self.shown(role)
        if supply == "full":
            yield from self.limited_first()
        yield from self.faults()
        yield from self.cautioned()
        yield from self.metered()
        yield from self.set_aside()

    def construction(self) -> Iterator[str]:
        facts = self.facts()
        if facts["class"] not in ("I", "II"):
            yield f"class {facts['class']}"
        if str(facts.get("live chassis")).casefold() in ("true", "yes"):
            yield "live chassis"
        if str(facts.get("cord cores")) == "2" and facts["class"] == "I":
            yield "two cores on bare metal"

    def shown(self, role: str) -> Iterator[str]:
        if role == "earth continuity" and self.facts()["class"] == "II":
            return
        steps = [step for step in self.steps(role) if step.supply.value == "none"]
        if not steps:
            yield f"nothing is fit to show {role}"
        for step in steps:
            if not self.skipped(step):
                yield from (f"{role} by {step.address}: {why}" for why in self.stands(step, role))

    def stands(self, step: PlannedStep, role: str) -> Iterator[str]:
        entry = self.answer(step.address)
        if not self.good(entry):
            yield "no good answer"
            return
        since = self.last("event", "hazard")
        if role in OPENINGS:
            opened = [e.number for e in self.before if e.kind in ("repair", "opened") and e.content.get("opened")]
            since = max([since, *opened])
        if role == "plug":
            since = max([since, *(e.number for e in self.before if self.opened_plug(e))])
        if entry.number < since:
            yield f"older than entry {since}"
        if seconds(entry.at, self.entry.at) > self.plan.workshop.dead_tests_last_days * 86400:
            yield "too old"
        if entry.content.get("bound") == "above":
            yield from self.leads(step, entry)
        if role == "insulation":
            shown = [self.answer(one.address) for one in self.steps("primary continuity")]
            if not any(self.good(one) and one.number < entry.number for one in shown):
                yield "primary not shown before"

    @staticmethod
    def opened_plug(entry: Entry) -> bool:
        return entry.kind in ("repair", "opened") and bool({"plug", "cord"} & set(entry.content.get("opened", ())))

    def leads(self, step: PlannedStep, entry: Entry) -> Iterator[str]:
        places = {one.address for one in self.steps("leads proved") if one.stage == step.stage}
        meter = entry.content["meter"]
        checks = [e for e in self.before if e.kind == "answer" and e.address in places and e.content["meter"] == meter]
        checks = [e for e in checks if not (e.number in self.withdrawn and e.content["judgement"] == "pass")]
        earlier = [e for e in checks if e.number < entry.number]
        later = [e for e in checks if e.number > entry.number]
        if not earlier or not self.good(earlier[-1]) or seconds(earlier[-1].at, entry.at) > BENCH_DAY:
            yield "leads not proved before"
        if not later or not self.good(later[0]) or seconds(entry.at, later[0].at) > BENCH_DAY:
            yield "leads not proved after"

    def supervised(self, supply: str) -> Iterator[str]:
        if supply == "full":
            yield "full mains without an insulation test"
        if self.last("supervisor-opening") <= self.last("repair", "opened", "event", "hazard"):
            yield "no supervisor opened it"

    def limited_first(self) -> Iterator[str]:
        steps = [step for step in self.steps("limited power") if step.supply.value == "limited"]
        disturbed = self.last("repair", "opened", "event", "hazard")
        good = [self.answer(one.address) for one in steps]
        if not good or not all(self.good(one) and one.number > disturbed for one in good):
            yield "no good first power on limited supply"

    def faults(self) -> Iterator[str]:
        mended = {e.content.get("fault") for e in self.before if e.kind == "repair"}
        parts = {e.content.get("part") for e in self.before if e.kind == "repair" and e.content.get("fault") is None}
        for entry in self.before:
            if entry.kind not in ("fault", "hazard") or entry.number in mended:
                continue
            part = entry.content.get("part", "")
            if part in OUTPUT_SIDE and entry.content.get("grave") != "do not use":
                continue
            if entry.kind == "hazard" or part not in parts:
                yield f"fault of entry {entry.number} is open"

    def cautioned(self) -> Iterator[str]:
        read = [e for e in self.before if e.kind == "caution" and e.content["caution"] == "mains-live"]
        disturbed = self.last("repair", "opened", "event", "hazard")
        if not any(e.number > disturbed and seconds(e.at, self.entry.at) <= BENCH_DAY for e in read):
            yield "caution not read"

    def metered(self) -> Iterator[str]:
        name = self.entry.content.get("meter")
        if not name:
            return
        taken = [e for e in self.before if e.kind == "meter" and e.content["meter"] == name]
        record = self.plan.meters[name]
        if not taken:
            yield "meter not in hand"
            return
        proved = taken[-1].content.get("proved")
        if not proved or not 0 <= seconds(proved, self.entry.at) <= BENCH_DAY:
            yield "meter not proved"
        if not any(one.number >= 2 and one.volts >= 300 for one in record.category):
            yield "meter not rated"
        if date.fromisoformat(self.entry.at[:10]) > record.due and not taken[-1].content.get("overdue_accepted"):
            yield "meter overdue"

    def set_aside(self) -> Iterator[str]:
        words = [e.content["disposition"] for e in self.before if e.kind == "disposition"]
        if words and words[-1] in ("hold", "scrap", "spares or repair"):
            yield f"set aside: {words[-1]}"
        if self.last("plug-destroyed"):
            yield "plug destroyed"

    # what a hand on the unit must rest on -----------------------------------------------------------------------------

    def hand_complaints(self) -> Iterator[str]:
        step = self.plan.step(self.entry.address)
        if step.way_back or step.supply.value != "none" or step.kind.value not in HANDS:
            return
        live = max((number for number in self.lives if number < self.entry.number), default=0)
        if (
            step.function == "insulation"
        ):  # may follow another insulation test: that mains was left behind once is enough
            if live and not self.once_went_back(live):
                yield f"insulation test after entry {live} without the way back"
            return
        energised = max(self.charged(), live)
        if energised and not self.went_back(energised):
            yield f"hands after entry {energised} without the way back"

    def charged(self) -> int:
        tested = [e.number for e in self.before if e.kind == "answer" and e.content.get("function") == "insulation"]
        low = {one.address for one in self.plan.way_back if any(r.value == "voltage low" for r in one.model.shows)}
        still = [e.number for e in self.before if e.address in low and e.content.get("judgement") not in (None, "pass")]
        return max([0, *tested, *still])

    def once_went_back(self, since: int) -> bool:
        """Whether the three came in their order at any time after that entry, whatever was begun since."""
        for role in ("plug out", "discharged", "voltage low"):
            places = {step.address for step in self.steps(role) if step.way_back}
            found = [e.number for e in self.before if e.address in places and e.number > since and self.good(e)]
            if not found:
                return False
            since = found[0]
        return True

    def went_back(self, since: int) -> bool:
        for role in ("plug out", "discharged", "voltage low"):
            steps = [step for step in self.steps(role) if step.way_back]
            found = [self.answer(one.address) for one in steps]
            if not found or not all(self.good(one) and one.number > since for one in found):
                return False
            since = max(one.number for one in found)
        return True
