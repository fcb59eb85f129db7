"""Drawn pictures in the place of photos, so that the demo shows where photos go."""

import math
from datetime import date
from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageDraw

from boardshop.boards.held_files import BoardHolder
from boardshop.boards.models import Board, Placement
from boardshop.crew.models import Person, Shop
from boardshop.files.models import Attachment
from boardshop.files.store import Holder, describe_file, receive_files
from boardshop.gear.held_files import GearHolder
from boardshop.gear.models import Unit

SIZE = (640, 480)
PAPER, INK, BODY = (244, 241, 232), (23, 33, 43), (168, 180, 188)
TAKEN_ON = date(2026, 3, 14)
PEDALS = 3
"""So many pedals of the first board have their knobs drawn."""


def add_pictures(shop: Shop, owner: Person) -> None:
    """Knobs of a few pedals, one board from above, one unit's underside."""
    board = Board.objects.filter(shop=shop).order_by("pk")[0]
    pedals = Placement.objects.filter(board=board).order_by("pk")[:PEDALS]
    for number, pedal in enumerate(pedals, start=1):
        _add(
            BoardHolder(board, pedal.ref), shop, owner, f"{pedal.ref} knobs.png", draw_knobs(number), "knobs"
        )
    _add(BoardHolder(board), shop, owner, "board.png", draw_board(), "front", "from above, before the tour")
    unit = Unit.objects.filter(shop=shop, pedal__isnull=False).order_by("pk")[0]
    _add(
        GearHolder(unit), shop, owner, "underside.png", draw_underside(), "underside", "label still readable"
    )


def _add(
    holder: Holder,
    shop: Shop,
    owner: Person,
    name: str,
    content: bytes,
    shows: str,
    caption: str = "a drawing, no photo",
) -> None:
    received = receive_files(holder, shop, owner, [SimpleUploadedFile(name, content)], shows)
    attachment: Attachment = received.added[0]
    describe_file(attachment, shows=shows, taken_on=TAKEN_ON, caption=caption)


def draw_knobs(number: int) -> bytes:
    """Two to four knobs in a row, each turned otherwise."""
    picture, draw = _blank()
    count = 2 + number % 3
    for knob in range(count):
        x, y, turn = 640 * (knob + 1) / (count + 1), 170, math.radians(220 - 65 * ((knob + number) % 5))
        draw.ellipse((x - 52, y - 52, x + 52, y + 52), outline=INK, width=5, fill=PAPER)
        draw.line((x, y, x + 46 * math.cos(turn), y - 46 * math.sin(turn)), fill=INK, width=7)
    draw.ellipse((290, 330, 350, 390), outline=INK, width=5, fill=PAPER)
    return _png(picture)


def draw_board() -> bytes:
    """Two rows of boxes on a frame."""
    picture, draw = _blank()
    for row in range(2):
        for column in range(5 - row):
            x, y = 90 + 98 * column + 40 * row, 90 + 170 * row
            draw.rectangle((x, y, x + 72, y + 120), outline=INK, width=4, fill=PAPER)
            draw.ellipse((x + 24, y + 84, x + 48, y + 108), outline=INK, width=3)
    return _png(picture)


def draw_underside() -> bytes:
    """A plate with four screws and a label."""
    picture, draw = _blank()
    for x in (90, 550):
        for y in (90, 390):
            draw.ellipse((x - 14, y - 14, x + 14, y + 14), outline=INK, width=4)
            draw.line((x - 9, y, x + 9, y), fill=INK, width=3)
    draw.rectangle((200, 180, 440, 300), outline=INK, width=4, fill=PAPER)
    for y in (210, 240, 270):
        draw.line((220, y, 420, y), fill=INK, width=3)
    return _png(picture)


def _blank() -> tuple[Image.Image, ImageDraw.ImageDraw]:
    picture = Image.new("RGB", SIZE, PAPER)
    draw = ImageDraw.Draw(picture)
    draw.rounded_rectangle((50, 50, 590, 430), 18, outline=INK, width=5, fill=BODY)
    return picture, draw


def _png(picture: Image.Image) -> bytes:
    written = BytesIO()
    picture.save(written, "PNG")
    return written.getvalue()
