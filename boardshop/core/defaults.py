"""What the board file says holds where nothing is written: filled in by all who make a plan."""

from dataclasses import replace

from boardshop.core.plan import Amp, BoardPlan, CableType, Frame, Point, Tier

BEND_DIAMETERS = 5
"""Least inside bend radius in cable diameters; common practice for fixed cable."""


def fill_defaults(plan: BoardPlan) -> BoardPlan:
    """The plan with every default that depends on another value filled in; filling twice changes nothing."""
    return replace(
        plan,
        frame=fill_frame(plan.frame),
        amps=tuple(fill_amp(amp) for amp in plan.amps),
        cables=tuple(fill_cable(cable) for cable in plan.cables),
    )


def fill_frame(frame: Frame) -> Frame:
    """The very same frame where all is written, since what is drawn on it is kept by it."""
    filled = replace(
        frame,
        tiers=frame.tiers or (Tier(0, frame.depth),),
        entry=frame.entry or Point(frame.width, frame.depth),
        exit=frame.exit or Point(0, frame.depth),
    )
    return frame if filled == frame else filled


def fill_amp(amp: Amp) -> Amp:
    earthed = True if amp.earthed is None and amp.protection_class == "I" else amp.earthed
    return replace(amp, earthed=earthed)


def fill_cable(cable: CableType) -> CableType:
    if cable.min_bend is not None or cable.diameter is None:
        return cable
    return replace(cable, min_bend=BEND_DIAMETERS * cable.diameter)
