"""Every complaint about a file comes with its line and column, and with the spelling that was probably meant."""

import pytest

from benchapp.files.locations import FileProblems
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.catalogue import catalogue_from_texts, read_texts
from benchapp.sequences.planning.entries import EntryKind
from tests.sequences.bench import catalogue

NAME = "sequences/own.yaml"


def complaints(text: str, name: str = NAME, **others: str) -> list[str]:
    texts = {**catalogue().texts, **{key.replace("_", "/"): value for key, value in others.items()}, name: text}
    found, documents, problems = read_texts(texts)
    return [str(one) for one in (problems or check_references(found, documents))]


def sequence(step: str, header: str = "") -> str:
    return f"sequence: own\ntitle: Our own\n{header}steps:\n{step}"


def test_shipped_files_have_nothing_to_complain_about():
    found, documents, problems = read_texts(catalogue().texts)
    assert problems == []
    assert check_references(found, documents) == []


@pytest.mark.parametrize(
    ("step", "location", "words"),
    [
        ("  - measure: a\n    say: Read.\n    function: resistence\n", "6:15", "did you mean resistance?"),
        ("  - measure: a\n    say: Read.\n    function: resistance\n    accept: at most 2 V\n", "7:21", "a voltage"),
        ("  - measure: a\n    say: Read.\n    function: DC voltage\n    waveform: square\n", "7:15", "no waveform"),
        ("  - measure: a\n    say: Read.\n    function: resistance\n    accept: about 2\n", "7:13", "about"),
        (
            "  - measure: a\n    say: Read.\n    function: resistance\n    accept: limit insulatoin\n",
            "7:13",
            "mean insulation?",
        ),
        ("  - measure: a\n    say: Read.\n    function: resistance\n    accept: from wiring\n", "4:5", "two terminals"),
        (
            "  - measure: a\n    say: Read.\n    function: AC voltage\n    accept: 2 * mians ± 1 %\n",
            "7:13",
            "called “mians”",
        ),
        ("  - wait: a\n    say: Wait.\n    time: 5 V\n", "6:", "time"),
        ("  - ask: a\n    say: Which?\n", "4:", "answers or value"),
        ("  - ask: a\n    say: Which?\n    when: {plgu: moulded}\n    answers: [{answer: yes}]\n", "6:", "plug"),
        ("  - compute: a\n    say: Sum.\n    value: 1 V + 1 ohm\n    unit: V\n", "6:16", "resistance cannot be added"),
        ("  - compute: a\n    say: Sum.\n    value: 1 V * 2\n    unit: ohm\n", "6:", "a voltage"),
        (
            '  - compute: a\n    say: Less?\n    value: 1 V < 2 V\n    unit: "%"\n',
            "6:12",
            "this comes to true or false, not to a value",
        ),
        (
            '  - compute: a\n    say: Share.\n    value: 1 V / (3 V) * 100\n    unit: "%"\n',
            "6:26",
            "× 100 would make 3 % into 300 %; expected the share without × 100",
        ),
        (
            '  - compute: a\n    say: Share.\n    value: 1 V / (3 V)\n    unit: "%"\n    accept: at most 3\n',
            "8:21",
            "“3” has no unit, and the reading is in %: write 3 %, or what it is in %",
        ),
        (
            "  - measure: a\n    say: Read.\n    function: AC voltage\n    accept: 9 V ± 3\n",
            "7:19",
            "“3” has no unit: write 3 V or 3 %",
        ),
        (
            "  - compute: a\n    say: Square.\n    value: (2 V)^2\n    unit: V\n",
            "6:12",
            "this comes to a quantity in V², not to a voltage as its unit V says",
        ),
        ("  - ask: a\n    say: X?\n    answers: [{answer: yes}]\n  - photo: a\n    say: Take it.\n", "7:", "already"),
        ("  - photo: a\n    say: Take it.\n    colour: red\n", "6:5", "not known here"),
        ("  - foto: a\n    say: Take it.\n", "4:5", "did you mean photo?"),
        ("  - photo: a\n    say: Take it.\n    shows: [plug]\n", "6:13", "inspect, work or ask step"),
    ],
)
def test_wrong_step_is_complained_about_at_its_place(step, location, words):
    found = complaints(sequence(step))
    assert len(found) == 1, found
    assert found[0].startswith(f"{NAME}:{location}")
    assert words in found[0]


