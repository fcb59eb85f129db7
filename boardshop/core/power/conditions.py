"""What has to hold for outlets to be joined, and for pedals to hang on one outlet, condition by condition.

The tables of joining are what `matching` walks; each row holds the test that speaks when it is not kept.
The conditions of a chain are each found by the rule named beside them.
"""

from collections.abc import Callable
from dataclasses import dataclass

from boardshop.core.power import joining
from boardshop.core.power.pairing import Pairing
from boardshop.core.power.rules import Outcome
from boardshop.core.power.sharing import CHAIN_JACKS, CHAIN_PERCENT


@dataclass(frozen=True, slots=True)
class JoiningCondition:
    """``severity`` where a test answers with another than its rule's."""

    rule: str
    wants: str
    test: Callable[[Pairing], Outcome]
    severity: str = ""


@dataclass(frozen=True, slots=True)
class ChainCondition:
    rules: tuple[str, ...]
    wants: str


BOTH_WAYS = (
    JoiningCondition(
        "P15", "It is recorded which way the two are joined, and which they are.", joining.judge_how_joined
    ),
)

PARALLEL_CONDITIONS = (
    JoiningCondition("P15", "There are two outlets, no more.", joining.judge_number),
    JoiningCondition("P15", "Each is isolated from all others.", joining.judge_isolation),
    JoiningCondition(
        "P15", "They belong to one supply, or to supplies of the same model.", joining.judge_model
    ),
    JoiningCondition("P15", "Their voltage is fixed, not set by a knob.", joining.judge_fixed_setting),
    JoiningCondition("P15", "The maker permits it for both.", joining.judge_parallel_permission),
    JoiningCondition(
        "P15", "Their limits are equal; usable is twice the smaller one.", joining.judge_equal_limits
    ),
    JoiningCondition("P16", "Both are set to one voltage.", joining.judge_equal_volts),
    JoiningCondition("P16", "Both are regulated.", joining.judge_regulation),
    JoiningCondition("P16", "Neither is made to sag.", joining.judge_sag),
    JoiningCondition("P16", "Both are DC; of AC the phase is asked for.", joining.judge_kinds),
    JoiningCondition("P16", "Their plugs have one polarity.", joining.judge_opposed),
    JoiningCondition("P17", "They do not belong to one group, whose limit stays.", joining.judge_one_group),
)

SERIES_CONDITIONS = (
    JoiningCondition(
        "P18",
        "Each is isolated: a shared return shorts one of them.",
        joining.judge_series_isolation,
        "damage",
    ),
    JoiningCondition("P18", "There are two, of one polarity and one kind of current.", joining.judge_series),
    JoiningCondition(
        "P18", "They belong to one supply, or to supplies of the same model.", joining.judge_series_model
    ),
    JoiningCondition("P18", "The maker permits it for both.", joining.judge_series_permission),
)

CHAIN_CONDITIONS = (
    ChainCondition(("P03", "P04"), "One voltage suits all of them."),
    ChainCondition(("P05",), "All jacks have the plug's polarity."),
    ChainCondition(("P06",), "No positive-ground pedal is among negative-ground ones."),
    ChainCondition(("P13",), "Each of them stands sharing an outlet."),
    ChainCondition(("P13",), f"Together they take {CHAIN_PERCENT} % of the limit at most."),
    ChainCondition(("P13",), f"There are {CHAIN_JACKS} at most."),
    ChainCondition(("P11", "P12"), "No digital one is with a high-gain one, and no two are clocked."),
    ChainCondition(("P23",), "The outlet is DC."),
    ChainCondition(("P19",), "No plug of the chain is left open."),
)
