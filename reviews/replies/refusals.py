"""What is refused, with a sentence that can be shown as it stands."""


class Refused(ValueError):
    """The words are for the person at the screen: what is wrong and what to do."""


class NotFound(Refused):
    """Nothing of that name that this person may touch; what belongs to others looks the same."""


class CannotPublish(Refused):
    """The reply is not ready to go."""
