"""Which pedals act on the sound in a scene."""

from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, Pedal, Scene

ALWAYS_ACT = (
    "tuner",
    "volume",
    "looper",
    "buffer",
    "di",
    "splitter",
    "mixer",
    "switcher",
    "expression",
    "midi-controller",
    "wireless-receiver",
)
"""Kinds that nobody switches from scene to scene: they stand in the signal, or wait for the foot, in all."""

type Acting = frozenset[str] | None
"""Folded refs of the pedals that act; None where all do."""


def acting_in(plan: BoardPlan, scene: Scene) -> frozenset[str]:
    """Those engaged in it, and those that cannot be bypassed."""
    engaged = {fold(ref) for ref in scene.on}
    fixed = (fold(pedal.ref) for pedal in plan.pedals if is_fixed(pedal))
    return frozenset(engaged.union(fixed))


def is_fixed(pedal: Pedal) -> bool:
    """Whether it acts whatever scene is played."""
    return pedal.bypass == "always-on" or pedal.kind in ALWAYS_ACT


def acts(acting: Acting, pedal: Pedal) -> bool:
    return acting is None or fold(pedal.ref) in acting
