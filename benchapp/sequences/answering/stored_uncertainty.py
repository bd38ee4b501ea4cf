"""What an entry keeps of a judgement, read back."""

from collections.abc import Mapping
from math import inf
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.judgement.uncertainty.uncertainty import Uncertainty


def uncertainty_from(content: Mapping[str, Any]) -> "Uncertainty | None":
    """The uncertainty that an entry keeps, with its budget; None where it keeps none."""
    from benchapp.judgement.uncertainty.uncertainty import Contribution, Distribution, Uncertainty

    if content.get("budget") is None or content.get("standard_uncertainty") is None:
        return None
    return Uncertainty(
        standard=float(content["standard_uncertainty"]),
        degrees_of_freedom=_or_infinite(content.get("degrees_of_freedom")),
        coverage=float(content["coverage"]),
        expanded=float(content["expanded_uncertainty"]),
        budget=tuple(
            Contribution(
                source=str(source),
                value=float(value),
                distribution=Distribution(distribution),
                sensitivity=float(sensitivity),
                contribution=float(contribution),
                share=float(share),
                degrees_of_freedom=_or_infinite(freedom),
            )
            for source, value, distribution, sensitivity, contribution, share, freedom in content["budget"]
        ),
        dominant=float(content.get("dominant_half_width", 0.0)),
        others=float(content.get("others_standard_uncertainty", 0.0)),
    )


def _or_infinite(number: float | None) -> float:
    return inf if number is None else float(number)
