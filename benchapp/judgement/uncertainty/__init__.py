"""Standard and expanded uncertainty: budgets, distributions, propagation (JCGM 100 and 101)."""
