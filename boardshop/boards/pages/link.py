"""The page of one link, where its ends are changed as well."""

from __future__ import annotations

from typing import Any

from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from boardshop.boards.forms.links import LinkForm
from boardshop.boards.held_files import files_of_part
from boardshop.boards.models import Board, Link
from boardshop.boards.pages.cables import link_form, list_jacks
from boardshop.boards.pages.page import FormPage
from boardshop.boards.plan.read import load_plan
from boardshop.files.section import FileSection

KEY = "link"


def link_page(board: Board, link: Link) -> FormPage:
    return FormPage(
        template="boards/change_link.html",
        back=reverse("cables", args=[board.code]),
        tab="cables",
        context={"link": link, "files": SimpleLazyObject(lambda: _files(board, link))},
        forms={KEY: lambda: fresh_link(board, link)},
        prepare=lambda form: offer_ends(board, form),
    )


def _files(board: Board, link: Link) -> FileSection:
    page = reverse("change-link", args=[board.code, link.ref])
    return files_of_part(board, link.ref, back=page, editing=True)


def fresh_link(board: Board, link: Link) -> LinkForm:
    return link_form(board, KEY, values=row_values(link))


def offer_ends(board: Board, form: Any) -> None:
    form.offer_ends(*list_jacks(load_plan(board)))


def row_values(link: Link) -> dict[str, Any]:
    """What the form shows at first, from the row itself."""
    return {
        "source": f"{link.from_item.ref}.{link.from_jack or link.from_name}",
        "target": f"{link.to_item.ref}.{link.to_jack or link.to_name}",
        "cable": link.cable_id,
        "plug_from": link.plug_from_id,
        "plug_to": link.plug_to_id,
        "route": link.route,
        "length": link.length,
        "made": link.made,
        "screen": link.screen,
    }
