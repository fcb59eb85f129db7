"""Searches for a layout, run beside the server: asked for, waiting their turn, watched, stopped, answered."""
