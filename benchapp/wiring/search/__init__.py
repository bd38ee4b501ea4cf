"""Fault location: observations, hypotheses, Bayes update, diagnosis, and the next probe."""
