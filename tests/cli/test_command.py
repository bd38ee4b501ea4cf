"""The command itself: exit codes, one line of complaint, never a traceback."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.cli import main

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


def test_help_names_every_command(capsys):
    with pytest.raises(SystemExit) as stopped:
        main(["--help"])
    assert stopped.value.code == 0
    out = capsys.readouterr().out
    for name in ("window", "band", "read", "limits", "check", "tags", "verify"):
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
