"""Faults drawn by seed from the shares of classes and modes, as changes of a netlist, each with its true place.

`python3 -m tests.judge.drawing` writes them into faults.yaml. What stands there was drawn before anything was tuned by
it: a test holds that the seed gives the same list still.
"""

from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from functools import cache
from math import exp, log
from random import Random
from typing import Any

import yaml

from tests.judge.design import FOLDER, Design, both, design, designs

SEED = "Tarnbeck 1968"
STEADY, FLICKERING, DOUBLE = 36, 6, 6
"""faults of each design: single ones that stay, joints that come and go, two at once"""
MOST_ALIKE = 2
"""times that the same fault of the same part is drawn; those with a size differ in it"""
ROUND = ("1", "4", "2", "5", "3")
"""the pins of a five-pin circle in the order in which they stand (IEC 60130-9, from memory)"""
FAULTS = FOLDER / "faults.yaml"


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One thing wrong. Any of `truth` names its place: a part by the drawing's name, or two pins as "a, b"."""

    words: str
    change: dict[str, Any]
    truth: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Case:
    """A unit to be searched: its faults, of a kind ("steady", "flickering" or "double")."""

    name: str
    design: str
    kind: str
    faults: tuple[Fault, ...]

    @property
    def change(self) -> dict[str, Any]:
        """All changes of its netlist together."""
        whole: dict[str, Any] = {}
        for fault in self.faults:
            whole = both(whole, fault.change)
        return whole


@cache
def shares() -> Mapping[str, Any]:
    """Classes, modes and sizes."""
    said: Mapping[str, Any] = yaml.safe_load((FOLDER / "shares.yaml").read_text(encoding="utf-8"))
    return said


def draw(of: Design) -> list[Case]:
    """All cases of one design."""
    chance = Random(f"{SEED} {of.name}")
    steady = _several(of, chance, STEADY, flickering=False)
    flickering = _several(of, chance, FLICKERING, flickering=True)
    cases = [(f"{of.name} {n + 1:02}", "steady", (one,)) for n, one in enumerate(steady)]
    cases += [(f"{of.name} flickers {n + 1}", "flickering", (one,)) for n, one in enumerate(flickering)]
    pairs = [tuple(chance.sample(steady, 2)) for _ in range(40 * DOUBLE)]
    apart = [pair for pair in pairs if _apart(*pair)][:DOUBLE]
    cases += [(f"{of.name} two {n + 1}", "double", pair) for n, pair in enumerate(apart)]
    return [Case(name=name, design=of.name, kind=kind, faults=faults) for name, kind, faults in cases]


def _apart(one: Fault, other: Fault) -> bool:
    """Whether both change the netlist, and different parts of it."""
    touched = [{*c.get("without", ()), *c.get("set", {}), *c.get("with", {})} for c in (one.change, other.change)]
    return all(touched) and not touched[0] & touched[1] and not set(one.truth) & set(other.truth)


def _several(of: Design, chance: Random, count: int, *, flickering: bool) -> list[Fault]:
    ways = [(*way, weight) for *way, weight in _ways(of) if (way[1] == "flickers") == flickering]
    found: list[Fault] = []
    alike: dict[tuple[str, str], int] = {}
    for _ in range(400):
        subject, mode, _ = chance.choices(ways, [way[-1] for way in ways])[0]
        if alike.get((subject, mode), 0) < MOST_ALIKE and len(found) < count:
            alike[subject, mode] = alike.get((subject, mode), 0) + 1
            found.append(_fault(of, subject, mode, chance))
    return found


def _ways(of: Design) -> Iterator[tuple[str, str, float]]:
    """What can go wrong, how, and how often: a part, an insulation or a connector, a mode, a weight."""
    subjects: dict[str, list[str]] = {}
    for part in of.breakable():
        subjects.setdefault(of.class_of(part), []).append(part)
    subjects["insulation"] = list(of.about.get("insulation", ()))
    subjects["outlet"] = [name for name, pins in of.about["connectors"].items() if name != "inlet"]
    subjects["plug"] = ["plug"] if of.about["mains nodes"] else []
    for kind, members in subjects.items():
        modes = shares()["modes"][kind]
        for member in members:
            for mode, share in modes.items():
                yield member, mode, shares()["classes"][kind] / len(members) * share / 100


