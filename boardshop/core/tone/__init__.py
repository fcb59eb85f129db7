"""What cable and inputs do to the treble of each instrument, up to the first stage that drives."""

from boardshop.core.tone.circuit import PickupCircuit, find_resonance, frequency_response
from boardshop.core.tone.rules import NOTES
from boardshop.core.tone.section import SourceTone, ToneSection, ToneSegment, compute_tone
from boardshop.core.tone.states import Curve, ToneState, compute_curves

__all__ = [
    "NOTES",
    "Curve",
    "PickupCircuit",
    "SourceTone",
    "ToneSection",
    "ToneSegment",
    "ToneState",
    "compute_curves",
    "compute_tone",
    "find_resonance",
    "frequency_response",
]
