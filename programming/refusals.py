"""What is refused, with a sentence that can be shown as it stands."""


class Refused(ValueError):
    """The words are for the person at the screen: what is wrong and what to do."""

    field = ""  # what was sent, where the words are about one part of it


class Missing(LookupError):
    """Not there for this person: it answers 404, whoever else it may belong to."""
