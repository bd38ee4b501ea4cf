"""Which settings fit the mains of a place, by one rule: 10 % over the setting reaches the place's highest legal volts.

The tops are those of the law and of standards: 253 V in Great Britain, the European Union and Australia (ESQCR 2002,
S.I. 2002/2665; EN 50160; AS 60038), 243.8 V in New Zealand (Electricity (Safety) Regulations 2010), 126 V and 127 V in
the United States (ANSI C84.1-2020, Range A and B). The 10 % is from memory of product standards. All is calculated.
"""

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.mains_fit import FrequencyFit, VoltageFit, frequency_fit, legal_range, voltage_fit
from benchapp.judgement.limits.profiles import LimitProfile

FITTING = {
    "gb": ((230, 240, 250), (220, 210, 200, 130, 120, 110)),
    "eu": ((230, 240, 250), (220, 210, 200, 130, 120, 110)),
    "au": ((230, 240, 250), (220, 210, 200, 130, 120, 110)),
    "nz": ((230, 240, 250), (220, 210, 200, 130, 120, 110)),
    "us": ((120, 117, 125, 127, 115), (110, 100)),
}
"""By region: settings that fit, and settings that are too low."""
TOO_LOW = {VoltageFit.to_accept, VoltageFit.burns}


def profile(region):
    return build_model(read_document(shipped_folder("resources") / "limits" / f"{region}.yaml"), LimitProfile)


@pytest.mark.parametrize("region", FITTING)
def test_a_setting_fits_where_ten_per_cent_over_it_reaches_the_top_of_the_legal_range(region):
    place, (good, bad) = legal_range(profile(region).mains), FITTING[region]
    assert all(voltage_fit(place, volts).opens for volts in good)
    assert {voltage_fit(place, volts) for volts in bad} <= TOO_LOW


def test_115_v_does_not_fit_range_b_of_the_united_states():
    us = profile("us")
    range_b = legal_range(us.supplied_by("United States, at the outlet, Range B").mains)
    assert voltage_fit(range_b, 115) is VoltageFit.to_accept
    assert all(voltage_fit(range_b, volts).opens for volts in (117, 120))


@pytest.mark.parametrize("region", ["gb", "eu", "au"])
def test_220_v_on_230_v_is_for_a_supervisor_to_accept_and_less_is_for_nobody(region):
    place = legal_range(profile(region).mains)
    assert voltage_fit(place, 220) is VoltageFit.to_accept
    assert {voltage_fit(place, volts) for volts in (219, 210, 200, 120)} == {VoltageFit.burns}


@pytest.mark.parametrize(
    ("region", "volts", "fit"),
    [("gb", 240, "fits"), ("gb", 250, "weak"), ("eu", 240, "weak"), ("us", 127, "weak"), ("us", 230, "starved")],
)
def test_a_setting_too_high_is_weak_and_one_that_nothing_reaches_is_starved(region, volts, fit):
    assert voltage_fit(legal_range(profile(region).mains), volts) == fit


# 60 Hz iron on 50 Hz carries 20 % more flux (makers' notes; engineering page); motors follow the frequency
@pytest.mark.parametrize(
    ("region", "hertz", "fit"),
    [
        ("gb", 50.0, FrequencyFit.fits),
        ("gb", 60.0, FrequencyFit.too_low),
        ("us", 60.0, FrequencyFit.fits),
        ("us", 50.0, FrequencyFit.too_high),
    ],
)
def test_a_frequency_is_held_against_the_place_s(region, hertz, fit):
    assert frequency_fit(profile(region).mains, hertz) is fit
