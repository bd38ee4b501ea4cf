"""What the search says: where it stands, with which meter to read next, and each suspect with its evidence; Qt-free."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.desktop.keys import key_text
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.words import tr
from benchapp.sequences.planning.terminals import say_set_up

if TYPE_CHECKING:
    from benchapp.actions.entries.searching import Search
    from benchapp.desktop.bench.unit_view import UnitView
    from benchapp.wiring.search.diagnosis import Suspect
    from benchapp.wiring.search.observations import Observation


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The two terminals to read next, the words for it, and whether it is read with mains on."""

    a: str
    b: str
    words: str
    live: bool


def verdict(search: "Search", *, live: bool, no_power: bool = False) -> str:
    """Where the search stands, and what ends it.

    `live`: mains is on, and nothing may be looked at inside. `no_power`: it drew too much, and gets no second try.
    """
    diagnosis, agree = search.diagnosis, key_text("agree")
    again = tr("{agree}: take the step that failed again.")
    if no_power:
        again = tr("It gets no power again: {agree} settles what becomes of it, with its do-not-use tag.")
    if diagnosis.inconsistent or diagnosis.next_probe is not None:
        passed = diagnosis.suspects and not diagnosis.suspects[0].part and not diagnosis.inconsistent
        return f"{diagnosis.sentence} {again.format(agree=agree)}" if passed else diagnosis.sentence
    if diagnosis.suspects and not diagnosis.suspects[0].part:
        return f"{diagnosis.sentence} {again.format(agree=agree)}"
    sentence = diagnosis.sentence
    if diagnosis.single_support is not None:
        sentence += " " + tr("All of it rests on one reading: take that once more before you mend.")
    if diagnosis.found:
        return tr("Found. {sentence} {agree} takes it over as the fault.").format(sentence=sentence, agree=agree)
    if live:
        ending = tr(
            "The search ends here. Mains is on: {agree} takes over the marked one, then the way back, then look."
        )
    else:
        ending = tr("The search ends here. Look at these, mark what you see to be the fault ({rows}), {agree}.")
    return f"{sentence} {ending.format(rows=key_text('rows'), agree=agree)}"


def drew_too_much(view: "UnitView") -> bool:
    """Whether it drew too much or tripped, and nobody has found the part yet."""
    return any(row.id == "cause" and not row.holds for row in view.conditions_of("full"))


def doubted_steps(view: "UnitView", search: "Search") -> tuple[str, ...]:
    """The steps of the route whose readings disagree with the rest, those that disagree most first."""
    wanted = [(observation.pair, was_live(observation)) for observation in search.diagnosis.inconsistent]
    read = {
        (frozenset(step.terminals), str(step.supply) != "none"): address
        for address, entry in view.state.readings.items()
        if (step := view.plan.by_address.get(address)) is not None and len(step.terminals) == 2
    }
    return tuple(read[one] for one in wanted if one in read)


def way_back_words() -> str:
    """What comes before a dead reading on a unit that may be live."""
    return tr("Read dead: the way back first (plug out, discharged, proved low). Enter leads there.")


def how_words(view: "UnitView", search: "Search", *, live: bool) -> str:
    """How a pair is read: supply, meter and set-up."""
    if live:
        words = tr("Cover closed, through the RCD. AC volts, with {meter}.")
        return words.format(meter=_meter(view, search.live_meter))
    words = tr("Plug out and in sight. Ohms, with {meter}.").format(meter=_meter(view, search.meter))
    return f"{words} {tr('Set up')}: {', '.join(map(say_set_up, search.set_up))}." if search.set_up else words


def example_pair(view: "UnitView", address: str) -> str:
    """Two terminals of this unit with a comma between them: those of the step that failed, else the first two."""
    step = view.plan.by_address.get(address)
    pair = step.terminals if step is not None and len(step.terminals) == 2 else tuple(view.plan.circuit.terminals)[:2]
    return ",".join(pair)


def more_words(view: "UnitView", search: "Search", address: str) -> str:
    """What else can be done here: a pair of one's own, and what is missing until something is read live."""
    example = f"{example_pair(view, address)}={'OL' if search.no_live else '9.1 V'}"
    pair = tr("Another pair: choose two points on face or circuit, or type them with the reading, as in {example}")
    pair = pair.format(example=example)
    rows = [row for row in view.conditions_of("full") if not row.holds and row.id not in ("caution", "meter")]
    if not search.no_live or any(row.id == "mains fed" for row in rows):
        return pair
    missing = "; ".join(row.words for row in rows)
    live = tr("Live readings wait until: {missing}.").format(missing=missing) if missing else search.no_live
    return f"{pair}\n{live}"


def _meter(view: "UnitView", meter: str) -> str:
    """A meter by its title."""
    known = view.plan.meters.get(meter)
    wanted = tr("a meter that you take in hand first ({back}, then {again})")
    return known.title if known is not None else wanted.format(back=key_text("back"), again=key_text("again"))


def suspect_row(suspect: "Suspect") -> Row:
    """A suspect with its share, and beneath it what speaks for and against it."""
    share = max(1, round(100 * suspect.share))
    evidence = [tr("for it: {readings}").format(readings="; ".join(suspect.speaks_for))] if suspect.speaks_for else []
    if suspect.speaks_against:
        evidence.append(tr("against it: {readings}").format(readings="; ".join(suspect.speaks_against)))
    evidence += [suspect.history] if suspect.history else []
    words = tr("{share} %   {words}").format(share=share, words=suspect.words)
    return Row(words=words, detail="\n".join(evidence), share=suspect.share)


def was_live(observation: "Observation") -> bool:
    """Whether a reading was taken with mains on."""
    return str(observation.kind) != "resistance"


def found_words(suspect: "Suspect") -> str:
    """What goes into the fault's sentence: the suspect and the readings that speak for it, none that speaks against."""
    words = f"{suspect.words[:1].upper()}{suspect.words[1:]}."
    if not suspect.speaks_for:
        return words
    return f"{words} {tr('Found by')}: {'; '.join(suspect.speaks_for)}."


def agree_words(view: "UnitView | None", marked: "Suspect | None") -> str:
    """What agreeing with the marked suspect does."""
    if marked is None or marked.part:
        return tr("the marked suspect is the fault")
    if view is not None and drew_too_much(view):
        return tr("nothing is found: do not use")
    return tr("nothing is wrong: take that step again")
