"""Sound units: every design at every place and selector position that fits, walked to its sale."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.hazards.outcome import Outcome
from tests.hazards.trial import Trial, routes_of, run

DESIGNS = ("tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1")
PLACES: Mapping[str, Mapping[str, Any]] = {"gb": {"mains": 241.0}}
"""regions where a GB plug and 240 V iron fit, and the volts at their sockets today"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sound:
    """A unit with nothing wrong at one place on one route."""

    trial: Trial
    region: str
    route: str
    ends: str = ""
    """words of the declared end where it is not the sale"""
    more: Mapping[str, Any] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """Design, place, route."""
        return f"{self.trial.design} {self.trial.row} {self.region} {self.route}"

    def ended(self, outcome: Outcome) -> bool:
        """Whether it came to its end: the sale, or the end that is declared for it."""
        return outcome.left if not self.ends else self.ends in outcome.words


def sound_units() -> Iterator[Sound]:
    """All of them."""
    for region, place in PLACES.items():
        for design in DESIGNS:
            for route in routes_of(design):
                yield Sound(trial=Trial(row="sound", design=design, **place), region=region, route=route)


def run_sound(sound: Sound, *, seed: int = 0) -> Outcome:
    """Walk it at a bench of its own region."""
    return run(sound.trial, route=sound.route, seed=seed, region=sound.region)
