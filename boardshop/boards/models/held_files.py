"""What photos and files are of a board."""

from django.db import models

from boardshop.boards.models.boards import Board
from boardshop.files.models import Attachment


class BoardFile(models.Model):
    """One photo or file of a board, or of the pedal, supply or link that `ref` names there.

    The ref is text, since undo and restore write those rows anew; it may name what is no longer there.
    """

    attachment = models.OneToOneField(Attachment, models.CASCADE, related_name="of_board")
    board = models.ForeignKey(Board, models.CASCADE, related_name="held_files")
    ref = models.CharField(max_length=40, blank=True)

    def __str__(self) -> str:
        return f"{self.attachment_id} of {self.ref or self.board_id}"
