"""The tag of each shipped route names all that it leaves untested, on every label that is shipped."""

import pytest

from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import single_tag
from tests.paper.making import all_text, letters, make_tag
from tests.sequences.bench import plan_of

ROUTES = {
    "mains-unit": "tb-mu1",
    "recorder": "tb-rec1",
    "mains-item": "tb-mu1",
    "mains-heater": "tb-hp1",
    "loudspeaker": "tb-ls1",
}


@pytest.mark.parametrize("label", ["a4-2-by-4", "a4-plain-2-by-4", "letter-2-by-3", "roll-62"])
@pytest.mark.parametrize("route", ROUTES)
def test_a_tag_names_everything_that_its_route_leaves_untested(route, label):
    untested = plan_of(route, ROUTES[route]).not_tested
    text = letters(all_text(single_tag(make_tag(not_tested=untested), read_label_sheet(label))))
    assert untested
    assert [one for one in untested if letters(one) not in text] == []
