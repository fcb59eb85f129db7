"""What photos and files are of a board."""

from django.db import models

from boardshop.boards.models.boards import Board
from boardshop.files.models import Attachment


class BoardFile(models.Model):
    """One photo or file of a board, or of a pedal, supply or link on it; `ref` is blank for the board's own.

    `item_key` is the key of that pedal's row and no foreign key, since undo and restore take rows away and
    write them anew under the same key; nothing may bear it any more.  `ref` is what it was called when the
    file came, and only says so: the file follows the row, whatever that is called later.
    """

    attachment = models.OneToOneField(Attachment, models.CASCADE, related_name="of_board")
    board = models.ForeignKey(Board, models.CASCADE, related_name="held_files")
    ref = models.CharField(max_length=40, blank=True)
    item_key = models.BigIntegerField(null=True, blank=True, db_index=True)

    def __str__(self) -> str:
        return f"{self.attachment_id} of {self.ref or self.board_id}"
