"""Keeping frame models: the empty boards of the catalogue."""

from typing import Any

from django.db import transaction

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.checks import check_frame
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.models import FrameModel
from boardshop.gear.records import FrameRecord
from boardshop.gear.services.keeping import check_name_free, check_seen, columns_of, save_changes
from boardshop.gear.shelves import frame_record


@transaction.atomic
def add_frame_model(shop: Shop, record: FrameRecord) -> FrameModel:
    check_frame(record)
    check_name_free(FrameModel.objects.filter(shop=shop), record.name, record.maker)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return FrameModel.objects.create(shop=shop, **_columns(record))


@transaction.atomic
def change_frame_model(frame: FrameModel, record: FrameRecord, *, seen: str | None = None) -> FrameModel:
    """Boards keep the frame they were made on: theirs is a copy."""
    check_frame(record)
    frame = FrameModel.objects.select_for_update().get(pk=frame.pk)
    check_seen(seen, frame_record(frame), record)
    others = FrameModel.objects.filter(shop=frame.shop_id).exclude(pk=frame.pk)
    check_name_free(others, record.name, record.maker)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(frame, _columns(record))
    return frame


def _columns(record: FrameRecord) -> dict[str, Any]:
    return columns_of(record) | {
        "rails": [{"from": rail.from_y, "to": rail.to_y} for rail in record.rails],
        "tiers": [{"from": t.from_y, "to": t.to_y, "height": t.height} for t in record.tiers],
        "keepouts": [
            {"x": k.x, "y": k.y, "width": k.width, "depth": k.depth, "why": k.why} for k in record.keepouts
        ],
        "members": [
            {"x": m.x, "y": m.y, "width": m.width, "depth": m.depth, "why": m.why} for m in record.members
        ],
    }
