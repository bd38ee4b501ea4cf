"""Words for people in the language of whoever reads them: `tr` for what is shown at once, `say` for what may be kept.

What is kept (entries, the board's columns) stays English, so that the record reads alike in every language: `say` gives
that English sentence and remembers how it was made, and `shown` says it in the reader's language where it is shown.
The translator comes from outside and late: until one is set, everything is English.
"""

import re
from collections.abc import Callable, Mapping
from typing import Any

_BESIDE = "{before}{after}"
_FORMS = re.compile(r"\(([a-z ]*)\|([a-z ]*)\)|\((s|es)\)")
"""the English forms of a counted sentence: `unit(s)`, `(is|are)`"""


class Sentence(str):
    """An English sentence that knows the pattern and the values it was made of."""

    __slots__ = ("pattern", "values")

    pattern: str
    values: Mapping[str, Any]

    def __add__(self, after: str, /) -> str:
        return say(_BESIDE, before=self, after=after)

    def __radd__(self, before: str, /) -> str:
        return say(_BESIDE, before=before, after=self)


def _as_written(sentence: str, _count: int = -1) -> str:
    return sentence


_translate: Callable[..., str] = _as_written


def speak(translate: Callable[..., str] | None) -> None:
    """From now on words are looked up by `translate`; None is English again.

    It is given the sentence alone (the shape of gettext's own function), and for a counted one the count beside it.
    """
    global _translate
    _translate = translate or _as_written


def tr(sentence: str, _comment: str = "", count: int | None = None) -> str:
    """The sentence, or a pattern with `{names}` to fill in, in the reader's language.

    With a count (the arguments of Qt's own function, so that lupdate asks for each form of the other language) it is
    the form for so many; the English one is written `{count} unit(s) (is|are) left`. The comment is for translators.
    """
    if count is None:
        return _translate(sentence)
    found = _translate(sentence, count)
    return _english_form(sentence, count) if found == sentence else found


def _looked_up(pattern: str, values: Mapping[str, Any]) -> str:
    count = values.get("count")
    return tr(pattern, "", count) if isinstance(count, int) else _translate(pattern)


def _english(pattern: str, values: Mapping[str, Any]) -> str:
    count = values.get("count")
    return _english_form(pattern, count) if isinstance(count, int) else pattern


def _english_form(sentence: str, count: int) -> str:
    def form(found: re.Match[str]) -> str:
        one, many, ending = found.groups("")
        return (one if count == 1 else many) if not ending else ("" if count == 1 else ending)

    return _FORMS.sub(form, sentence)


def say(pattern: str, /, **values: Any) -> str:  # noqa: ANN401 - whatever a pattern can show
    """The English sentence of a pattern with `{names}`; raises KeyError for a name without its value.

    A value called `count` chooses the form of a pattern that is written with forms, as with `tr`.
    """
    made = Sentence(_english(pattern, values).format(**values))
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
        found = words.pattern if words.pattern is _BESIDE else _looked_up(words.pattern, words.values)
        return found.format(**values)
    except (KeyError, IndexError, ValueError):
        return str(words)
