"""Whether everything fits on the frame: geometry, checks and the figures of the layout section."""
