"""Nothing typed is lost by moving away."""

from benchapp.desktop.drafts import Drafts


def test_a_draft_is_kept_for_its_unit_and_its_step():
    drafts = Drafts()
    drafts.keep("TB-001", "continuity.one", {"typed": "4k7"})
    assert drafts.take("TB-001", "continuity.one") == {"typed": "4k7"}
    assert drafts.take("TB-002", "continuity.one") == {}


def test_an_emptied_field_leaves_no_draft():
    drafts = Drafts()
    drafts.keep("TB-001", "a.b", {"typed": "4"})
    drafts.keep("TB-001", "a.b", {"typed": ""})
    assert drafts.take("TB-001", "a.b") == {}


def test_a_recorded_answer_clears_its_draft():
    drafts = Drafts()
    drafts.keep("TB-001", "a.b", {"typed": "4"})
    drafts.clear("TB-001", "a.b")
    assert drafts.take("TB-001", "a.b") == {}
