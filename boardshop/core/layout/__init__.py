"""Whether everything fits on the frame: geometry, checks and the figures of the layout section."""

from boardshop.core.layout.section import LayoutSection, compute_layout

__all__ = ["LayoutSection", "compute_layout"]
