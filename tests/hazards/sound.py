"""Sound units: every design at every place and selector position that fits, walked to its sale."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tests.hazards.outcome import Outcome
from tests.hazards.trial import Trial, routes_of, run

FED = ("tb-mu1", "tb-mu2", "tb-rec1")
UNFED = ("tb-ls1",)
PLACES: Mapping[str, tuple[float, tuple[str, ...]]] = {
    "gb": (241.0, (*FED, *UNFED)),
    "eu": (232.0, (*FED, *UNFED)),
    "au": (236.0, (*FED, *UNFED)),
    "nz": (233.0, (*FED, *UNFED)),
    "us": (120.0, UNFED),
}
"""by region: the volts at its sockets today, and the designs that fit it (iron for 240 V fits no place of 120 V)"""
LOWER = "220 V"
"""the recorder's other position: it fits 230 V where a supervisor accepts it"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sound:
    """A unit with nothing wrong at one place on one route."""

    trial: Trial
    region: str
    route: str
    selector: str = ""
    """its position where it is not the usual one"""

    @property
    def name(self) -> str:
        """Design, place, route, selector."""
        return f"{self.trial.design} {self.trial.row} {self.region} {self.route} {self.selector}".strip()

    @property
    def usual(self) -> bool:
        """Whether it is on the usual route of its design."""
        return self.route == routes_of(self.trial.design)[0]


def sound_units() -> Iterator[Sound]:
    """All of them."""
    for region, (volts, designs) in PLACES.items():
        for design in designs:
            for route in routes_of(design):
                yield Sound(trial=Trial(row="sound", design=design, mains=volts), region=region, route=route)
    for region in ("gb", "eu"):
        for route in routes_of("tb-rec1"):
            yield Sound(trial=_set_lower(230.0), region=region, route=route, selector=LOWER)


def _set_lower(volts: float) -> Trial:
    change: Mapping[str, Any] = {"selector": LOWER}
    accepts = "a 220 V rating on 230 V mains"
    return Trial(row="sound", design="tb-rec1", change=change, accepts=accepts, mains=volts)


def run_sound(sound: Sound, *, seed: int = 0) -> Outcome:
    """Walk it at a bench of its own region."""
    return run(sound.trial, route=sound.route, seed=seed, region=sound.region)