@pytest.mark.parametrize(
    ("role", "step"),
    [
        ("earth continuity", "function: earth continuity\n    accept: at most 5 ohm"),
        ("earth continuity", "function: resistance\n    accept: limit earth-continuity"),
        ("insulation", "function: insulation\n    accept: limit insulation"),
        (
            "insulation",
            "function: insulation\n    accept: at least 1 Mohm\n    set up: [switch on, fuse in, L and N joined]",
        ),
        ("insulation", "function: insulation\n    accept: limit insulation\n    set up: [switch on, fuse in]"),
        ("primary continuity", "function: resistance\n    accept: at least 1 ohm\n    at: [supply.L, supply.N]"),
        ("primary continuity", "function: resistance\n    accept: at most 1 kohm\n    at: [outlet.1, outlet.2]"),
        ("leads proved", "function: resistance\n    accept: at most 50 ohm"),
        ("leads proved", "function: resistance\n    accept: at least 1 ohm"),
        ("voltage low", "function: DC voltage\n    accept: at most 500 V"),
        ("limited power", "function: AC current\n    accept: at most 1 A"),
        ("mains", "function: mains voltage\n    accept: between 1 V and 999 V"),
        ("visual", "function: resistance\n    accept: at most 1 ohm"),
        ("polarity", "function: AC voltage\n    accept: at most 1 V"),
    ],
)
def test_role_that_a_step_is_not_fit_to_show_is_refused(role, step):
    found = complaints(sequence(f"  - measure: a\n    say: Read.\n    {step}\n    shows: [{role}]\n"))
    assert any(f"cannot show “{role}”" in one for one in found), found


@pytest.mark.parametrize(
    ("role", "step", "words"),
    [
        (
            "insulation",
            "function: insulation\n    accept: at least 1 Mohm",
            "what it accepts has to be “limit insulation”",
        ),
        ("limited power", "function: AC current\n    accept: at most 1 A", "that is shown on limited supply"),
        (
            "earth continuity",
            "function: resistance\n    accept: limit earth-continuity",
            "that is shown with the function",
        ),
    ],
)
def test_what_a_role_asks_for_is_said_as_what_has_to_be(role, step, words):
    found = complaints(sequence(f"  - measure: a\n    say: Read.\n    {step}\n    shows: [{role}]\n"))
    assert any(f"cannot show “{role}”: {words}" in one for one in found), found


def test_a_time_that_is_none_says_how_to_write_one():
    found = complaints(sequence("  - wait: a\n    say: Wait.\n    time: from the wiring\n"))
    words = "“from the wiring” is no time to wait; expected a time like 30 s or 10 min, or from wiring"
    assert any(words in one for one in found), found


def test_dead_roles_cannot_be_shown_with_power_on():
    text = sequence(
        "  - inspect: a\n    say: Look.\n    shows: [visual]\n    checkpoints: [{check: b, say: Fine?}]\n",
        "supply: full\ncautions: [mains-live]\n",
    )
    assert "without power" in complaints(text)[0]


def test_voltage_is_not_judged_on_limited_supply():
    text = sequence(
        "  - measure: a\n    say: Read.\n    function: AC voltage\n    accept: at most 9 V\n",
        "supply: limited\ncautions: [mains-live]\n",
    )
    assert "not judged on limited supply" in complaints(text)[0]


def test_caution_and_sequence_that_do_not_exist():
    text = sequence("  - photo: a\n    say: Take it.\n", "cautions: [mains-life]\nneeds before: [visual-inspektion]\n")
    found = complaints(text)
    assert "did you mean mains-live?" in found[0]
    assert "did you mean visual-inspection?" in found[1]


