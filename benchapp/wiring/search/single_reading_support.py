"""The one reading that a diagnosis may rest on alone: it is worth taking once more before anything is mended.

A sound unit explains all the others: a slip of the probe or of a digit may be all that is wrong.
"""

from collections.abc import Sequence

from benchapp.wiring.search.likelihood import Reader
from benchapp.wiring.search.observations import Observation
from benchapp.wiring.search.ranking import Ranking, left_to_slips, parts_of


def single_support(observations: Sequence[Observation], ranking: Ranking, reader: Reader) -> int | None:
    """The number of the only reading that a sound unit does not explain, where it was taken once; else None."""
    sound = ranking.parts.index(parts_of(()))
    odd = left_to_slips(observations, ranking, sound, reader)
    return odd[0] if len(odd) == 1 and observations[odd[0]].times == 1 else None
