"""What an author of sequences gets wrong is told at its line and column, with what was expected or probably meant."""

import pytest

from tests.sequences.checks.test_references import NAME, complaints, sequence

LIVE = "supply: full\ncautions: [mains-live]\n"
ASK = "  - ask: colour\n    say: Which?\n    answers: [{answer: red}, {answer: blue}]\n"


def measure(lines: str, function: str = "resistance") -> str:
    return f"  - measure: a\n    say: Read.\n    function: {function}\n{lines}"


MISTAKES = [
    # values that a fact or an answer can never have
    (sequence("  - photo: a\n    say: Now.\n    when: {plug: molded}\n"), "6:18", "mean moulded?"),
    (sequence("  - photo: a\n    say: Now.\n    when: {class: 2}\n"), "6:19", "mean II?"),
    (sequence("  - photo: a\n    say: Now.\n    when: {class: [I, IV]}\n"), "6:23", "“class” is never “IV”"),
    (sequence("  - photo: a\n    say: Now.\n    when: {bare metal: maybe}\n"), "6:24", "expected true or false"),
    (sequence("  - photo: a\n    say: Now.\n    when: {cord length: 2 m}\n"), "6:25", "a number in SI units"),
    (sequence("  - photo: a\n    say: Now.\n    when: {design: tb-mu11}\n"), "6:20", "mean tb-mu1?"),
    (sequence("  - photo: a\n    say: Now.\n", "fits: {plug: molded}\n"), "3:14", "mean moulded?"),
    (sequence(f"{ASK}  - photo: a\n    say: Now.\n    when: {{colour: bleu}}\n"), "9:20", "mean blue?"),
    (
        sequence("  - inspect: a\n    say: Look.\n    checkpoints: [{check: b, say: Ok?, when: {plug: x1}}]\n"),
        "6:53",
        "x1",
    ),
    # what comes later, or gives nothing to compare with
    (sequence(f"  - photo: a\n    say: Now.\n    when: {{colour: red}}\n{ASK}"), "6:20", "comes only on line 7"),
    (
        sequence("  - compute: b\n    say: Sum.\n    value: a * 2\n    unit: ohm\n" + measure("")),
        "6:12",
        "comes only on line 8, after this",
    ),
    (
        sequence("  - compute: b\n    say: Sum.\n    value: own.a * 2\n    unit: ohm\n" + measure("")),
        "6:12",
        "comes only on line 8, after this",
    ),
    (sequence(measure("") + "  - photo: b\n    say: Now.\n    when: {a: 3}\n"), "9:15", "is a step to measure"),
    # set-ups
    (sequence(measure("    set up: [swich on]\n")), "7:14", "mean switch on?"),
    (sequence(measure("    set up: [switch on, the lid is open]\n")), "7:25", "or “see that …”"),
    (sequence(measure("    set up: [15 ohm load on a.1 and a.2]\n")), "7:14", "expected load of 15 ohm on outlet.1"),
    (sequence(measure("    set up: [load of 15 on outlet.1 and outlet.2]\n")), "7:14", '"15" has no unit'),
    (sequence(measure("    set up: [load of 15 V on outlet.1 and outlet.2]\n")), "7:14", "a resistance is needed here"),
    (sequence(measure("    set up: [speed at 19]\n")), "7:14", "no circuit has a switch “speed”"),
    (sequence(measure("    set up: [powr at on]\n")), "7:14", "mean power?"),
    # mains, ohmmeters and bare probes
    (sequence(measure(""), LIVE), "8:15", "is measured without power"),
    (sequence(measure("", "insulation"), LIVE), "8:15", "is measured without power"),
    (sequence(measure("", "continuity"), LIVE), "8:15", "is measured without power"),
    (sequence(measure("", "earth continuity"), LIVE), "8:15", "is measured without power"),
    (sequence("  - probe: a\n    say: Read.\n    what: [continuity]\n", LIVE), "8:12", "is probed with an ohmmeter"),
    (sequence(measure("    at: [supply.L, supply.N]\n", "AC voltage"), LIVE), "9:9", "bare probes to the mains"),
    (sequence(measure("    at: [supply.L, case]\n", "AC voltage")), "7:9", "bare probes to the mains"),
    (sequence(measure("    at: [supply.L, supply.N]\n", "mains voltage"), LIVE), "9:9", "plug-in meter"),
    (sequence("  - photo: a\n    say: Now.\n", "supply: full\n"), "3:9", "names no caution"),
    (sequence("  - photo: a\n    say: Now.\n", "supply: limited\n"), "3:9", "expected cautions: [mains-live]"),
    (sequence(measure("    accept: limit insulation\n", "insulation")), "4:3", "[insulation-test]"),
    (sequence(measure("    at: [outlt.1, outlet.2]\n")), "7:10", "mean outlet.1?"),
    (sequence("  - probe: a\n    say: Read.\n    connector: outlt\n    what: [unused]\n"), "6:16", "mean outlet?"),
    # one terminal twice, a stop inside the band, a part that nothing has
    (sequence(measure("    at: [case, case]\n")), "7:9", "both probes are on “case”"),
    (
        sequence(measure("    accept: at most 0.3 A\n    stop above: 0.2 A\n", "AC current"), LIVE),
        "10:17",
        "expected 300 mA or more",
    ),
    (
        sequence(measure("    accept: 9 V ± 10 %\n    stop above: 9.5 V\n", "DC voltage"), LIVE),
        "10:17",
        "lies inside what is accepted",
    ),
    (sequence(measure("    accept: at most 3 ohm\n    fault: {part: primry, words: Odd.}\n")), "8:19", "mean primary?"),
    (
        sequence(
            "  - inspect: a\n    say: L.\n    checkpoints: [{check: b, say: Ok?, fault: {part: cse, words: Odd}}]\n"
        ),
        "6:",
        "no circuit has a part “cse”",
    ),
    (
        sequence(
            "  - ask: a\n    say: X?\n    answers: [{answer: no, judgement: fail, fault: {part: pulg, words: Odd}}]\n"
        ),
        "6:",
        "mean plug?",
    ),
    # words of the trade that are not ours
    (sequence(measure("    keep: max\n")), "7:11", "mean highest?"),
    (sequence(measure("    accept: max 3 ohm\n")), "7:13", "Did you mean “at most 3 ohm”?"),
    (sequence(measure("    accept: 8 V to 14 V\n", "DC voltage"), LIVE), "9:13", "“between 8 V and 14 V”"),
    (sequence(measure("", "ohms")), "6:15", "mean resistance?"),
    (sequence(measure("", "AC volts")), "6:15", "mean AC voltage?"),
    (sequence("  - mesure: a\n    say: Read.\n    function: resistance\n"), "4:5", "mean measure?"),
    (sequence("  - picture: a\n    say: Take it.\n"), "4:5", "mean photo?"),
    (sequence("  - photo: a\n    say: Now.\n", "supply: on\n"), "3:9", "mean full?"),
    (sequence(measure("    at: [case]\n")), "7:9", "[case] is too short; expected 2 entries"),
    (sequence("  - photo: Front Plate\n    say: Now.\n"), "4:12", "mean front-plate?"),
]


