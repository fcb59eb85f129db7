"""Answers of the library's views as the rest of the house gives them."""

from typing import Any

from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import add_never_cache_headers
from django.views.generic.edit import FormMixin

from boardshop.crew.accounts.limits import is_too_many, wait_of


def status_of(form: Form) -> int:
    """200 for a fresh form, 422 for a refused one, 429 (RFC 6585) where it was tried too often."""
    if not form.is_bound or form.is_valid():
        return 200
    return 429 if is_too_many(form) else 422


def as_refused(answer: HttpResponse, form: Form) -> HttpResponse:
    """A refused form is no success; where it was tried too often, Retry-After says for how long."""
    answer.status_code = status_of(form)
    if answer.status_code == 429:
        answer["Retry-After"] = str(wait_of("login_failed"))
    return answer


def answer_form(request: HttpRequest, template: str, form: Form, **context: Any) -> HttpResponse:
    return as_refused(render(request, template, {"form": form} | context), form)


class HouseAnswers(FormMixin[Form]):
    """For the library's views: never kept by a browser; a refused form has the status that it has everywhere.

    `dispatch` stays the library's: it carries who may come in.
    """

    http_method_names = ["get", "head", "options", "post"]

    def render_to_response(self, context: dict[str, Any], **options: Any) -> HttpResponse:
        answer: HttpResponse = super().render_to_response(context, **options)  # type: ignore[misc]
        add_never_cache_headers(answer)
        return answer

    def form_invalid(self, form: Form) -> HttpResponse:
        return as_refused(self.render_to_response(self.get_context_data(form=form)), form)

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        # Some of the library's views make a second form here, which would check what was typed once more.
        context: dict[str, Any] = super().get_context_data(**more)
        return context | more
