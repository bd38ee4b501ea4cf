"""The known word nearest to one that an author misspelt."""

from collections.abc import Iterable

LEAST_LIKENESS = 0.6
"""Share of letters two words must have in common before one is offered for the other (own choice)."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like the one written, or None when nothing is near; case and dashes weigh nothing.

    A known word that the trade also calls so ("max" for "highest") comes before one that is only spelt alike.
    """
    from difflib import SequenceMatcher  # loaded at the first mistake: the bench's everyday way needs none of it

    from benchapp.files.synonyms import same_meaning

    plain = _plain(word)
    candidates = sorted(known)
    alike = next((one for one in candidates if _plain(one) == plain), None)
    meant = alike or next((one for one in same_meaning(plain) if one in candidates), None)
    if meant is not None:
        return meant
    best: str | None = None
    best_likeness = LEAST_LIKENESS
    matcher = SequenceMatcher(None, plain)
    for candidate in candidates:
        matcher.set_seq2(_plain(candidate))
        if min(matcher.real_quick_ratio(), matcher.quick_ratio()) < best_likeness:  # neither is ever below the ratio
            continue
        likeness = matcher.ratio()
        if likeness > best_likeness or (best is None and likeness == best_likeness):
            best, best_likeness = candidate, likeness
    return None if best is not None and _is_a_guess(plain, best, candidates) else best


def _is_a_guess(plain: str, best: str, candidates: Iterable[str]) -> bool:
    """Whether only digits differ, and so from several known words: pin 7 is no misspelt pin 1."""
    letters = _digits_hidden(plain)
    if letters == plain or _digits_hidden(_plain(best)) != letters:
        return False
    return sum(_digits_hidden(_plain(one)) == letters for one in candidates) > 1


def _digits_hidden(word: str) -> str:
    return "".join("#" if letter.isdecimal() else letter for letter in word)


def _plain(word: str) -> str:
    return word[:80].casefold().replace("-", " ").replace("_", " ").strip()
