"""Booking cuts: cable leaves the stock, what is worth keeping comes back with a tag; and all that undone."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction
from django.db.models import F, Max
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from boardshop.bench import errors
from boardshop.bench.constraints import BENCH_REFUSALS
from boardshop.bench.cut_work import CutWork, Taken, Wanted, booked_since, tell_changes
from boardshop.bench.models import CutJob, CutLength, CutPiece
from boardshop.core.naming import say_all
from boardshop.core.plan import PlugType
from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Person, Shop
from boardshop.gear.models import CableStock, MadeCable
from boardshop.gear.records import MadeCableRecord
from boardshop.gear.services.made_cables import add_made_cable

TAG_MARK = "/"
"""Between what a length was cut from and how long it is: `R1/9228`."""
LONGEST_TAG = 40


@transaction.atomic
def book_cuts(work: CutWork, seen: str, person: Person | None) -> CutJob:
    """Take the plan's lengths from the stock, write remainders back as off-cuts, and keep a record.

    `seen` is what the person was shown.  Raises PieceBooked, PlanChanged, NothingToBook, PieceBookedTwice,
    CutNumberTaken or StockMoved; then nothing is booked.
    """
    for piece in booked_since(seen, work):
        raise errors.PieceBooked(piece=piece.key, job=piece.job)
    if not work.wanted:
        raise errors.NothingToBook
    changes = tell_changes(seen, work)
    if changes:
        raise errors.PlanChanged(changes="; ".join(changes))
    if not work.taken:
        raise errors.NothingToBook
    shop = Shop.objects.select_for_update().get(pk=work.shop.pk)
    _lock_stock(work)
    job = _make_job(shop, work, person)
    earlier = _let_go_of_earlier(piece for one in work.taken for piece in one.pieces)
    tags = _Tags(shop, job)
    for position, taken in enumerate(work.taken):
        _take_from_stock(taken)
        kept = _keep_offcut(shop, tags, taken)
        _record_length(job, position, taken, kept, earlier)
    return job


@transaction.atomic
def take_back_cuts(job: CutJob, person: Person | None) -> None:
    """The stock as it was before the job, row by row.

    Raises JobTakenBack; CablesMadeOfJob where cables of the register were made of it; OffcutUsed or
    StockChangedSince where somebody has used or changed those rows since.
    """
    job = CutJob.objects.select_for_update().get(pk=job.pk)
    if job.taken_back_at is not None:
        raise errors.JobTakenBack(job=job.number, when=date_format(job.taken_back_at, "Y-m-d H:i"))
    made = CutPiece.objects.filter(of__job=job, made__isnull=False).order_by("made__code")
    cables = list(made.values_list("made__code", flat=True))
    if cables:
        raise errors.CablesMadeOfJob(job=job.number, cables=say_all(cables))
    lengths = list(job.lengths.select_related("cable").order_by("-position"))
    keys = {key for one in lengths for key in (one.stock_key, one.kept_key) if key is not None}
    locked = CableStock.with_trash.select_for_update().filter(shop=job.shop_id, pk__in=keys).order_by("pk")
    rows: dict[int, CableStock] = {row.pk: row for row in locked}
    for length in lengths:
        _take_out_offcut(job, length, rows)
    for length in lengths:
        _put_back_length(job, length, rows)
    _let_stand_again(job)
    job.taken_back_at, job.taken_back_by = timezone.now(), str(person or "")
    job.save(update_fields=["taken_back_at", "taken_back_by"])


@transaction.atomic
def register_piece(piece: CutPiece, record: MadeCableRecord) -> MadeCable:
    """The cable that was made of a piece, in the register; the piece knows it from then on.

    Raises JobTakenBack, PieceMade, and what adding a made cable raises.
    """
    job = CutJob.objects.select_for_update().select_related("shop").get(lengths__pieces=piece)
    if job.taken_back_at is not None:
        raise errors.JobTakenBack(job=job.number, when=date_format(job.taken_back_at, "Y-m-d H:i"))
    now = CutPiece.objects.select_related("made").get(pk=piece.pk)
    if now.made is not None:
        raise errors.PieceMade(piece=str(now), job=job.number, cable=now.made.code)
    cable = add_made_cable(job.shop, record)
    CutPiece.objects.filter(pk=piece.pk).update(made=cable)
    return cable


def _lock_stock(work: CutWork) -> None:
    """Every row of the cables concerned, as it was planned with."""
    cables = {row.cable_id for row in work.stock}
    rows = CableStock.objects.select_for_update(of=("self",)).filter(shop=work.shop, cable__in=cables)
    found = {(row.pk, row.length, row.count, row.kind) for row in rows.order_by("pk")}
    if found != {(row.pk, row.length, row.count, row.kind) for row in work.stock}:
        raise errors.StockMoved


def _make_job(shop: Shop, work: CutWork, person: Person | None) -> CutJob:
    last = CutJob.objects.filter(shop=shop).aggregate(last=Max("number"))["last"] or 0
    with refusals_by(BENCH_REFUSALS):
        return CutJob.objects.create(
            shop=shop,
            number=last + 1,
            at=timezone.now(),
            person=person,
            who=str(person or ""),
            is_optimal=work.plan.optimal,
            bound=work.plan.bound,
            kerf_mm=work.rules.kerf_mm,
            trim_mm=work.rules.trim_mm,
        )


def _let_go_of_earlier(pieces: Iterable[Wanted]) -> dict[str, CutPiece]:
    """What is cut again in this job no longer stands in an earlier one; the earlier pieces by key."""
    earlier: dict[str, CutPiece] = {}
    for piece in pieces:
        if piece.board is None or not piece.is_again:
            continue
        found = CutPiece.objects.filter(board=piece.board, ref__iexact=piece.ref, stands=True).first()
        if found is not None:
            CutPiece.objects.filter(pk=found.pk).update(stands=False)
            earlier[piece.key] = found
    return earlier


def _let_stand_again(job: CutJob) -> None:
    """The job's pieces stand no more; those that they were cut again for do."""
    own = CutPiece.objects.filter(of__job=job, stands=True)
    earlier = [piece.replaces_id for piece in own if piece.replaces_id is not None]
    own.update(stands=False)
    CutPiece.objects.filter(pk__in=earlier, of__job__taken_back_at=None).update(stands=True)


