"""Why a board file is refused: every fault with its JSON pointer (RFC 6901)."""

from dataclasses import dataclass

type Pointer = tuple[str | int, ...]
"""Keys and list positions from the document's root."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong; ``pointer`` names the value, or where a missing one belongs; "" the whole document."""

    pointer: str
    message: str

    def __str__(self) -> str:
        """One line; what would break or hide part of a line is shown as an escape."""
        return _on_one_line(f"{self.pointer or '/'}: {self.message}")


class RefusedBoardFile(Exception):
    """The file is no usable board file: every fault is listed with its place, and nothing was taken."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


class FaultList:
    """Collects faults in any order and gives them back in the order of the document."""

    def __init__(self, document: object = None) -> None:
        self._document = document
        self._found: dict[tuple[Pointer, str], None] = {}

    def add(self, at: Pointer, message: str) -> None:
        self._found[at, message] = None

    def in_document_order(self) -> tuple[Fault, ...]:
        places = Places(self._document)
        ordered = sorted(self._found, key=lambda found: places.of(found[0]))
        return tuple(Fault(write_pointer(at), message) for at, message in ordered)


def write_pointer(at: Pointer) -> str:
    """`("pedals", 0, "a/b")` -> `/pedals/0/a~1b`, as RFC 6901 escapes it."""
    return "".join("/" + str(token).replace("~", "~0").replace("/", "~1") for token in at)


class Places:
    """Where pointers stand in a document; an object's keys are numbered once, however many faults it has."""

    def __init__(self, document: object) -> None:
        self._document = document
        self._numbered: dict[int, dict[str, int]] = {}

    def of(self, at: Pointer) -> tuple[int, ...]:
        """The positions of the pointer's keys, so that a parent comes before its parts."""
        positions: list[int] = []
        value = self._document
        for token in at:
            if isinstance(value, dict) and token in value:
                positions.append(self._keys_of(value)[str(token)])
                value = value[token]
            elif isinstance(value, list) and isinstance(token, int) and token < len(value):
                positions.append(token)
                value = value[token]
            else:
                break
        return tuple(positions)

    def _keys_of(self, value: dict[str, object]) -> dict[str, int]:
        # By identity: the document holds every object while its faults are put in order.
        if id(value) not in self._numbered:
            self._numbered[id(value)] = {key: number for number, key in enumerate(value)}
        return self._numbered[id(value)]


def _on_one_line(text: str) -> str:
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)
