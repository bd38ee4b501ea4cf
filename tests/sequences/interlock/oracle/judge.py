"""The oracle: may this be recorded of this unit? It imports nothing of the program and is told only plain words."""

from collections.abc import Iterator, Sequence

from tests.sequences.interlock.oracle.hands import Hands, fact_complaints, haste_complaints
from tests.sequences.interlock.oracle.hazards import OldHazards
from tests.sequences.interlock.oracle.history import History, is_same_day
from tests.sequences.interlock.oracle.live import Live
from tests.sequences.interlock.oracle.typed import Told


def complaints(told: Sequence[Told], now: Told) -> list[str]:
    """What the design has against recording `now` after all that was told before it; nothing when it may be."""
    history = History(told, now)
    return [*_RULES.get(now.kind, _nothing)(history), *haste_complaints(history)]


def _nothing(_history: History) -> Iterator[str]:
    yield from ()


def _answer(history: History) -> Iterator[str]:
    step, hands = history.now.step, Hands(history)
    if step is None:
        yield "step: there is none"
        return
    if step.live:
        yield from Live(history).complaints(step.supply)
        yield from Live(history).unlimited(step)
        yield from Live(history).mains_here(step)
        yield from hands.mains_complaints()
        yield from Live(history).bare_probes(step)
    else:
        yield from hands.answer_complaints(step)
    if not step.way_back:
        yield from OldHazards(history).complaints(
            *(("opening",) if "enclosure" in step.written.get("opens", ()) else ())
        )
    if step.kind == "wait":
        yield from hands.wait_complaints(step)


def _set_up(history: History) -> Iterator[str]:
    step, hands = history.now.step, Hands(history)
    if step is not None and step.live:
        yield from Live(history).complaints(step.supply, prepared=False)
        yield from hands.mains_complaints()
    if step is not None and not step.way_back:
        yield from OldHazards(history).complaints()


def _touch(history: History) -> Iterator[str]:
    yield from Hands(history).touch_complaints()
    yield from _shut(history)


def _shut(history: History) -> Iterator[str]:
    """What a hazard of old equipment keeps hands from, or the case shut for."""
    opened = {*history.now.said.get("opened", ()), *history.files.home(str(history.now.said.get("part", "")))}
    yield from OldHazards(history).complaints(*(("opening",) if "enclosure" in opened else ()))


def _repair(history: History) -> Iterator[str]:
    yield from Hands(history).repair_complaints()
    yield from _shut(history)


def _note(history: History) -> Iterator[str]:
    probed = history.now.said.get("probed")
    if probed is None:
        return
    yield from OldHazards(history).complaints()
    if probed.get("supply", "none") == "none":
        yield from Hands(history).touch_complaints()
    else:
        yield from Live(history).complaints("full")
        yield from Hands(history).mains_complaints()
        yield from Hands(history).search_complaints()


def _disposition(history: History) -> Iterator[str]:
    now, word = history.now, history.now.said["disposition"]
    if word == "for sale":
        yield from Hands(history).sale_complaints()
        if not may(now, "sign-off"):
            yield "hands: no right to sign off"
    holds = [one for one in history.before if one.kind == "disposition" and may(one, "supervisor")]
    if holds and holds[-1].said["disposition"] == "hold" and word != "hold":
        if not may(now, "supervisor"):
            yield "hands: a supervisor holds it"
        if not now.said.get("note", "").strip():
            yield "hands: a hold is lifted without a reason"
    said = [one.said["disposition"] for one in history.before if one.kind == "disposition"][-1:]
    if (word == "scrap") != (said == ["scrap"]) and not now.said.get("note", "").strip():
        yield "reason: none is said for scrap, or for what was scrap"
    untouched = [*OldHazards(history).complaints()]
    has_plug = history.files.facts["mains fed"] and not Live(history).plugless()
    if word in ("scrap", "spares or repair") and has_plug and not untouched and history.facts()["plug"] != "none":
        yield f"plug: {word} with its plug on"
    if word == "spares or repair" and untouched:
        yield "old hazard: nothing of it is used again"
    if word == "keep" and any(grave == "do not use" for _, _, _, grave in Live(history).unmended()):
        yield "keep: a fault says do not use"


def may(told: Told, right: str) -> bool:
    """Whether whoever told it had that right then."""
    return told.files.may(told.who, right, told.at[:10])


def _acceptance(history: History) -> Iterator[str]:
    if not may(history.now, "supervisor") or not history.now.said["reason"].strip():
        yield "hands: accepted by nobody who may, or without a reason"


def _clearing(history: History) -> Iterator[str]:
    found = {one.number for one in history.before}
    if history.now.said["fault"] not in found or not history.now.said["reason"].strip():
        yield "old hazard: cleared without a finding, or without a reason"
    if not may(history.now, "supervisor"):
        yield "hands: cleared by nobody who may"


def _for_good(history: History) -> Iterator[str]:
    yield from _touch(history)
    if not any(str(said).strip() for said in history.now.said.values()):
        yield "reason: none is said"


def _opening(history: History) -> Iterator[str]:
    if history.files.tester:
        yield "insulation: a workshop with a tester tests it"
    if not may(history.now, "supervisor"):
        yield "hands: opened by nobody who may"


def _withdrawal(history: History) -> Iterator[str]:
    yield from Hands(history).taken_back()


def _false_alarm(history: History) -> Iterator[str]:
    """It was noticed today and not mended; all was looked at, with nothing on the unit, and nothing else is bad."""
    said, before = history.now.said, history.before
    noticed = [one for one in before if one.kind == "hazard" and one.number == said["hazard"]]
    if not noticed or said["hazard"] in history.false_alarms:
        yield "false alarm: of nothing that stands"
        return
    yield from Hands(history).touch_complaints()
    if not said["reason"].strip() or len(set(said["looked"])) < THINGS_TO_LOOK_AT:
        yield "false alarm: without a reason, or without a look"
    if "tripped" in noticed[0].said["hazard"]:
        yield "false alarm: of a switch that tripped"
    if not is_same_day(noticed[0].at, history.now.at):
        yield "false alarm: of another day"
    if any(one.kind == "repair" and one.said.get("fault") == said["hazard"] for one in before):
        yield "false alarm: of what was mended"
    for one in before:
        live = one.kind == "answer" and one.step is not None and one.step.live
        if live and history.answer(one.address) is one and history.was_bad(one):
            yield f"false alarm: {one.address} was bad too"


THINGS_TO_LOOK_AT = 4
"""smell, warmth, colour and sound"""
_RULES = {
    "answer": _answer,
    "withdrawal": _withdrawal,
    "set-up": _set_up,
    "repair": _repair,
    "opened": _touch,
    "plug-destroyed": _for_good,
    "plug-kept": _for_good,
    "note": _note,
    "fact": fact_complaints,
    "disposition": _disposition,
    "supervisor-opening": _opening,
    "false-alarm": _false_alarm,
    "acceptance": _acceptance,
    "hazard-cleared": _clearing,
}
