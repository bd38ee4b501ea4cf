"""The command itself: exit codes, one line of complaint, never a traceback."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.cli.command import main

ROOT = Path(__file__).resolve().parents[2]


def run_process(*words, **environment):
    clean = {name: value for name, value in os.environ.items() if name not in {"DISPLAY", "WAYLAND_DISPLAY"}}
    clean.pop("QT_QPA_PLATFORM", None)
    return subprocess.run(
        [sys.executable, "-m", "benchapp", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env=clean | environment,
        timeout=60,
    )


def test_without_a_sub_command_the_window_opens_on_what_is_named(tmp_path):
    opened = []

    def open_window(workbook):
        opened.append(workbook)
        return 0

    assert main([], open_window=open_window) == 0
    assert main(["window"], open_window=open_window) == 0
    assert main(["tarnbeck.workbook"], open_window=open_window) == 0
    assert main(["window", "tarnbeck.workbook"], open_window=open_window) == 0
    assert opened == [None, None, Path("tarnbeck.workbook"), Path("tarnbeck.workbook")]


def test_without_a_display_the_window_says_so_in_one_line():
    done = run_process()
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "benchapp: There is no display to open the window on. Run it on a desktop, or use a sub-command "
        "(benchapp --help).\n"
    )


def test_a_misspelt_command_is_told_the_nearest(capsys):
    assert main(["verfy"]) == 2
    assert capsys.readouterr().err == "benchapp: There is no command 'verfy'. Did you mean verify?\n"


@pytest.mark.parametrize("words", [["band"], ["tags", "x.workbook"], ["band", "1 V", "1 V", "--rule", "odd"]])
def test_missing_or_unknown_words_end_in_one_line_and_exit_2(capsys, words):
    with pytest.raises(SystemExit) as stopped:
        main(words)
    assert stopped.value.code == 2
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["check", ""], "no name was given; name a file"),
        (["rejudge", " "], "no name was given; name a file"),
        (["verify", "sequences"], "sequences is not a bench workbook. Choose a file that this program made."),
        (["verify", "README.md"], "README.md is not a bench workbook."),
        (["follow", "none.workbook", "TB-001"], "There is no file called none.workbook"),
        (["check", "sequences/none.yaml"], "There is nothing at sequences/none.yaml. Check the path."),
        (
            ["plan", "sequences/continuity.yaml"],
            "sequences/continuity.yaml describes no equipment (its key says “sequence”). Name",
        ),
        (
            ["plan", "resources/limits/gb.yaml"],
            "resources/limits/gb.yaml describes no equipment (its key says “limits”). Name",
        ),
        (["expect", ""], "There is no equipment ''. Known are: tb-hp1"),
        (["expect", "tb-mu1", "--mains", "2400 V"], "“2400 V” is far from the 240 V that tb-mu1 is made for."),
        (["expect", "tb-mu1", "--mains", ""], "The measured mains cannot be read. Nothing was typed."),
        (["expect", "tb-mu1", "--mains", "OL"], "“OL” is no mains voltage. Write what was measured, as in 243 V."),
        (["locate", "tb-mu1", "--reading", "plug.L"], "is no reading; write it like"),
        (["band", "9 V ± 5 %", "9 V", "--meter", ""], "There is no meter ''."),
        (["limits", "--region", ""], "There is no region ''."),
        (["read", "\x1b[2J9 V"], 'benchapp: "[2J9 V" holds a character that cannot be seen (U+001B).'),
    ],
)
def test_bad_input_says_what_is_wrong_in_one_line_and_nothing_else(capsys, monkeypatch, words, sentence):
    monkeypatch.chdir(ROOT)
    try:
        code = main(words)
    except SystemExit as stopped:
        code = stopped.code
    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert sentence in err
    assert err.count("\n") == 1
    assert err[:-1].isprintable()


def test_a_file_with_many_mistakes_is_told_the_first_and_how_many_more(capsys, tmp_path):
    file = tmp_path / "meter.yaml"
    file.write_text("equipment: tb-x\ntitel: a\nclas: I\n")
    assert main(["plan", str(file)]) == 2
    err = capsys.readouterr().err
    assert re.search(r"meter\.yaml:1:1: .* \(and \d more; benchapp check lists all of a file\)\n$", err)


def test_what_is_hidden_in_a_folder_is_not_checked(capsys, tmp_path):
    (tmp_path / ".hidden").mkdir()
    (tmp_path / ".hidden" / "wrong.yaml").write_text("a: [")
    assert main(["check", str(tmp_path)]) == 2
    assert "There is no .yaml file in" in capsys.readouterr().err


def test_help_names_every_command(capsys):
    with pytest.raises(SystemExit) as stopped:
        main(["--help"])
    assert stopped.value.code == 0
    out = capsys.readouterr().out
    for name in ("window", "band", "read", "limits", "check", "tags", "verify", "copy"):
        assert name in out


def test_a_console_without_letters_of_ours_still_gets_its_answer():
    done = run_process("band", "9 V ± 10 %", "9.12 V", PYTHONIOENCODING="ascii", PYTHONUTF8="0", LC_ALL="C.UTF-8")
    assert done.returncode == 0
    assert done.stdout.startswith("pass: 9.12 V")
    assert done.stderr == ""


def test_a_reader_that_has_seen_enough_is_no_fault():
    command = f"{sys.executable} -m benchapp limits | head -1"
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.stderr == ""


def test_the_console_loads_nothing_heavy_before_it_is_needed():
    script = (
        "import sys; from benchapp.cli import main; "
        "heavy = {'pint', 'numpy', 'scipy', 'yaml', 'pydantic', 'sqlalchemy', 'alembic', 'reportlab', 'PySide6'}; "
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


words = st.lists(
    st.sampled_from(["band", "read", "check", "verify", "--json", "--meter", "tb-m1", "--kind", "--", "9 V"])
    | st.text(max_size=12),
    max_size=5,
)


@settings(max_examples=150, deadline=None)
@given(given=words)
def test_any_words_whatever_end_in_an_exit_code(given):
    try:
        code = main(given, open_window=lambda _: 0)
    except SystemExit as stopped:
        code = stopped.code
    assert code in {0, 1, 2}


def test_opening_a_window_loads_no_sub_command():
    code = (
        "import sys; from benchapp.cli.command import main\n"
        "main(['some.workbook'], open_window=lambda path: print(path) or 0)\n"
        "print([name for name in sys.modules if name.startswith('benchapp.cli.')])"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == ["some.workbook", "['benchapp.cli.shape', 'benchapp.cli.command']"]