def _take_from_stock(taken: Taken) -> None:
    """One length less in its row; a row of which none is left goes."""
    row = CableStock.objects.filter(pk=taken.stock.pk, length=taken.used.length, kind=taken.used.kind)
    if row.filter(count__gt=1).update(count=F("count") - 1):
        return
    gone, _models = row.filter(count=1).delete()
    if not gone:
        raise errors.StockMoved


def _keep_offcut(shop: Shop, tags: _Tags, taken: Taken) -> CableStock | None:
    if not taken.kept_mm:
        return None
    return CableStock.objects.create(
        shop=shop,
        cable=taken.stock.cable,
        kind="offcut",
        length=taken.kept_mm,
        count=1,
        tag=tags.of(taken),
    )


def _record_length(
    job: CutJob, position: int, taken: Taken, kept: CableStock | None, earlier: dict[str, CutPiece]
) -> None:
    length = CutLength.objects.create(
        job=job,
        position=position,
        cable=taken.stock.cable,
        cable_name=taken.stock.cable.name,
        stock_key=taken.stock.pk,
        kind=taken.used.kind,
        tag=taken.stock.tag,
        length=taken.used.length,
        made_mm=sum(piece.cut_mm for piece in taken.pieces),
        kept_mm=taken.kept_mm,
        waste_mm=taken.waste_mm,
        kept_key=kept.pk if kept is not None else None,
        kept_tag=kept.tag if kept is not None else "",
    )
    with refusals_by(BENCH_REFUSALS):
        CutPiece.objects.bulk_create(
            _record(length, n, piece, earlier.get(piece.key)) for n, piece in enumerate(taken.pieces)
        )


