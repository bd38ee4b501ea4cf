"""What a workshop's own hazard may not take away from the shipped one, and its own design not from its hazards."""

from collections.abc import Iterator

from benchapp.files.looser import Looser, keeps_words, lost_words
from benchapp.sequences.language.hazards import FoundIn, OldHazard
from benchapp.wiring.model.equipment import Equipment

_STRICTEST_FIRST = ("no", "ask", "after repair", "yes")


def lost_of_hazard(own: OldHazard, shipped: OldHazard) -> Iterator[Looser]:
    """Statements that are missing, and what it shuts, asks or forbids to sell less than the shipped one."""
    for name in ("title", "clear", "seen", "tag"):
        theirs = getattr(shipped, name)
        if not keeps_words(getattr(own, name), theirs):
            yield Looser(key=(name,), what=f"it does not say “{theirs}”, as shipped", expected=f"“{theirs}”")
    for name in ("what", "where", "look", "do", "never"):
        mine, theirs = (tuple(one.say for one in getattr(hazard, name)) for hazard in (own, shipped))
        yield from lost_words((name,), mine, theirs)
    for shut in shipped.shuts:
        if shut not in own.shuts:
            yield Looser(key=("shuts",), what=f"it does not shut {shut}, as shipped", expected=f"{shut} among them")
    if shipped.eyes and not own.eyes:
        yield Looser(key=("eyes",), what="it asks for no eye protection, as shipped", expected="true")
    if own.presumed and not shipped.presumed:
        yield Looser(key=("presumed",), what="it is no longer asked about", expected="false")
    yield from _sold_more(own, shipped)
    if _narrower(own.found_in, shipped.found_in):
        what = "fewer designs would be asked about it than by the shipped one"
        yield Looser(key=("found in",), what=what, expected="the same years, facts and parts, or more of them")


def _sold_more(own: OldHazard, shipped: OldHazard) -> Iterator[Looser]:
    for region in {**shipped.sale, **own.sale}:
        mine, theirs = own.sale_in(region).may, shipped.sale_in(region).may
        if _STRICTEST_FIRST.index(mine) > _STRICTEST_FIRST.index(theirs):
            yield Looser(key=("sale",), what=f"{region}: “{mine}” is more than “{theirs}”", expected=f"“{theirs}”")


def _narrower(own: FoundIn, shipped: FoundIn) -> bool:
    later = own.from_ is not None and (shipped.from_ is None or own.from_ > shipped.from_)
    sooner = own.until is not None and (shipped.until is None or own.until < shipped.until)
    parts = bool(own.parts) and (not shipped.parts or not set(shipped.parts) <= set(own.parts))
    facts = any(set(shipped.when.get(name, wanted)) - set(wanted) for name, wanted in own.when.items())
    named = own.only_named and not shipped.only_named
    return later or sooner or parts or facts or named or bool(own.when.keys() - shipped.when.keys())


def lost_of_its_hazards(own: Equipment, shipped: Equipment) -> Iterator[Looser]:
    """Hazards that the shipped design is known for, and years of making that its own file leaves out."""
    for name in shipped.hazards:
        if name not in own.hazards:
            yield Looser(key=("hazards",), what=f"the design is known for {name}", expected=f"{name} among them")
    if own.made is None:
        return
    if shipped.made is None or own.made.first > shipped.made.first or own.made.last < shipped.made.last:
        theirs = f"{shipped.made.first} to {shipped.made.last}" if shipped.made else "years that nobody knows"
        yield Looser(key=("made",), what=f"the shipped design was made in {theirs}", expected="those years, or more")
