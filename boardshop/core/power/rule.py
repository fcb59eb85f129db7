"""What a rule of power says of itself: findings, the page of rules and papers read it from here."""

from dataclasses import dataclass

COMMON = "common practice"
CALCULATION = "calculation"


@dataclass(frozen=True, slots=True)
class Grade:
    """A severity other than the rule's usual one, and when it is that."""

    severity: str
    when: str


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule; ``severity`` is that of the usual hit.

    ``when`` completes "It speaks where ...", ``unless`` "It does not hold where ...", and ``checks``, for a
    value that nobody recorded, "It cannot be checked ...".
    """

    id: str
    severity: str
    when: str
    checks: str
    why: str
    cure: str
    unless: str = ""
    also: tuple[Grade, ...] = ()
    basis: str = COMMON
