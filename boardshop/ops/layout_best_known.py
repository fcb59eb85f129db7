"""The best scores known for boards of ``layout_instances``, to hold a placing against.

Source: the best of about 40 s of a prototype's searches for each board, run before
this program placed anything.
None is proved to be the least, so a ratio below 1 is no fault.
"""

BEST_KNOWN: dict[tuple[int, float, int], tuple[int, int]] = {
    (8, 0.55, 0): (3337, 512),
    (8, 0.55, 1): (2690, 374),
    (8, 0.65, 0): (5667, 977),
    (8, 0.65, 1): (6579, 1252),
    (12, 0.55, 0): (6034, 871),
    (12, 0.55, 1): (7441, 1160),
    (12, 0.65, 0): (10408, 1919),
    (12, 0.65, 1): (7372, 1188),
    (16, 0.55, 0): (6593, 1002),
    (16, 0.55, 1): (10332, 1773),
    (16, 0.65, 0): (12209, 2349),
    (16, 0.65, 1): (13776, 2612),
    (20, 0.55, 0): (16158, 2888),
    (20, 0.55, 1): (14669, 2269),
    (20, 0.65, 0): (24368, 5068),
    (20, 0.65, 1): (31972, 6085),
    (24, 0.55, 0): (13379, 2034),
    (24, 0.55, 1): (15018, 2401),
    (24, 0.65, 0): (22973, 4142),
    (24, 0.65, 1): (13897, 2437),
}
"""By number of pedals, fill and seed: score, and the cable in it in mm."""
