"""Where a `REF.NAME` of a link or a feed leads."""

from boardshop.core.boardfile.directory import PART_LISTS, Directory, Names
from boardshop.core.boardfile.faults import FaultList, Pointer
from boardshop.core.boardfile.walker import shown
from boardshop.core.index import fold, split_end

MOST_NAMED = 12
"""How many of a thing's jacks or outlets a message names."""


def settle_end(
    end: object,
    at: Pointer,
    owners: tuple[str, ...],
    inner: dict[str, Names],
    what: str,
    directory: Directory,
    faults: FaultList,
) -> str | None:
    """The end in its definition's spelling, or None where it could not be read or leads nowhere.

    ``owners`` are the lists whose members may own such an end, ``inner`` their names by folded ref.
    """
    if not isinstance(end, str):
        return None
    ref, name = split_end(end)
    if not ref or not name:
        faults.add(at, f"must be REF.NAME as P3.IN, not {shown(end)}")
        return None
    owner = next((spelled for key in owners if (spelled := directory.parts[key].find(ref)) is not None), None)
    if owner is None:
        if not any(directory.parts[key].open for key in owners):
            faults.add(at, _no_owner(ref, end, what, directory))
        return None
    names = inner.get(fold(ref), Names())
    spelled = names.find(name)
    if spelled is None:
        if not names.open:
            faults.add(
                at, f"{shown(end)} leads nowhere: {owner} has no {what} {shown(name)}{_has(names, what)}"
            )
        return None
    return f"{owner}.{spelled}"


def _no_owner(ref: str, end: str, what: str, directory: Directory) -> str:
    for key, names in directory.parts.items():
        if names.find(ref) is not None:
            return f"{shown(end)} leads nowhere: the {PART_LISTS[key]} {ref} has no {what}s"
    return f"{shown(end)} leads nowhere: nothing on this board is called {shown(ref)}"


def _has(names: Names, what: str) -> str:
    known = list(names.known.values())
    listed = ", ".join(known[:MOST_NAMED]) + (" and others" if len(known) > MOST_NAMED else "")
    return f" but {listed}" if listed else f", and no other {what}s"
