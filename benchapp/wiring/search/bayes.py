"""How likely each hypothesis is after what was seen, and which question tells most, in plain arrays.

Bayes' rule, and Shannon's mutual information between an answer and the group (the replaceable part) that is at fault:
the entropy of the answer, less its mean entropy when the group is known. Nothing here knows what a hypothesis is: the
rows may be faults of a circuit under an ohmmeter as well as broken adders under a logic probe (de Kleer and Williams
1987, Artificial Intelligence 32, 97).
"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
NEVER = 1e-300
"""what stands for a chance of nothing, so that it has a logarithm"""


def fit(likelihoods: Iterable[Array], count: int) -> Array:
    """Logarithm of the likelihood of all observations together, for each of `count` hypotheses."""
    logs = np.zeros(count)
    for one in likelihoods:
        logs = logs + np.log(np.maximum(one, NEVER))
    return logs


def posterior(prior: Array, logs: Array) -> Array:
    """Chance of each hypothesis, adding up to one, from its chance before and the logarithm of its likelihood."""
    together = logs + np.log(np.maximum(prior, NEVER))
    weights = np.exp(together - together.max())
    chances: Array = weights / weights.sum()
    return chances


def information(shares: Array, weight: Array, member: NDArray[np.int64], groups: int) -> Array:
    """Mutual information (bits) between answer and group, for each question.

    `shares` is hypotheses × questions × answers, each hypothesis' chances of the answers; `weight` the chance of each
    hypothesis, `member` the number of its group.
    """
    order = np.argsort(member, kind="stable")
    present, starts = np.unique(member[order], return_index=True)
    of_group = np.zeros(groups)
    of_group[present] = np.add.reduceat(weight[order], starts)
    joint = np.add.reduceat(weight[order][:, None, None] * shares[order], starts, axis=0)
    whole = joint.sum(axis=0)
    within = joint / np.maximum(of_group[present], NEVER)[:, None, None]
    return entropy(whole) - np.tensordot(of_group[present], entropy(within), axes=(0, 0))


def best_question(bits: Array, cost: Array) -> int:
    """The number of the question that tells most for what it costs; among equals the first."""
    return int(np.argmax(bits / cost))


def entropy(shares: Array) -> Array:
    """Shannon's entropy (bits) over the last axis."""
    terms = np.where(shares > 0, shares * np.log2(np.maximum(shares, NEVER)), 0.0)
    total: Array = -terms.sum(axis=-1)
    return total
