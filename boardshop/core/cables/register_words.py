"""The closed lists of words of the register of made cables.

Kinds, causes and ends as common practice names them in a technician's record of each cable.
"""

CABLE_KINDS = ("signal", "stereo", "midi", "control", "dc")
"""What a made cable is for."""

KINDS_FOR = {"signal": ("signal", "stereo"), "midi": ("midi",), "control": ("control",)}
"""By what a link carries, which kinds of made cable may be on it; a USB lead is bought, not made."""

PLACES = ("spare", "bench", "scrap")
"""Where a cable is that is on no board."""

VERDICTS = ("passed", "failed", "incomplete")
"""What a test says; blank = not tested."""

FAULT_CAUSES = ("joint", "screw loose", "bend break", "crush", "pulled", "plug wear", "jack was guilty")
"""What a fault came from; blank = not found."""

JACK_WAS_GUILTY = "jack was guilty"
"""The one cause that is no failure of the cable."""

CABLE_ENDS = ("A", "B", "middle")
"""Where on the cable a fault was; blank = not found."""

CHAIN_PLACES = ("first", "last", "between")
"""Where in the chain a cable is: from the instrument, to the amp, or between two pedals."""

SHORTEST_MM, LONGEST_MM = 20, 100_000
"""No made cable is shorter than its two plugs or longer than a drum of it; from memory."""