@pytest.mark.parametrize(("text", "location", "words"), MISTAKES, ids=lambda value: value if len(value) < 60 else "")
def test_a_mistake_is_told_once_at_its_place(text, location, words):
    found = complaints(text)
    assert len(found) == 1, found
    assert found[0].startswith(f"{NAME}:{location}"), found
    assert words in found[0]


@pytest.mark.parametrize(
    "text",
    [
        sequence("  - photo: a\n    say: Now.\n    when: {plug: [moulded, rewirable], class: ii, bare metal: yes}\n"),
        sequence(f"{ASK}  - photo: a\n    say: Now.\n    when: {{colour: [Red, blue]}}\n"),
        sequence(measure("    set up: [switch on, fuse in, L and N joined, see that the lid is open]\n")),
        sequence(measure("    set up: [power at off, selector at 220 V]\n")),
        sequence(measure("    accept: at most 0.2 A\n    stop above: 0.2 A\n", "AC current"), LIVE),
        sequence(measure("    at: [supply.L, supply.N]\n    accept: limit voltage-low\n", "DC voltage")),
        sequence(measure("    accept: at most 3 ohm\n    fault: {part: rating plate, words: It is loose.}\n")),
    ],
)
def test_what_is_right_is_not_complained_about(text):
    assert complaints(text) == []


def test_patterns_and_inner_names_are_shown_to_nobody():
    for text, *_ in MISTAKES:
        for line in complaints(text):
            assert not set("^$\\") & set(line), line
            assert not any(word in line for word in ("regex", "tuple", "None", "dict", "_", "Step", "'")), line
