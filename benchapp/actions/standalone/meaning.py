"""The meaning of a typed text: a reading, or what stands on a part in letters or colours."""

from typing import TYPE_CHECKING, Any

from benchapp.errors import BenchError
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.parts import PartReading
    from benchapp.quantities.quantity import Reading


class NoSuchKind(BenchError):
    """A kind of value that the bench does not measure."""


def read_text(text: str, *, kind: str | None = None, unit: str = "") -> dict[str, Any]:
    """The meaning for programs, numbers in SI beside the value as written; raises BenchError with a sentence.

    Without a kind the text must carry its unit. Read too: colour bands ("yellow violet red gold") and codes with their
    tolerance ("4K7J"). A value of a part says how it stands to the preferred values of IEC 60063.
    """
    from benchapp.quantities.quantity import Bound, describe_reading

    parts, reading = _meaning(text, _kind(kind), unit)
    described = describe_reading(reading)
    quantity = reading.quantity if reading.bound is Bound.exact else None
    tolerances = [_tolerance(part) for part in parts if part.tolerance is not None]
    return described | {
        "kind": kind or described["kind"],
        "tolerance": tolerances[0] if tolerances else None,
        "other_tolerances": tolerances[1:],
        "preferred": None if quantity is None else _preferred(quantity.si_exact, quantity.unit.kind),
    }


def _kind(name: str | None) -> "Kind | None":
    from benchapp.files.spelling import nearest
    from benchapp.quantities.dimensions import Kind

    if name is None or name in set(Kind):
        return None if name is None else Kind(name)
    near = nearest(name, list(Kind))
    hint = f"Did you mean {near}?" if near else f"There are {', '.join(Kind)}."
    raise NoSuchKind(say("{name!r} is not a kind of value. {hint}", name=name, hint=hint))


def _meaning(text: str, kind: "Kind | None", unit: str) -> "tuple[tuple[PartReading, ...], Reading]":
    """The ways to read a part's marking (none for a plain reading), and the value as a reading."""
    from benchapp.quantities.entry import read_reading
    from benchapp.quantities.parts import colour_bands, read_part
    from benchapp.quantities.quantity import Reading

    if colour_bands(text) is None:
        try:
            return (), read_reading(text, kind=kind, unit=unit)
        except BenchError:
            if not _is_marking(text, kind):
                raise
    parts = read_part(text)
    found = parts[0].quantity.unit.kind
    if kind not in (None, found):
        raise BenchError(f'"{text[:60]}" is {found.with_article}, not {kind.with_article if kind else ""}.')
    return parts, Reading(typed=text, quantity=parts[0].quantity)


def _is_marking(text: str, kind: "Kind | None") -> bool:
    """Whether a text that is no reading is a code; 470K alone is left to be asked about, for it could be kelvins."""
    from benchapp.quantities.parts import read_part

    try:
        part = read_part(text)[0]
    except BenchError:
        return False
    return kind in (None, part.quantity.unit.kind) and (part.tolerance is not None or "L" in text)


def _tolerance(part: "PartReading") -> dict[str, Any]:
    limits = part.limits
    assert limits is not None, "asked only of parts with a tolerance"
    return {"of": str(part.tolerance), "lowest": float(limits[0]), "highest": float(limits[1]), "note": part.note}


def _preferred(value: Any, kind: "Kind") -> dict[str, Any] | None:  # noqa: ANN401 - a Decimal, loaded with quantities
    from benchapp.quantities.parts import preference_of

    found = preference_of(value, kind)
    if found is None:
        return None
    return {
        "series": found.series,
        "nearest": {series.value: float(nearest) for series, nearest in found.nearest.items()},
        "code": found.code,
    }
