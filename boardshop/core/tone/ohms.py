"""Impedances in words."""


def say_ohm(ohm: float) -> str:
    """`89 ohm`, `500 kohm`, `1 Mohm`, with up to six digits."""
    if ohm < 1e3:
        return f"{ohm:g} ohm"
    return f"{ohm / 1000:g} kohm" if ohm < 1e6 else f"{ohm / 1e6:g} Mohm"
