"""What to do at a fire, as it stands on the bench opening and behind the large key (common practice, no source)."""

from benchapp.desktop.words import tr


def fire_words() -> str:
    """A few short sentences, the first thing first."""
    return tr(
        "If it burns: off at the wall or the main switch, everybody out, door shut, call the fire service. No water on "
        "what is live. A small fire alone, your way out behind you: carbon dioxide or dry powder rated for electrical "
        "equipment."
    )
