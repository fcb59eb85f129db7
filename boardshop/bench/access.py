"""From a person to what their shop makes: a stranger gets 404, a viewer who would change it 403."""

from collections.abc import Sequence

from django.db.models import Count, Prefetch, QuerySet, Sum
from django.db.models.fetch_modes import FETCH_RAISE
from django.http import Http404

from boardshop.bench.models import CutJob, CutPiece
from boardshop.boards.access import boards_for
from boardshop.boards.models import Board
from boardshop.crew.access import Visitor, get_shop_for


def cut_jobs_for(person: Visitor) -> QuerySet[CutJob]:
    """The shop's jobs, newest first, each with how much was cut and from how many lengths."""
    return (
        CutJob.objects.filter(shop=get_shop_for(person))
        .annotate(taken=Count("lengths"), made_mm=Sum("lengths__made_mm"))
        .order_by("-number")
        .fetch_mode(FETCH_RAISE)
    )


def get_cut_job_for(person: Visitor, pk: int, *, editing: bool = False) -> CutJob:
    """One job with its lengths and pieces, in three queries; 404 before 403."""
    pieces = Prefetch("lengths__pieces", CutPiece.objects.select_related("board", "made"))
    job = CutJob.objects.filter(shop=get_shop_for(person), pk=pk).prefetch_related("lengths", pieces).first()
    if job is None:
        raise Http404
    if editing:
        get_shop_for(person, editing=True)
    return job


def chosen_boards_for(person: Visitor, codes: Sequence[str]) -> list[Board]:
    """Those of the shop's boards that bear these codes, by name; codes of nothing are left out."""
    return list(boards_for(person).filter(code__in=codes).select_related("shop").order_by("name", "pk"))
