"""What a page about one kind of pedal says, in plain words."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class KindNote:
    """Whole sentences, each with its full stop.

    ``stands`` speaks of the numbers in ``ranks`` where it names other kinds; ``otherwise`` is pairs of who or
    what stands it elsewhere, and what that sounds like.  All are common practice.
    """

    does: str
    stands: str
    otherwise: tuple[tuple[str, str], ...]

    @property
    def summary(self) -> str:
        """The first sentence of ``does``."""
        first, stop, _ = self.does.partition(". ")
        return f"{first}." if stop else first
