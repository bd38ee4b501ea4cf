"""What a cord's conductors add to a limit, and what current it may carry."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitFacts:
    """What must be known of a unit before its limits can be: areas in m², lengths in m, °C and W."""

    equipment_class: str
    cord_area: float | None = None
    cord_length: float | None = None
    conductor_temperature: float = 20.0
    power: float | None = None
    tinned: bool = False
    heating: bool = False
    hand_held: bool = False
    surge_suppressor: bool = False
    moulded_plug: bool = False
