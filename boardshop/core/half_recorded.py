"""Entries that lack what would make them usable: named once in the section that would have used them."""

from boardshop.core.findings import Finding
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, Incomplete

RULE = "K02"


def find_half_recorded(plan: BoardPlan, wheres: tuple[str, ...]) -> tuple[Finding, ...]:
    """A finding for each incomplete entry of these lists; `/switches` stands for everyone's."""
    return tuple(
        _judge(entry) for entry in plan.incomplete if _is_in(entry.where, wheres) and _has_owner(plan, entry)
    )


def _is_in(where: str, wheres: tuple[str, ...]) -> bool:
    return any(where == wanted or (wanted[0] == "/" and where.endswith(wanted)) for wanted in wheres)


def _has_owner(plan: BoardPlan, entry: Incomplete) -> bool:
    """False where the pedal or outlet has left the board since."""
    owner = fold(entry.where.rpartition("/")[0])
    index = index_plan(plan)
    return owner in ("", "frame") or owner in index.pedals or owner in index.outlets


def _judge(entry: Incomplete) -> Finding:
    owner, _, listed = entry.where.rpartition("/")
    lacking = " and ".join(entry.lacks)
    place = f"{listed} of {owner}" if owner else listed
    return Finding(
        rule=RULE,
        severity="unknown",
        subjects=(owner or listed,),
        message=f"An entry in the {place} has no {lacking}, so it counts for nothing: {entry.text}.",
        cure=f"Record its {lacking}, or take the entry out.",
        basis="calculation",
    )
