"""What the design demands of a live answer and of a hand on the unit, worked out once more and in another way.

Nothing of the engine is used here but its plain values: entries as they were recorded, and the models of the files. The
demands are those of the design's section 6; where the engine is stricter, the oracle asks for less.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime

from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.planned import Plan, PlannedStep

BENCH_DAY = 14 * 3600
SUPPLY_SIDE = {"plug-fuse", "cord-live", "cord-neutral", "cord-earth", "case-bond", "primary"}
"""Parts of tb-mu1 on its mains side, read off its file by hand."""
OUTPUT_SIDE = {"low", "high", "low-a", "low-a-twin", "common-wire", "high-b"}
NEVER_TALKED_AWAY = ("bare metal", "live chassis", "voltage selector", "internal fuse", "plug fuse", "mains fed")
NEVER_TALKED_IN = ("surge suppressor", "heating")
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


def who(entry: Entry) -> str:
    return entry.by.strip().lower()


def asks_the_same(one: PlannedStep, other: PlannedStep) -> bool:
    """Whether two files ask the same at a step: all of its model but advice and words beside its terminals."""

    def of(step: PlannedStep) -> tuple[object, ...]:
        said = step.model.model_dump(mode="json", exclude={"why", "say"} if step.terminals else {"why"}, warnings=False)
        return said, step.terminals, step.function, step.accept, step.supply, dict(step.when)

    return of(one) == of(other)


class Oracle:
    """The history before one entry, under the plan that the entry was accepted by.

    `plans` are the plans that the entries before it were accepted by, by number: files may have been edited since.
    """

    def __init__(
        self,
        plan: Plan,
        entries: Sequence[Entry],
        entry: Entry,
        lives: frozenset[int],
        plans: Mapping[int, Plan] | None = None,
    ) -> None:
        self.plan, self.entry, self.plans = plan, entry, plans or {}
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
        """What the unit is taken to be: a class, a fuse or a plug's look inside is never talked away by one person."""
        known, moulded = dict(self.plan.facts), set()
        for entry in self.before:
            if entry.number in self.withdrawn or entry.kind not in ("answer", "fact"):
                continue
            for name, said in entry.content.get("facts", {}).items():
                value = {"yes": True, "no": False}.get(said, said) if isinstance(said, str) else said
                if name == "plug":
                    moulded = {*moulded, who(entry)} if value == "moulded" else set()
                designed = self.plan.facts.get(name)
                if name == "class" and (value, designed) == ("II", "I"):
                    value = "I"
                if name in NEVER_TALKED_AWAY and designed:
                    value = True
                if name in NEVER_TALKED_IN and not designed:
                    value = False
                known[name] = int(value) if name == "cord cores" else value
        if self.plan.facts["plug"] == "rewirable" and len(moulded) == 1:
            known["plug"] = "rewirable"
        return known

    def skipped(self, step: PlannedStep) -> bool:
        facts = {key: str(value).casefold() for key, value in self.facts().items()}
        for name, wanted in step.when.items():
            if name in facts and facts[name] not in {str(one).casefold() for one in wanted}:
                return True
        return False

    # what a live answer must rest on ----------------------------------------------------------------------------------

    def live_complaints(self, supply: str = "") -> Iterator[str]:
        supply = supply or self.plan.step(self.entry.address).supply.value
        yield from self.construction()
        facts = self.facts()
        yes = [name for name in ("voltage selector", "internal fuse") if facts.get(name) is True]
        more = [{"voltage selector": "selector", "internal fuse": "internal fuse"}[name] for name in yes]
        if self.damp():
            more.append("dry")
        for role in ("visual", "plug", "polarity", "earth continuity", "primary continuity", "insulation", *more):
            if role == "insulation" and not self.plan.workshop.insulation_tester:
                yield from self.supervised(supply)
            else:
                yield from self.shown(role)
        if supply == "full":
            yield from self.limited_first()
        yield from self.faults()
        yield from self.retested()
        yield from self.cautioned()
        yield from self.metered()
        yield from self.set_aside()

    def construction(self) -> Iterator[str]:
        facts = self.facts()
        if facts["class"] not in ("I", "II"):
            yield f"class {facts['class']}"
        if facts.get("live chassis"):
            yield "live chassis"
        if facts.get("cord cores") == 2 and (facts["class"] == "I" or facts.get("bare metal")):
            yield "two cores on bare metal"

    def damp(self) -> bool:
        return any(e.kind == "event" and e.content["event"] != "fall" for e in self.before)

    def retested(self) -> Iterator[str]:
        """After a hazard and its repair every dead step that comes before mains is taken again."""
        since = self.last("hazard")
        first_live = min(step.position for step in self.plan.steps if step.supply.value != "none")
        for step in self.plan.steps:
            if since and step.position < first_live and not self.may_be_left_out(step):
                given = self.answer(step.address)
                if given is None or given.number < since or given.number in self.withdrawn:
                    yield f"{step.address} was not taken again since the hazard of entry {since}"

    def may_be_left_out(self, step: PlannedStep) -> bool:
        unanswered = [n for n in step.when if n not in self.facts()]  # an earlier answer of the sequence decides
        no_tester = step.function == "insulation" and not self.plan.workshop.insulation_tester
        return bool(unanswered) or no_tester or self.skipped(step)

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
        given_by = self.plans.get(entry.number, self.plan)
        if given_by is not self.plan and not asks_the_same(given_by.step(step.address), step):
            yield "another step was asked"
        if entry.number < (since := self.moved(role)):
            yield f"older than entry {since}"
        if seconds(entry.at, self.entry.at) > self.plan.workshop.dead_tests_last_days * 86400:
            yield "too old"
        if entry.content.get("bound") == "above":
            yield from self.leads(step, entry)
        if role == "insulation":
            suppressed = self.facts().get("surge suppressor") is True
            if entry.content.get("test_voltage") != (250.0 if suppressed else 500.0):
                yield f"tested at {entry.content.get('test_voltage')} V"
            shown = [self.answer(one.address) for one in self.steps("primary continuity")]
            if not any(self.good(one) and one.number < entry.number for one in shown):
                yield "primary not shown before"

    def moved(self, role: str) -> int:
        """The last entry that makes what shows this role old: a mishap, or something opened."""
        since = [self.last("event", "hazard")]
        if role in OPENINGS:
            since += [e.number for e in self.before if e.kind in ("repair", "opened") and e.content.get("opened")]
        if role == "plug":
            since += [e.number for e in self.before if self.opened_plug(e)]
        return max(since)

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
        opened = [e for e in self.before if e.kind == "supervisor-opening"]
        roles = ("visual", "plug", "polarity", "earth continuity", "primary continuity")
        tests = {step.address for role in roles for step in self.steps(role) if step.supply.value == "none"}
        done = [e for e in self.before if e.kind == "answer" and e.address in tests]
        if not opened or opened[-1].number <= self.last("repair", "opened", "event", "hazard"):
            yield "no supervisor opened it"
            return
        if who(opened[-1]) in {who(one) for one in done}:
            yield "whoever tested it opened it"
        if not 0 <= seconds(opened[-1].at, self.entry.at) <= BENCH_DAY:
            yield "opened on another day"
        if any(one.number > opened[-1].number for one in done):
            yield "tested since it was opened"

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
        name = self.entry.content.get("meter") or self.entry.content.get("probed", {}).get("meter")
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

    # what a wait and a farewell must rest on --------------------------------------------------------------------------

    def wait_complaints(self, needed: float) -> Iterator[str]:
        """Measured between entries: since the last answer, set-up or mishap, whatever a clock on the page said."""
        kinds = ("answer", "set-up", "repair", "opened", "event", "hazard")
        mine = (self.entry.kind, self.entry.address)
        worked = [e for e in self.before if e.kind in kinds and (e.kind, e.address) != mine]
        if not self.before or seconds((worked or self.before[:1])[-1].at, self.entry.at) < needed - 0.5:
            yield "waited too short"

    def sale_complaints(self) -> Iterator[str]:
        yield from self.faults()
        yield from self.construction()
        if not self.plan.workshop.insulation_tester:
            yield "for sale without an insulation test"
        earthed = self.facts()["class"] != "II"
        roles = ["visual", "plug", "polarity", "primary continuity", "insulation", *(["earth continuity"] * earthed)]
        dead = (step for role in roles for step in self.steps(role) if step.supply.value == "none")
        for step in dead:
            if not self.skipped(step) and not self.good(self.answer(step.address)):
                yield f"for sale, and {step.address} is not good"
        live = [step for step in self.plan.steps if step.supply.value != "none" and not self.skipped(step)]
        yield from (f"for sale without {step.address}" for step in live if self.answer(step.address) is None)
        yield from self.touch_complaints()

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
        yield from self.touch_complaints()

    def touch_complaints(self) -> Iterator[str]:
        """For every way to lay hands on a unit: an answer by hand, a repair, an opening, a cut through its cord."""
        live = max((number for number in self.lives if number < self.entry.number), default=0)
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
