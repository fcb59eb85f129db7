"""The code that a camera reads, as an SVG that prints crisp at any size."""

import segno
from django.utils.safestring import SafeString, mark_safe

QUIET_MODULES = 4
"""Free modules on each side; ISO/IEC 18004."""


def draw_qr(text: str) -> SafeString:
    """A QR symbol of this text at error level M, one unit a module, quiet zone included.

    It is made of numbers alone, so no part of the text reaches the markup.
    """
    symbol = segno.make_qr(text, error="m")
    side = len(symbol.matrix) + 2 * QUIET_MODULES
    rows = [
        f"M{x + QUIET_MODULES} {y + QUIET_MODULES}h1v1h-1z"
        for y, row in enumerate(symbol.matrix)
        for x, is_dark in enumerate(row)
        if is_dark
    ]
    return mark_safe(  # noqa: S308 - digits and path letters only
        f'<svg xmlns="http://www.w3.org/2000/svg" class="qr" viewBox="0 0 {side} {side}" role="img" '
        f'shape-rendering="crispEdges"><rect width="{side}" height="{side}" fill="#fff"/>'
        f'<path d="{"".join(rows)}" fill="#000"/></svg>'
    )
