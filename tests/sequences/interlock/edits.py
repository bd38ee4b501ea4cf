"""Shipped files written otherwise, as an author or an attacker might."""

from tests.sequences.interlock.watched import Edit

EDITS: dict[str, tuple[Edit, ...]] = {
    "as shipped": (),
    "no visual role": (("visual-inspection", "    shows: [visual]\n", ""),),
    "a design that nobody knows": (("resources/equipment/tb-mu1", "class: I ", "design known: false\nclass: I "),),
    "hazards never looked for": (
        ("visual-inspection", "    old hazards: true\n", "    checkpoints: [{check: all, say: All is well.}]\n"),
    ),
    "no plug role": (("plug-rewire", "    shows: [plug]\n", ""),),
    "no polarity role": (("continuity", "[polarity]", "[]"), ("continuity", ", polarity]", "]")),
    "no earth role": (("continuity", "    shows: [earth continuity]\n", ""),),
    "no primary role": (("continuity", "[primary continuity, polarity]", "[polarity]"),),
    "no insulation role": (("insulation", "    shows: [insulation]\n", ""),),
    "no limited power role": (("first-power", "    shows: [limited power]\n", ""),),
    "no leads role": (
        ("continuity", "    shows: [leads proved]\n", ""),
        ("insulation", "    shows: [leads proved]\n", ""),
    ),
    "no order": tuple(
        (name, "needs before", "# needs before") for name in ("insulation", "first-power", "live-voltage")
    ),
    "no cautions": tuple((name, "cautions", "# cautions") for name in ("first-power", "live-voltage", "insulation")),
    "any earth will do": (("continuity", "accept: limit earth-continuity", "accept: at most 5 kohm"),),
    "earth read at live": (("continuity", "at: [supply.E, case]", "at: [supply.E, supply.L]"),),
    "earth read at an output": (("continuity", "at: [supply.E, case]", "at: [supply.E, outputs]"),),
    "earth read by plain ohms": (("continuity", "function: earth continuity", "function: resistance"),),
    "any primary will do": (
        ("continuity", "accept: from wiring\n    shows: [primary", "accept: at least 1 ohm\n    shows: [primary"),
    ),
    "any leads will do": (
        ("continuity", "accept: at most 1 ohm", "accept: at most 100 ohm"),
        ("insulation", "accept: at most 1 ohm", "accept: at most 100 ohm"),
    ),
    "any current will do": (("first-power", "accept: from wiring", "accept: at most 10 A"),),
    "any set-up will do": (("insulation", "    set up: [switch on, fuse in, L and N joined]\n", ""),),
    "insulation behind an open switch": (
        ("insulation", "set up: [switch on, fuse in, L and N joined]", "set up: [switch off, fuse in, L and N joined]"),
    ),
    "outputs never tested": (("insulation", "at: [supply.L, outputs]", "at: [supply.L, case]"),),
    "metal never tested": (("insulation", "at: [supply.L, case]", "at: [supply.L, outputs]"),),
    "full mains at once": (("first-power", "supply: limited", "supply: full"),),
    "limited for ever": (("live-voltage", "supply: full", "supply: limited"),),
    "live called dead": (("live-voltage", "supply: full", "supply: none"),),
    "no proof that it is low": (("make-safe", "    shows: [voltage low]\n", ""),),
    "anything is low": (("make-safe", "accept: limit voltage-low\n    shows", "accept: at most 400 V\n    shows"),),
    "no unplugging": (("make-safe", "    shows: [plug out]\n", ""),),
    "no way back": (("routes/mains-unit", "way back: make-safe\n", ""),),
    "earth for nobody": (
        ("continuity", "when: {class: I}\n    at: [supply.E, case]", "when: {class: III}\n    at: [supply.E, case]"),
    ),
    "a wait for the charge": (
        ("make-safe", "  - work: discharge\n", "  - wait: discharge\n    time: 45 s\n"),
        ("make-safe", "    do:\n      - Insulation tester or leads off, joined pins apart.\n", ""),
        ("make-safe", "      - Half a minute waited, or the output bridged by a resistor.\n", ""),
    ),
    "a wait before signs": (
        ("first-power", "  - ask: signs\n", "  - wait: rest\n    time: 2 min\n    say: Wait.\n  - ask: signs\n"),
    ),
    "a photo after power": (
        ("live-voltage", "  - ask: signs\n", "  - wait: rest\n    time: 2 min\n    say: Wait.\n  - ask: signs\n"),
        ("clean", "  - ask: how\n", "  - photo: finished\n    say: Photograph it.\n  - ask: how\n"),
    ),
    "one more thing to look at": (
        (
            "visual-inspection",
            "      - check: rattle\n",
            "      - check: glass\n        say: No glass is broken.\n      - check: rattle\n",
        ),
    ),
    "a thinner cord": (("resources/equipment/tb-mu1", "area: 0.75 mm²", "area: 0.5 mm²"),),
    "a lower insulation limit": (("resources/limits/gb", "    I:\n      value: 1.0\n", "    I:\n      value: 0.01\n"),),
    "a plate for 120 V": (
        ("resources/equipment/tb-mu1", "voltage: 240 V", "voltage: 120 V"),
        ("resources/equipment/tb-mu1", "rated: 240 V supply", "rated: 120 V supply"),
    ),
    "a plate for 60 Hz": (("resources/equipment/tb-mu1", "frequency: 50 Hz", "frequency: 60 Hz"),),
    "a selector that any word settles": (
        ("visual-inspection", "    answers from: selector\n    fact: selector setting\n", ""),
        ("visual-inspection", "      - answer: none of these,", "      - answer: yes\n      - answer: none of these,"),
    ),
    "a plug-in meter for low mains": (("resources/meters/tb-pm1", "CAT II 300 V", "CAT II 150 V"),),
    "a plug-in meter that is overdue": (("resources/meters/tb-pm1", "due: 2027-04-14", "due: 2026-05-31"),),
}
"""By name; each is worked by as it is, without asking whether the files still fit each other."""
