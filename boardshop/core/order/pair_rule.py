"""What a rule of order between two pedals says."""

from dataclasses import dataclass

from boardshop.core.order.conditions import Condition

ANY = ("*",)
ENDS = ("wireless-receiver", "di")
BOTH_SCHOOLS = ("common", "dynamics-first")

BOTH, FIRST, NOTHING = "both", "first", "nothing"
"""Which of the two must be engaged for the rule to be heard: a buffer acts on a fuzz bypassed or not."""


@dataclass(frozen=True, slots=True)
class PairRule:
    """``why`` completes "X comes before Y: ..." for a wrong pair; ``kept_for`` completes "keep it if ...".

    ``unless`` says in words what ``condition`` and the slots leave out: "does not hold where ...".
    """

    id: str
    severity: str
    first: tuple[str, ...]
    then: tuple[str, ...]
    why: str
    kept_for: str = ""
    condition: Condition | None = None
    schools: tuple[str, ...] = BOTH_SCHOOLS
    also: str = ""
    """A further way out, beside moving the pedal."""
    unless: str = ""
    heard_with: str = BOTH
    basis: str = "common practice"

    def covers(self, first: str, then: str) -> bool:
        """Whether the rule speaks of these two slots; never of two in the same open-ended place."""
        return (
            (self.first == ANY or first in self.first)
            and (self.then == ANY or then in self.then)
            and not (first == then and first in ENDS and ANY in (self.first, self.then))
        )
