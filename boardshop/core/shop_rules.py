"""The shop's limits that a plan carries; `plan` passes them on."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rules:
    """The shop's limits; each default is the board-file format's."""

    school: str = "common"
    headroom_percent: int = 20
    drop_percent: int = 3
    slack_percent: int = 3
    slack_min_mm: int = 10
    round_up_mm: int = 5
    kerf_mm: int = 2
    trim_mm: int = 10
    keep_offcut_mm: int = 130
    gap_mm: int = 4
    plug_gap_mm: int = 2
    under_gap_mm: int = 3
    switch_gap_mm: int = 75
    switch_min_mm: int = 60
    together_mm: tuple[int, int] = (75, 130)
    reach_mm: int = 260
    spare_percent: int = 10
    pass_mm: int = 50
    bypass_pf: int = 20
    contact_ohm: float = 0.04

    @property
    def planned_percent(self) -> int:
        """What of a limit is planned with: all but the headroom."""
        return 100 - self.headroom_percent
