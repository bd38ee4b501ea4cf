"""Meter records and limits, uncertainty, bands, the decision.

The names below are this package's public face. They are fetched when first asked for, so that importing the package
costs nothing: the models of files bring pydantic with them, the cross-checks numpy.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.judgement.accept_text import parse_accept
    from benchapp.judgement.acceptance import Accept, Form, Known
    from benchapp.judgement.accuracy import Accuracy, parse_accuracy
    from benchapp.judgement.advice import advise, settling_meters
    from benchapp.judgement.band import Band, Because
    from benchapp.judgement.budget import Source, combine, plain_uncertainty, stored_uncertainty
    from benchapp.judgement.budget_words import BudgetLine, budget_table, combined_words
    from benchapp.judgement.columns import Judged, judge_columns, limits_of_columns
    from benchapp.judgement.cords import CordRating, LimitFacts, cord_rating
    from benchapp.judgement.corrections import Corrected, Waveform, corrected, not_below_zero
    from benchapp.judgement.decision import Decision, decide
    from benchapp.judgement.figures import Figure, Statement, Table
    from benchapp.judgement.functions import Function, Responds, kind_of
    from benchapp.judgement.fuses import FuseChoice, choose_fuse
    from benchapp.judgement.limit_bands import limit_band, limit_names
    from benchapp.judgement.limits import CoreColour, LimitProfile
    from benchapp.judgement.meter_text import Category
    from benchapp.judgement.meters import MeterRecord
    from benchapp.judgement.problems import (
        AcceptProblem,
        AccuracyProblem,
        BandProblem,
        BudgetProblem,
        LeadsProblem,
        LimitProblem,
        MeterProblem,
        RangeProblem,
    )
    from benchapp.judgement.propagation import Derived, Measured, correlation_of, propagate, propagate_safely
    from benchapp.judgement.ranges import range_of, ranges_in_touch
    from benchapp.judgement.readings import shared_part, uncertainty_of
    from benchapp.judgement.sentences import say_limits
    from benchapp.judgement.simulation import Simulated, disagreement, monte_carlo
    from benchapp.judgement.statements import (
        FIRST_RULES,
        KNOWN_RULES,
        RULES_VERSION,
        WITHOUT_POLARITY,
        Judgement,
        Rule,
        completes_step,
        opens_fault_search,
        opens_live_step,
    )
    from benchapp.judgement.uncertainty import Contribution, Distribution, Uncertainty
    from benchapp.judgement.uncertainty_columns import UncertaintyColumns, uncertainty_of_columns

__all__ = [
    "FIRST_RULES",
    "KNOWN_RULES",
    "RULES_VERSION",
    "WITHOUT_POLARITY",
    "Accept",
    "AcceptProblem",
    "Accuracy",
    "AccuracyProblem",
    "Band",
    "BandProblem",
    "Because",
    "BudgetLine",
    "BudgetProblem",
    "Category",
    "Contribution",
    "CordRating",
    "CoreColour",
    "Corrected",
    "Decision",
    "Derived",
    "Distribution",
    "Figure",
    "Form",
    "Function",
    "FuseChoice",
    "Judged",
    "Judgement",
    "Known",
    "LeadsProblem",
    "LimitFacts",
    "LimitProblem",
    "LimitProfile",
    "Measured",
    "MeterProblem",
    "MeterRecord",
    "RangeProblem",
    "Responds",
    "Rule",
    "Simulated",
    "Source",
    "Statement",
    "Table",
    "Uncertainty",
    "UncertaintyColumns",
    "Waveform",
    "advise",
    "budget_table",
    "choose_fuse",
    "combine",
    "combined_words",
    "completes_step",
    "cord_rating",
    "corrected",
    "correlation_of",
    "decide",
    "disagreement",
    "judge_columns",
    "kind_of",
    "limit_band",
    "limit_names",
    "limits_of_columns",
    "monte_carlo",
    "not_below_zero",
    "opens_fault_search",
    "opens_live_step",
    "parse_accept",
    "parse_accuracy",
    "plain_uncertainty",
    "propagate",
    "propagate_safely",
    "range_of",
    "ranges_in_touch",
    "say_limits",
    "settling_meters",
    "shared_part",
    "stored_uncertainty",
    "uncertainty_of",
    "uncertainty_of_columns",
]

_MODULES = {
    "accept_text": ("parse_accept",),
    "acceptance": ("Accept", "Form", "Known"),
    "accuracy": ("Accuracy", "parse_accuracy"),
    "advice": ("advise", "settling_meters"),
    "band": ("Band", "Because"),
    "budget": ("Source", "combine", "plain_uncertainty", "stored_uncertainty"),
    "budget_words": ("BudgetLine", "budget_table", "combined_words"),
    "columns": ("Judged", "judge_columns", "limits_of_columns"),
    "cords": ("CordRating", "LimitFacts", "cord_rating"),
    "corrections": ("Corrected", "Waveform", "corrected", "not_below_zero"),
    "decision": ("Decision", "decide"),
    "functions": ("Function", "Responds", "kind_of"),
    "fuses": ("FuseChoice", "choose_fuse"),
    "limit_bands": ("limit_band", "limit_names"),
    "figures": ("Figure", "Statement", "Table"),
    "limits": ("CoreColour", "LimitProfile"),
    "meter_text": ("Category",),
    "meters": ("MeterRecord",),
    "problems": (
        "AcceptProblem",
        "AccuracyProblem",
        "BandProblem",
        "BudgetProblem",
        "LeadsProblem",
        "LimitProblem",
        "MeterProblem",
        "RangeProblem",
    ),
    "propagation": ("Derived", "Measured", "correlation_of", "propagate", "propagate_safely"),
    "ranges": ("range_of", "ranges_in_touch"),
    "readings": ("shared_part", "uncertainty_of"),
    "sentences": ("say_limits",),
    "simulation": ("Simulated", "disagreement", "monte_carlo"),
    "statements": (
        "FIRST_RULES",
        "KNOWN_RULES",
        "RULES_VERSION",
        "WITHOUT_POLARITY",
        "Judgement",
        "Rule",
        "completes_step",
        "opens_fault_search",
        "opens_live_step",
    ),
    "uncertainty": ("Contribution", "Distribution", "Uncertainty"),
    "uncertainty_columns": ("UncertaintyColumns", "uncertainty_of_columns"),
}
_HOME = {name: module for module, names in _MODULES.items() for name in names}


def __getattr__(name: str) -> Any:  # noqa: ANN401 (whatever the module holds)
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    globals()[name] = value
    return value
