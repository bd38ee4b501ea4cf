"""Whatever stands in a sequence or route: complaints with a place, or a plan that can be folded; never a traceback."""

from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.checks.worked_cases import run_cases
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.planning.catalogue import read_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import START, catalogue

TEXTS = catalogue().texts_for("mains-unit", "tb-mu1", ("tb-m1", "tb-it1", "tb-pm1"))
EDITABLE = sorted(name for name in TEXTS if name.startswith("sequences/"))
WORDS = [
    "",
    "{}",
    "[]",
    "5",
    "null",
    "yes",
    "-",
    "say: x",
    "accept: 1 V",
    "when: {plug: 5}",
    "at: [a, b]",
    "supply: full",
]


@st.composite
def spoilt_texts(draw):
    """The shipped texts with a few lines of one file dropped, doubled, moved or replaced."""
    name = draw(st.sampled_from(EDITABLE))
    lines = TEXTS[name].split("\n")
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(lines) - 1))
        how = draw(st.sampled_from(["drop", "double", "replace", "indent", "word"]))
        if how == "drop":
            del lines[at]
            lines = lines or [""]
        elif how == "double":
            lines.insert(at, lines[at])
        elif how == "replace":
            lines[at] = lines[draw(st.integers(0, len(lines) - 1))]
        elif how == "indent":
            lines[at] = "  " + lines[at]
        else:
            key, colon, _ = lines[at].partition(":")
            lines[at] = f"{key}{colon} {draw(st.sampled_from(WORDS))}"
    return {**TEXTS, name: "\n".join(lines)}


@settings(max_examples=60)
@given(spoilt_texts())
def test_spoilt_files_are_complained_about_or_good(texts):
    found, documents, complaints = read_texts(texts)
    complaints = complaints or check_references(found, documents)
    assert all(str(one).count(":") >= 2 and one.location.line > 0 for one in complaints)
    try:
        plan = make_plan(found, "mains-unit", "tb-mu1", staffed())
    except BenchError:
        return
    assert fold(plan, (), at=START.isoformat()).due
    for name in found.sequences:
        run_cases(found, name)
