"""Between the rows of a board and the core's frozen plan: one place to read it, one to write it."""
