"""How messages call a part: `Low Ember (P4)`, or just `P4` when it has no name."""

from boardshop.core.index import PlanIndex, fold, split_end


def called(index: PlanIndex, ref: str) -> str:
    """The part with this ref, or of this jack: `Low Ember (P4)`, `Low Ember (P4.IN)`."""
    pedal = index.pedals.get(fold(split_end(ref)[0]))
    return f"{pedal.name} ({ref})" if pedal is not None and pedal.name else ref
