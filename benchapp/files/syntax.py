"""Syntax errors of a file: libyaml's reasons in plain words, each with its cure."""

import yaml

from benchapp.files.lines import Lines
from benchapp.files.locations import Complaint
from benchapp.files.tree import mark_position

_REASONS = {
    "mapping values are not allowed in this context": (
        "this colon makes no key here",
        "quotes round a text that holds a colon and a space, or the indentation of the keys above",
    ),
    "did not find expected key": (
        "this does not fit what stands before it",
        "the indentation of the keys above, or quotes round the whole value",
    ),
    "did not find expected '-' indicator": ("this line does not fit the list above", "the indentation of its entries"),
    "did not find expected node content": ("a value is missing here", "a value or a closing bracket"),
    "did not find expected ',' or ']'": ("the list in brackets goes on wrongly here", "a comma or ]"),
    "did not find expected ',' or '}'": ("the keys in braces go on wrongly here", "a comma or }"),
    "found unexpected end of stream": ("the file ends inside a quoted text", "the closing quote"),
    "found character that cannot start any token": (
        "this character cannot begin a value",
        "quotes round a text that begins with @, ` or %",
    ),
    "could not find expected ':'": ("a key without a colon stands here", "a colon and a space after the name"),
    "found unknown escape character": ("this backslash means nothing in double quotes", "single quotes"),
    "block sequence entries are not allowed in this context": ("a list cannot begin here", "- on a line of its own"),
    "did not find expected comment or line break": ("text stands after | or >", "the text on the next line"),
    "did not find expected <document start>": (
        "this stands outside the data above",
        "the indentation of the lines above",
    ),
    "did not find expected alphabetic or numeric character": ("* and & cannot begin a value", "quotes round it"),
}


def syntax_complaint(error: yaml.YAMLError, lines: Lines) -> Complaint:
    """The one complaint that a syntax error gives; what comes after it cannot be told."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    location = lines.location(*mark_position(mark)) if mark else lines.location(0, 0)
    reason = str(getattr(error, "problem", None) or error)
    what, expected = _REASONS.get(reason, (f"the text cannot be read from here on ({reason})", ""))
    return Complaint(location=location, what=what, expected=expected)
