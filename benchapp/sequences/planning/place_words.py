"""Words of this place in a step's text: `{plug}` is the region's plug, `{live}` the colours of its live core.

A sequence is written once for all regions; what differs from place to place stands in the region's limits.
"""

import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import BaseModel

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile

NAMES = ("plug", "pins", "marks", "live", "neutral", "earth", "live terminal", "neutral terminal", "earth terminal")
"""What may stand between braces"""
UNKNOWN = {
    "plug": "plug of this place",
    "pins": "they are as the standard of this place has them",
    "marks": "the standard's number and an approval mark can be read",
    "live": "live",
    "neutral": "neutral",
    "earth": "earth",
    "live terminal": "its own terminal",
    "neutral terminal": "its own terminal",
    "earth terminal": "its own terminal",
}
"""What is said where a region's limits do not say it"""
_BRACED = re.compile(r"\{([^{}]*)\}")
Model = TypeVar("Model", bound=BaseModel)


def words_of(profile: "LimitProfile") -> Mapping[str, str]:
    """What each name stands for under these limits."""
    plug = profile.plug
    colours = {colour.core: colour.words for colour in profile.core_colours}
    said = dict(UNKNOWN) | colours
    if plug is not None:
        said |= {"plug": plug.say, "pins": plug.pins, "marks": plug.marks}
        said |= {f"{core} terminal": str(getattr(plug, core)) for core in ("live", "neutral", "earth")}
    return said


def in_words_of(step: Model, profile: "LimitProfile") -> Model:
    """The step with its names replaced; the step itself where it has none."""
    return _said(step, words_of(profile)) if any(True for _ in names_in(step)) else step


def names_in(value: Any) -> Iterator[str]:  # noqa: ANN401  any field of a step
    """Every name between braces in any text of a step."""
    if isinstance(value, str):
        yield from _BRACED.findall(value)
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from names_in(getattr(value, name))
    elif isinstance(value, tuple):
        for one in value:
            yield from names_in(one)


def _said(value: Any, words: Mapping[str, str]) -> Any:  # noqa: ANN401  any field of a step
    if isinstance(value, str):
        return _BRACED.sub(lambda found: words.get(found[1], found[0]), value)
    if isinstance(value, BaseModel):
        fields = type(value).model_fields
        return value.model_copy(update={name: _said(getattr(value, name), words) for name in fields})
    return tuple(_said(one, words) for one in value) if isinstance(value, tuple) else value
