"""IEC 60063:2015 (IEC 63 in 1952): the preferred values.

Status of all rows: confirmed (encyclopedia; radio club table); the exception 920 of E192: from memory.
"""

import pytest

from benchapp.quantities.preferred import Series, series_values

PUBLISHED = {
    "E3": "10 22 47",
    "E6": "10 15 22 33 47 68",
    "E12": "10 12 15 18 22 27 33 39 47 56 68 82",
    "E24": "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91",
    "E48": """
        100 105 110 115 121 127 133 140 147 154 162 169 178 187 196 205 215 226 237 249 261 274 287
        301 316 332 348 365 383 402 422 442 464 487 511 536 562 590 619 649 681 715 750 787 825 866
        909 953
    """,
    "E96": """
        100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169
        174 178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294
        301 309 316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511
        523 536 549 562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887
        909 931 953 976
    """,
}


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_series_is_the_published_one(name):
    assert list(series_values(Series(name))) == [int(value) for value in PUBLISHED[name].split()]


def test_e192_holds_all_of_e96_and_the_value_920():
    values = series_values(Series.E192)
    assert len(values) == 192
    assert set(series_values(Series.E96)) <= set(values)
    assert 920 in values
    assert 919 not in values
    assert values[-1] == 988


def test_every_other_value_of_a_series_makes_the_coarser_one():
    for fine, coarse in [("E6", "E3"), ("E12", "E6"), ("E24", "E12"), ("E96", "E48"), ("E192", "E96")]:
        assert series_values(Series(fine))[::2] == series_values(Series(coarse))
