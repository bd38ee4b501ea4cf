"""Shipped files written otherwise, as an author or an attacker might."""

from tests.sequences.interlock.watched import Edit

TIP = (
    ("resources/equipment/tb-mu1", "points: {case:", "points: {tip: bare metal of the tip, case:"),
    (
        "resources/equipment/tb-mu1",
        "  - winding: primary\n",
        "  - earth: tip-bond\n    between: [case, tip]\n  - winding: primary\n",
    ),
)
"""a second bare metal"""
EDITS: dict[str, tuple[Edit, ...]] = {
    "as shipped": (),
    "no visual role": (("visual-inspection", "    shows: [visual]\n", ""),),
    "a design that nobody knows": (
        ("resources/equipment/tb-mu1", "class: I ", "design known: false\nclass: I "),
        *((name, ", design known: true}", "}") for name in ("first-power", "live-voltage")),
    ),
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
    "earth read at live": (("continuity", "path: earth to metal", "at: [supply.E, supply.L]"),),
    "earth read at an output": (("continuity", "path: earth to metal", "at: [supply.E, outputs]"),),
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
    "outputs never tested": (("insulation", "path: mains to outputs", "path: mains to metal"),),
    "metal never tested": (("insulation", "path: mains to metal", "path: mains to outputs"),),
    "a tip that no earth reading reaches": (*TIP, ("continuity", "path: earth to metal", "at: [supply.E, case]")),
    "a tip that no insulation test reaches": (*TIP, ("insulation", "path: mains to metal", "at: [supply.L, case]")),
    "polarity at two pairs of three": (
        ("continuity", "    shows: [polarity]\n\n  - measure: primary", "\n  - measure: primary"),
    ),
    "a plug that nobody opens": (("plug-rewire", "    opens: [plug]\n    shows: [plug]\n", "    opens: [plug]\n"),),
    "a plate of two voltages, both too low": (
        ("resources/equipment/tb-mu1", "voltage: 240 V", "voltage: 100-127 V"),
        ("resources/equipment/tb-mu1", "rated: 240 V supply", "rated: 127 V supply"),
    ),
    "of the plug's outside only its fuse is looked at": (
        ("plug-rewire", "It is out of any socket.\n    shows: [plug]\n", "It is out of any socket.\n"),
    ),
    "hazards of its age and no look at the rest": (
        ("visual-inspection", "tilt it gently.\n    shows: [visual]\n", "tilt it gently.\n"),
        ("visual-inspection", "    when: {mains fed: true}\n    shows: [visual]\n", "    when: {mains fed: true}\n"),
    ),
    "full mains at once": (("first-power", "supply: limited", "supply: full"),),
    "limited for ever": (("live-voltage", "supply: full", "supply: limited"),),
    "live called dead": (("live-voltage", "supply: full", "supply: none"),),
    "no proof that it is low": (("make-safe", "    shows: [voltage low]\n", ""),),
    "anything is low": (("make-safe", "accept: limit voltage-low\n    shows", "accept: at most 400 V\n    shows"),),
    "no unplugging": (("make-safe", "    shows: [plug out]\n", ""),),
    "no way back": (("routes/mains-unit", "way back: make-safe\n", ""),),
    "earth for nobody": (
        ("continuity", "when: {class: I}\n    path: earth to metal", "when: {class: III}\n    path: earth to metal"),
    ),
    "a wait for the charge": (("make-safe", "    time: from wiring\n", "    time: 45 s\n"),),
    "a word for the charge": (
        ("make-safe", "  - wait: discharge\n", "  - work: discharge\n"),
        ("make-safe", "    time: from wiring\n", "    do: [It has let go.]\n"),
    ),
    "an answer for the charge": (
        ("make-safe", "  - wait: discharge\n", "  - ask: discharge\n"),
        ("make-safe", "    time: from wiring\n", "    answers: [{answer: gone}, {answer: not, judgement: fail}]\n"),
    ),
    "a word for the meter proved again": (
        ("make-safe", "  - work: prove-again\n", "  - ask: prove-again\n"),
        (
            "make-safe",
            "    do:\n      - The same",
            "    answers: [{answer: yes}, {answer: not, judgement: fail}]\n  # ",
        ),
    ),
    "what can be touched is not read": (("make-safe", "path: live to what can be touched", "path: across outputs"),),
    "low behind an open switch": (("make-safe", "set up: [switch on, fuse in]", "set up: [switch off, fuse in]"),),
    "low without a set-up": (("make-safe", "    set up: [switch on, fuse in]\n", ""),),
    "low on DC alone": (("make-safe", "    also: AC voltage\n", ""),),
    "no caution on the way back": (("make-safe", "cautions: [stored-charge]\n", ""),),
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
