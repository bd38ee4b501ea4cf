"""On a real X server: keys as fingers strike them, a scanner's burst, one click, and closing."""

import time

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import Clock, prove_meters, take_in
from tests.journeys.real_screen import needs_real_screen, real_screen
from tests.people import staffed


def make_workbook(path):
    with Bench.create(path, clock=Clock(), workshop=staffed()) as bench:
        take_in(bench)
        prove_meters(bench)


@needs_real_screen
def test_on_a_screen_scaled_to_125_percent_the_window_is_whole_and_answers(path):
    make_workbook(path)
    with real_screen(path, scale="1.25") as screen:
        assert screen.until(lambda told: told["focus"] == "board")["whole"]
        screen.key("F2", "ctrl+Home", "Return")
        screen.until(lambda told: told["page"] == "caution")
        screen.type("y")
        assert screen.until(lambda told: told["page"] == "inspect" or "more below" in told["complaint"])["whole"]


@needs_real_screen
def test_keys_a_scan_and_a_click_on_a_real_screen_do_what_they_say(path):
    make_workbook(path)
    with real_screen(path) as screen:
        screen.until(lambda told: told["focus"] == "board")
        screen.key("F2", "ctrl+Home", "Return")
        screen.until(lambda told: told["page"] == "caution")
        screen.type("y")
        rows = screen.until(lambda told: told["page"] == "inspect")
        for marked in (1, 2):
            screen.type("1")
            screen.until(lambda told, marked=marked: told["marked"] == marked)
        screen.type("1")
        asked = screen.until(lambda told: told["page"] == "ask")
        assert (rows["entries"], asked["entries"]) == (1, 2)
        screen.scan("4006381333931")
        said = screen.until(lambda told: "4006381333931" in told["complaint"])
        assert (said["page"], said["entries"]) == ("ask", 2), "a scan is no answer"
        time.sleep(0.3)  # a person reads that first; a key at once is the device's
        screen.type("1")
        screen.until(lambda told: told["address"] == "visual-inspection.outside")
        screen.click("go-lots")
        screen.until(lambda told: told["focus"] == "board")
        screen.key("ctrl+q")
        screen.until(lambda told: "closed" in told)
        assert screen.program.wait(timeout=20) == 0
    with Bench.open(path) as bench:
        answers = [entry.content for entry in bench.entries("TB-001") if entry.kind == "answer"]
        assert [getattr(one, "answer", "") for one in answers] == ["", "rewirable"]
    assert verify_workbook(path) == ()
