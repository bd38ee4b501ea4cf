"""A workshop without an insulation tester: what a supervisor's opening has to rest on."""

from collections.abc import Iterator, Sequence

from tests.sequences.interlock.oracle.history import DISTURBED, History, is_same_day
from tests.sequences.interlock.oracle.typed import BAD, is_far_off, worth


def supervised(history: History, supply: str, shown_dead: Sequence[str]) -> Iterator[str]:
    """Why no opening stands for the insulation test; `shown_dead`: the roles of the dead tests that it rests on."""
    files, now = history.files, history.now
    if supply == "full":
        yield "insulation: full mains without a test"
    for step in files.showing("insulation"):
        given = history.answer(step.address)
        facts = history.facts(given.number) if given is not None else {}
        if given is not None and worth(given, given.files, facts) == BAD and is_far_off(given, given.files, facts):
            yield f"insulation: {step.address} was found bad"
    opened = [one for one in history.before if one.kind == "supervisor-opening"]
    if not opened or opened[-1].number <= history.last(*DISTURBED):
        yield "insulation: no supervisor opened it"
        return
    tests = {s.address for role in shown_dead for s in files.showing(role) if not s.live}
    done = [one for one in history.before if one.kind == "answer" and one.address in tests]
    if opened[-1].who in {one.who for one in done}:
        yield "insulation: whoever tested it opened it"
    if {one.who for one in done} - set(files.people):
        yield "insulation: somebody tested it who is on no list"
    if not is_same_day(opened[-1].at, now.at):
        yield "insulation: opened on another day"
    if any(one.number > opened[-1].number for one in done):
        yield "insulation: tested since it was opened"
