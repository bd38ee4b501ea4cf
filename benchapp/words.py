"""Words for people in the language of whoever reads them: `tr` for what is shown at once, `say` for what may be kept.

What is kept (entries, the board's columns) stays English, so that the record reads alike in every language: `say` gives
that English sentence and remembers how it was made, and `shown` says it in the reader's language where it is shown.
The translator comes from outside and late: until one is set, everything is English.
"""

from collections.abc import Callable, Mapping
from typing import Any

_BESIDE = "{before}{after}"


class Sentence(str):
    """An English sentence that knows the pattern and the values it was made of."""

    __slots__ = ("pattern", "values")

    pattern: str
    values: Mapping[str, Any]

    def __add__(self, after: str, /) -> str:
        return say(_BESIDE, before=self, after=after)

    def __radd__(self, before: str, /) -> str:
        return say(_BESIDE, before=before, after=self)


def _as_written(sentence: str) -> str:
    return sentence


_translate: Callable[[str], str] = _as_written


def speak(translate: Callable[[str], str] | None) -> None:
    """From now on words are looked up by `translate` (the shape of gettext's own function); None is English again."""
    global _translate
    _translate = translate or _as_written


def tr(sentence: str) -> str:
    """The sentence, or a pattern with `{names}` to fill in, in the reader's language."""
    return _translate(sentence)


def say(pattern: str, /, **values: Any) -> str:  # noqa: ANN401 - whatever a pattern can show
    """The English sentence of a pattern with `{names}`; raises KeyError for a name without its value."""
    made = Sentence(pattern.format(**values))
    made.pattern, made.values = pattern, values
    return made


def shown(words: str) -> str:
    """The words in the reader's language: a pattern before its values go in, any other text looked up as it stands.

    A translation whose names are not those of the pattern cannot be filled in: then the English sentence is shown.
    """
    if not words:
        return words
    if not isinstance(words, Sentence):
        return _translate(words)
    values = {name: shown(value) if isinstance(value, str) else value for name, value in words.values.items()}
    try:
        pattern = words.pattern if words.pattern is _BESIDE else _translate(words.pattern)
        return pattern.format(**values)
    except (KeyError, IndexError, ValueError):
        return str(words)
