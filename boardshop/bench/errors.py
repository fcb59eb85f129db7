"""What the services of the bench refuse, each in the sentence that a person reads."""

from boardshop.crew.errors import Refusal


class CableMoved(Refusal):
    """Somebody put %(cable)s elsewhere at this very moment, so nothing was stored; look where it is now, then
    send this again."""
