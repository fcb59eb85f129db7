"""How volts, currents and the things of a feed are named in messages."""

from boardshop.core.plan import Pedal
from boardshop.core.power.connections import FedJack, Tap


def say_volts(millivolts: float) -> str:
    """`9 V`, `9.6 V`, `11.712 V`: no more digits than there are."""
    return f"{round(millivolts / 1000, 3):.3f}".rstrip("0").rstrip(".") + " V"


def say_list(names: tuple[str, ...]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def say_pedal(pedal: Pedal) -> str:
    return f"{pedal.name} ({pedal.ref})" if pedal.name else pedal.ref


def say_jack(fed: FedJack) -> str:
    return f"{fed.pedal.name} ({fed.ref})" if fed.pedal.name else fed.ref


def say_jacks(jacks: tuple[FedJack, ...]) -> str:
    return say_list(tuple(say_jack(fed) for fed in jacks))


def say_taps(taps: tuple[Tap, ...]) -> str:
    return say_list(tuple(tap.ref for tap in taps))


def subjects_of(taps: tuple[Tap, ...], *jacks: FedJack) -> tuple[str, ...]:
    return (*(tap.ref for tap in taps), *(fed.ref for fed in jacks))
