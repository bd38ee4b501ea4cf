"""A trap of the Qt binding, and the test that says when it comes back.

PySide6 6.12.0 loses one reference to None at every call that returns nothing (CPython 3.11); the process aborts after a
few thousand. The dependency is held below it.
"""

import sys

from PySide6.QtCore import QObject


def test_five_hundred_calls_that_return_nothing_keep_every_reference_to_none():
    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(500):
        thing.setObjectName("x")
    assert abs(sys.getrefcount(None) - before) < 50
