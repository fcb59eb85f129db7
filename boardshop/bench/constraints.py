"""Which refusal each named constraint of the bench tables stands for."""

from boardshop.bench import errors
from boardshop.crew.constraints import Refusals

BENCH_REFUSALS: Refusals = {
    "cut_job_number_once_per_shop": errors.CutNumberTaken,
    "cut_piece_booked_once": errors.PieceBookedTwice,
}
