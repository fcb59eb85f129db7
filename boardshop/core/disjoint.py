"""Disjoint sets of names: what hangs together when things are joined one by one."""


class Islands:
    """Disjoint sets of names; the earliest joined name stands for its set."""

    def __init__(self) -> None:
        self._above: dict[str, str] = {}

    def find(self, name: str) -> str:
        above = self._above.setdefault(name, name)
        while above != name:
            name, above = above, self._above[above]
        return name

    def join(self, one: str, other: str) -> bool:
        """Join two sets; False when they were one already."""
        one, other = self.find(one), self.find(other)
        self._above[other] = one
        return one != other
