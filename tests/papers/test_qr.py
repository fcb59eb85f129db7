"""The symbol against ISO/IEC 18004: 17 + 4v modules a side, 4 modules of quiet zone."""

import re

import pytest

from boardshop.papers.qr import draw_qr


@pytest.mark.parametrize(("text", "version"), [("A" * 20, 1), ("A" * 38, 2), ("A" * 61, 3)])
def test_the_size_of_a_symbol(text: str, version: int) -> None:
    # Alphanumeric capacity at level M: 20, 38 and 61 letters in versions 1 to 3 (ISO/IEC 18004).
    side = 17 + 4 * version + 2 * 4
    assert f'viewBox="0 0 {side} {side}"' in draw_qr(text)


def test_nothing_dark_lies_in_the_quiet_zone() -> None:
    places = re.findall(r"M(\d+) (\d+)h1", draw_qr("A" * 20))
    assert {int(n) for place in places for n in place} <= set(range(4, 25))


def test_no_part_of_the_text_reaches_the_markup() -> None:
    assert "script" not in draw_qr("<script>alert(1)</script>")
