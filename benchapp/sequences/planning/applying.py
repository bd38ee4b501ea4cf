"""Whether a step applies to a unit: facts of the unit, and earlier answers of the same sequence, decide."""

from collections.abc import Mapping

from benchapp.sequences.language.vocabulary import TRUTHS, FactValue


def applies(when: Mapping[str, tuple[FactValue, ...]], known: Mapping[str, FactValue]) -> tuple[bool | None, str]:
    """Whether every entry of `when` holds, None while a name in it is not known yet; and why not, in words."""
    for name, wanted in when.items():
        if name not in known:
            return None, f"waits for an answer to “{name}”"
        if not any(same(known[name], one) for one in wanted):
            return False, f"{name} is {known[name]}"
    return True, ""


def same(known: FactValue, wanted: FactValue) -> bool:
    """Whether a fact is the value that a file names; words are compared without regard to capitals."""
    if isinstance(known, str) and isinstance(wanted, str):
        return known.casefold() == wanted.casefold()
    if isinstance(known, bool) or isinstance(wanted, bool):
        return _truth(known) is _truth(wanted)
    return str(known) == str(wanted) or known == wanted


def _truth(value: FactValue) -> bool | None:
    return value if isinstance(value, bool) else TRUTHS.get(str(value).casefold())
