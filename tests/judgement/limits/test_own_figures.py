"""A source is printed only with the value that it gives: an own figure prints as the workshop's own, with its file."""

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.bands import limit_band
from benchapp.judgement.limits.cords import LimitFacts
from benchapp.judgement.limits.figures import Table
from benchapp.judgement.limits.fuses import choose_fuse
from benchapp.judgement.limits.own_figures import own_places, with_own_sources
from benchapp.judgement.limits.profiles import LimitProfile

CLASS_I = LimitFacts(equipment_class="I", cord_area=0.75e-6, cord_length=1.8)
OWN = "this workshop's own figure (strict.yaml)"


def text_of(region):
    return (shipped_folder("resources") / "limits" / f"{region}.yaml").read_text(encoding="utf-8")


def profile(text):
    return build_model(parse_document(text, "strict.yaml"), LimitProfile)


def changed(below, old, new, region="gb"):
    head, line, tail = text_of(region).partition(below)
    assert old in tail
    own = profile(head + line + tail.replace(old, new, 1))
    return with_own_sources(own, profile(text_of(region)), "strict.yaml")


def lines(band):
    return {line.what: (line.value, line.source) for line in band.derivation}


def test_a_stricter_earth_limit_is_printed_as_the_workshop_s_own_and_the_rest_as_published():
    own = changed("earth continuity:", "value: 0.1", "value: 0.05")
    band = limit_band(own, "earth-continuity", CLASS_I)
    assert lines(band)["base limit"] == ("0.05 ohm", OWN)
    assert lines(band)["protective conductor of 0.75 mm²"][1].startswith("IEC 60228:2004")
    assert f"No published document gives {OWN}." in band.cautions
    assert list(own_places(own)) == [("earth continuity", "base")]


def test_a_published_value_keeps_the_published_source_whatever_the_own_file_names():
    text = text_of("gb").replace("IET Code of Practice", "Tarnbeck Code of Practice")
    own = with_own_sources(profile(text), profile(text_of("gb")), "strict.yaml")
    published = limit_band(profile(text_of("gb")), "insulation", CLASS_I)
    assert limit_band(own, "insulation", CLASS_I) == published
    assert not own_places(own)


def test_a_row_of_a_table_is_the_workshop_s_own_by_itself():
    own = changed("  plain:", "0.75 mm²: 26.0", "0.75 mm²: 25")
    assert lines(limit_band(own, "earth-continuity", CLASS_I))["protective conductor of 0.75 mm²"][1] == OWN
    other = LimitFacts(equipment_class="I", cord_area=1.5e-6, cord_length=1.8)
    assert lines(limit_band(own, "earth-continuity", other))["protective conductor of 1.5 mm²"][1].startswith("IEC")


def test_a_line_of_two_figures_names_the_source_of_each():
    own = changed("  below:", "value: 6", "value: 3")
    tolerance = lines(limit_band(own, "mains-voltage", CLASS_I))["tolerance"]
    assert tolerance[1] == f"10 %: {_mains_source()}; 3 %: {OWN}"


def _mains_source():
    return "ESQCR 2002, S.I. 2002/2665"


def test_a_fuse_rule_of_one_s_own_is_printed_as_such():
    own = changed("  cut over power:", "value: 700", "value: 720")
    choice = choose_fuse(own, 710.0, 0.75e-6)
    assert choice.rating == 3
    assert choice.derivation[0].source == f"720 W: {OWN}; 3 A: BS 1362:1973, preferred ratings"
    assert choice.derivation[1].source.startswith("BS 1363-1")


def test_every_figure_of_a_region_that_is_not_shipped_is_the_workshop_s_own():
    own = with_own_sources(profile(text_of("us").replace("limits: us", "limits: tarnbeck")), None, "strict.yaml")
    single = [one for _, one in own.figures() if not isinstance(one, Table)]
    rows = [row for _, table in own.figures() if isinstance(table, Table) for row in table.figures().values()]
    assert rows
    assert all(figure.cited == OWN for figure in (*single, *rows))


@pytest.mark.parametrize("region", ["au", "eu", "gb", "nz", "us"])
def test_a_copy_of_a_shipped_file_prints_all_that_is_published(region):
    shipped = profile(text_of(region))
    copy = with_own_sources(profile(text_of(region)), shipped, "strict.yaml")
    cited = [(place, figure.cited, figure.words) for place, figure in copy.figures()]
    assert cited == [(place, figure.cited, figure.words) for place, figure in shipped.figures()]
    assert not own_places(copy)
