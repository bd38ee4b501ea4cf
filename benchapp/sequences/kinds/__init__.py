"""The kinds of step, one module each; `language/step_kind.py` finds them."""
