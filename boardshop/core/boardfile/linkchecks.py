"""Links: from an output to an input that nothing else uses."""

from boardshop.core.boardfile.directory import WITH_JACKS, Directory, records
from boardshop.core.boardfile.ends import settle_end
from boardshop.core.boardfile.faults import FaultList, Pointer
from boardshop.core.boardfile.walker import Cleaned
from boardshop.core.index import fold, split_end
from boardshop.core.vocabulary import INPUT_ROLES, JOINS

ONE_LINK_ROLES = (*INPUT_ROLES, "midi-in")
"""Jacks that take one link: what the format calls inputs, and the MIDI input beside them."""


def check_links(document: Cleaned, directory: Directory, faults: FaultList) -> None:
    inner = {ref: jacks.names for ref, jacks in directory.jacks.items()}
    taken: dict[str, tuple[Pointer, str]] = {}
    for at, link in records(document, "links"):
        ends = []
        for key in ("from", "to"):
            end = settle_end(link[key], (*at, key), WITH_JACKS, inner, "jack", directory, faults)
            link[key] = end or link[key]
            ends.append(end)
        source, target = ends
        source_role, target_role = _role(source, directory), _role(target, directory)
        if source_role and target_role and (source_role, target_role) not in JOINS:
            faults.add(
                at,
                f"must lead from an output to an input: {source} has the role {source_role}, "
                f"{target} the role {target_role}",
            )
        if target and target_role in ONE_LINK_ROLES:
            first, other = taken.setdefault(fold(target), (at, str(link["ref"])))
            if first != at:
                faults.add((*at, "to"), f"{target} is an input that the link {other} already leads to")


def _role(end: str | None, directory: Directory) -> str | None:
    if end is None:
        return None
    ref, name = split_end(end)
    return directory.jacks[fold(ref)].roles.get(fold(name))