def _size(mode: str, chance: Random) -> float:
    low, high = shares()["sizes"][mode]
    return float(f"{exp(chance.uniform(log(low), log(high))):.3g}")


def _fault(of: Design, subject: str, mode: str, chance: Random) -> Fault:
    if subject == "plug" or subject in of.about["connectors"]:
        return _of_pins(of, subject, mode, chance)
    if mode in ("leak", "leak at it"):
        return _leak(of, subject, mode, chance)
    if mode == "cores shorted":
        return _cores(of, subject, chance)
    truth = (of.called(subject),)
    if mode in ("wrong rating", "welded", "dried"):
        return Fault(words=f"{subject}: {mode}", change={}, truth=truth)
    if mode == "open":
        return Fault(words=f"{subject}: open", change={"without": [subject]}, truth=truth)
    if mode == "flickers":
        bad = chance.choice((float("inf"), _size("high", chance)))
        change = {"set": {subject: {"value": bad}}}
        return Fault(words=f"{subject}: comes and goes, {bad:g} ohm when bad", change=change, truth=truth)
    size = _size(mode, chance)
    if mode in ("shorted", "leaky"):
        across = {f"across {subject}": {"resistor": list(of.ends(subject)), "value": size}}
        return Fault(words=f"{subject}: {mode}, {size:g} ohm", change={"with": across}, truth=truth)
    before = float(of.parts[subject].get("value", 0.02))
    value = {"high": before + size, "drifted": before * size}.get(mode, before * (1 - size))
    change = {"set": {subject: {"value": round(value, 4)}}}
    return Fault(words=f"{subject}: {mode}, {size:g}", change=change, truth=truth)


def _leak(of: Design, subject: str, mode: str, chance: Random) -> Fault:
    """A path through an insulation, at any node of either side; of a part, at one of its own ends."""
    walls = list(of.about["insulation"])
    own = set(of.together(of.ends(subject)[0])) if mode == "leak at it" else set()
    near = [wall for wall in walls if mode == "leak" or own & set(of.ends(wall))] or walls
    wall = subject if mode == "leak" else chance.choice(near)
    sides = [list(of.together(end)) for end in of.ends(wall)]
    if mode == "leak at it":
        sides = [list(of.ends(subject)) if own & set(side) else side for side in sides]
    a, b = (chance.choice(side) for side in sides)
    size = _size(mode, chance)
    truth = tuple(of.called(one) for one in walls if _keeps_apart(of, one, a, b))
    truth = truth if mode == "leak" else (*truth, of.called(subject))
    change = {"with": {"the leak": {"resistor": [a, b], "value": size}}}
    return Fault(words=f"{wall}: {size:g} ohm from {a} to {b}", change=change, truth=truth)


def _keeps_apart(of: Design, wall: str, a: str, b: str) -> bool:
    """Whether the two nodes lie on the two sides of that insulation; where sides are joined, on those of two."""
    one, other = (of.together(end) for end in of.ends(wall))
    return (a in one and b in other) or (b in one and a in other)


def _cores(of: Design, subject: str, chance: Random) -> Fault:
    """Two cores of a cord touch at its far end."""
    cores = [part for part in of.breakable() if of.class_of(part) == "cord"]
    other = chance.choice([core for core in cores if core != subject])
    ends, size = [of.ends(core)[1] for core in (subject, other)], _size("cores shorted", chance)
    pins = ", ".join(_pin(of, core) for core in (subject, other))
    change = {"with": {"the touch": {"resistor": ends, "value": size}}}
    words = f"{subject} and {other} touch: {size:g} ohm"
    return Fault(words=words, change=change, truth=(of.called(subject), of.called(other), pins))


