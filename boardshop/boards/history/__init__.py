"""The rows of a board as one value: what an edit touched, and how to take it back."""