ROUTE = "route: own\ntitle: Our own\nequipment: [tb-mu1]\nsequences: [{names}]\n{back}"


def route(names: str, back: str = "way back: make-safe\n") -> list[str]:
    return complaints(ROUTE.format(names=names, back=back), "routes/own.yaml")


WHOLE = "visual-inspection, plug-rewire, continuity, insulation, first-power, live-voltage"


def test_route_of_the_shipped_sequences_is_good():
    assert route(WHOLE) == []


def test_route_for_a_kind_of_load_that_is_none_is_complained_about():
    text = ROUTE.format(names=WHOLE, back="way back: make-safe\n")
    text = text.replace("equipment: [tb-mu1]", "fits: {mains fed: true, kind of load: heeter}")
    (found,) = complaints(text, "routes/own.yaml")
    assert "“kind of load” is never “heeter”; did you mean heater?" in found


def test_route_with_live_steps_needs_a_way_back():
    assert "no way back" in route(WHOLE, "")[0]


def test_sequence_that_shows_too_little_is_no_way_back():
    assert "it is no way back" in route(WHOLE, "way back: clean\n")[0]


def test_route_out_of_order_is_complained_about():
    assert "needs “visual-inspection” before it" in route("plug-rewire, visual-inspection")[0]


def test_route_without_a_role_would_never_open():
    own = (
        "sequence: bare-power\ntitle: Bare power\nsupply: limited\ncautions: [mains-live]\nsteps:\n"
        "  - work: plug-in\n    say: Plug it in.\n    do: [Plug it in.]\n"
    )
    texts = {**catalogue().texts, "bare.yaml": own}
    texts["routes/own.yaml"] = ROUTE.format(names="visual-inspection, bare-power", back="way back: make-safe\n")
    found, documents, problems = read_texts(texts)
    assert problems == []
    words = "\n".join(str(one) for one in check_references(found, documents))
    for role in (Role.plug, Role.earth, Role.insulation, Role.primary, Role.polarity):
        assert f"“{role}” on tb-mu1" in words


def test_unknown_equipment_of_a_route():
    found = complaints(ROUTE.format(names="clean", back="").replace("tb-mu1", "tb-mu11"), "routes/own.yaml")
    assert "did you mean tb-mu1?" in found[0]


def test_route_that_names_terminals_its_equipment_does_not_have():
    step = "  - measure: a\n    say: Read.\n    function: resistance\n    at: [socket.7, socket.8]\n"
    texts = {**catalogue().texts, NAME: sequence(step)}
    texts["routes/own.yaml"] = ROUTE.format(names="own", back="")
    found, documents, _ = read_texts(texts)
    words = str(check_references(found, documents)[0])
    assert words.startswith(f"{NAME}:7:10: step “a”: tb-mu1 has no terminal “socket.7”")


def test_worked_case_that_names_what_is_not_there():
    text = sequence("  - photo: a\n    say: Take it.\n") + (
        "worked cases:\n  - case: one\n    equipment: tb-mu9\n    answers: [{step: b, meter: tb-m9, judgement: pass}]\n"
    )
    found = complaints(text)
    assert "tb-mu" in found[0]
    assert "there is no step “b”" in found[1]
    assert "there is no meter “tb-m9”" in found[2]


def test_all_complaints_of_all_files_come_at_once():
    with pytest.raises(FileProblems) as found:
        catalogue_from_texts({"a.yaml": "sequence: X\n", "b.yaml": "route: 5\n"})
    assert len({one.location.file for one in found.value.complaints}) == 2


def test_syntax_error_stands_alone():
    found = complaints("sequence: own\n  title: [")
    assert len(found) == 1


def test_kinds_of_entry_are_plain_words():
    assert all(kind.value.replace("-", "").isalpha() for kind in EntryKind)