def _pin(of: Design, core: str) -> str:
    """The plug's pin at which a core ends: live behind the fuse."""
    near = of.ends(core)[0]
    return near if near.startswith("plug.") else "plug.L"


def _of_pins(of: Design, connector: str, mode: str, chance: Random) -> Fault:
    if connector == "plug" and mode in ("open", "loose or burnt"):
        core = chance.choice([part for part in of.breakable() if of.class_of(part) == "cord"])
        truth = (of.called(core), "plug-fuse") if _pin(of, core) == "plug.L" else (of.called(core),)
        if mode == "open":
            return Fault(words=f"{_pin(of, core)}: wire off", change={"without": [core]}, truth=truth)
        size = _size(mode, chance)
        change = {"set": {core: {"value": size}}}
        return Fault(words=f"{_pin(of, core)}: {mode}, {size:g} ohm", change=change, truth=truth)
    wired = {end for part in of.parts for end in of.ends(part)}
    pins = of.about["connectors"].get(connector) or [pin for pin in of.reach[:3] if pin in wired]
    if mode == "bridged":
        return _bridge(list(pins), chance)
    a, b = chance.sample(list(pins), 2)
    return Fault(words=f"{a} and {b}: wires crossed", change={"set": _swapped(of, a, b)}, truth=(f"{a}, {b}",))


def _bridge(pins: list[str], chance: Random) -> Fault:
    """Solder or a stray strand between two pins that stand side by side."""
    stem = pins[0].rpartition(".")[0]
    standing = [f"{stem}.{number}" for number in ROUND] if len(pins) == len(ROUND) else pins
    number, size = chance.randrange(len(standing) - 1), _size("bridged", chance)
    a, b = standing[number : number + 2]
    change = {"with": {"the bridge": {"resistor": [a, b], "value": size}}}
    return Fault(words=f"{a} and {b}: bridged, {size:g} ohm", change=change, truth=(f"{a}, {b}",))


def _swapped(of: Design, a: str, b: str) -> dict[str, Any]:
    """The wires at two pins, each at the other's: what ends at one pin ends at the other, a plug's fuse stays."""
    live = next((of.ends(part)[1] for part in of.parts if of.parts[part].get("place") == "plug"), "plug.L")
    meant = {"plug.L": live}
    a, b = meant.get(a, a), meant.get(b, b)
    found: dict[str, Any] = {}
    for part in of.parts:
        ends = of.ends(part)
        if {a, b} & set(ends) and of.parts[part].get("place") != "plug" and of.kind(part) != "leak":
            found[part] = {of.kind(part): [{a: b, b: a}.get(end, end) for end in ends]}
    return found


def drawn() -> list[Case]:
    """Every case of every design, drawn anew."""
    return [case for name in designs() for case in draw(design(name))]


@cache
def cases() -> tuple[Case, ...]:
    """The list that was fixed."""
    said = yaml.safe_load(FAULTS.read_text(encoding="utf-8"))
    return tuple(
        Case(
            name=one["name"],
            design=one["design"],
            kind=one["kind"],
            faults=tuple(Fault(words=f["words"], change=f["change"], truth=tuple(f["truth"])) for f in one["faults"]),
        )
        for one in said
    )


def _plain(case: Case) -> dict[str, Any]:
    said = asdict(case)
    said["faults"] = [{**fault, "truth": list(fault["truth"])} for fault in said["faults"]]
    return said


def main() -> None:
    """Write the list."""
    head = f"# Drawn from shares.yaml with the seed “{SEED}” by drawing.py, before anything was tuned by it.\n"
    text = "".join(
        "- " + yaml.safe_dump(_plain(case), sort_keys=False, allow_unicode=True, width=10_000, default_flow_style=True)
        for case in drawn()
    )
    FAULTS.write_text(head + text, encoding="utf-8")


if __name__ == "__main__":
    main()