def _record(length: CutLength, position: int, piece: Wanted, earlier: CutPiece | None) -> CutPiece:
    one, other = piece.plugs
    return CutPiece(
        of=length,
        position=position,
        board=piece.board,
        board_code=piece.board.code if piece.board is not None else "",
        board_name=piece.board.name if piece.board is not None else "",
        ref=piece.ref,
        cut_mm=piece.cut_mm,
        what=piece.what,
        plug_from=_name(one),
        plug_to=_name(other),
        fixing_from=(one.fixing or "") if one is not None else "",
        fixing_to=(other.fixing or "") if other is not None else "",
        label_from=piece.labels[0][:120],
        label_to=piece.labels[1][:120],
        replaces=earlier,
    )


def _name(plug: PlugType | None) -> str:
    return plug.name or plug.ref if plug is not None else ""


class _Tags:
    """Tags for what goes back: of the length it was cut from, else of the job, with its own length in mm."""

    def __init__(self, shop: Shop, job: CutJob) -> None:
        self.job = job
        self.used = set(CableStock.objects.filter(shop=shop).exclude(tag="").values_list("tag", flat=True))

    def of(self, taken: Taken) -> str:
        base = taken.stock.tag.partition(TAG_MARK)[0] or f"J{self.job.number}"
        end = f"{TAG_MARK}{taken.kept_mm}"
        tag, number = base[: LONGEST_TAG - len(end)] + end, 2
        while tag in self.used:
            more = f"{end}-{number}"
            tag, number = base[: LONGEST_TAG - len(more)] + more, number + 1
        self.used.add(tag)
        return tag


def _take_out_offcut(job: CutJob, length: CutLength, rows: dict[int, CableStock]) -> None:
    """The off-cut that the job wrote goes, if it is still as it was written."""
    if length.kept_key is None:
        return
    row = rows.pop(length.kept_key, None)
    if row is None:
        later = CutJob.objects.filter(
            shop=job.shop_id, lengths__stock_key=length.kept_key, taken_back_at__isnull=True
        ).first()
        used = _("was cut in job %(number)d") % {"number": later.number} if later else _("is gone")
        raise errors.OffcutUsed(job=job.number, tag=length.kept_tag, why=used)
    if row.trashed_at is not None:
        raise errors.OffcutUsed(job=job.number, tag=length.kept_tag, why=_("lies in the trash"))
    as_written = (length.cable_id, "offcut", length.kept_mm, 1, length.kept_tag)
    if (row.cable_id, row.kind, row.length, row.count, row.tag) != as_written:
        raise errors.OffcutUsed(job=job.number, tag=length.kept_tag, why=_("was changed since"))
    row.delete()


def _put_back_length(job: CutJob, length: CutLength, rows: dict[int, CableStock]) -> None:
    """One length more in its row; a row that had gone comes back under its own key."""
    row = rows.get(length.stock_key)
    named = length.tag or length.cable_name
    if row is None:
        if length.cable is None:
            raise errors.StockChangedSince(job=job.number, tag=named, why=_("had a cable type that is gone"))
        rows[length.stock_key] = CableStock.objects.create(
            pk=length.stock_key,
            shop_id=job.shop_id,
            cable=length.cable,
            kind=length.kind,
            length=length.length,
            count=1,
            tag=length.tag,
        )
        return
    if row.trashed_at is not None:
        raise errors.StockChangedSince(job=job.number, tag=named, why=_("lies in the trash"))
    as_taken = (length.cable_id, length.kind, length.length, length.tag)
    if (row.cable_id, row.kind, row.length, row.tag) != as_taken:
        raise errors.StockChangedSince(job=job.number, tag=named, why=_("was changed since"))
    row.count += 1
    row.save(update_fields=["count"])
