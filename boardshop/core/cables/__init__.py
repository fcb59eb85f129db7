"""Runs over the frame, the lengths to cut for them, and the stock to cut them from."""
