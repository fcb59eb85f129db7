"""What Boardshop computes: pure functions over a frozen plan of one board.

Nothing here knows about a database, a clock or the network.
"""
