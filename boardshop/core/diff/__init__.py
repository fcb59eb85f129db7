from dataclasses import dataclass

from boardshop.core.plan import BoardPlan


@dataclass(frozen=True)
class Difference:
    kind: str
    subjects: tuple[str, ...]
    sentence: str


def compare_plans(before: BoardPlan, after: BoardPlan) -> tuple[Difference, ...]:
    return () if before == after else (Difference("changed", (), "Something changed."),)
