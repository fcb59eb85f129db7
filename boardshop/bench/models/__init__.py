"""What is made at the bench."""

from boardshop.bench.models.cut_jobs import CutJob, CutLength, CutPiece

__all__ = ["CutJob", "CutLength", "CutPiece"]
