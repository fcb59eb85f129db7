"""Notices with a button: what was just put into the trash is put back with one click.

The button is a form of its own, drawn with the notice (templates/pieces/notice.html).
"""

from django.contrib import messages
from django.http import HttpRequest


def tell_trashed(request: HttpRequest, said: str, put_back: str) -> None:
    """A notice on the next page; `put_back` is the address that takes a POST, a path on this server.

    The address travels as the message's extra tag: no class name begins with a slash.
    """
    assert put_back.startswith("/"), put_back
    messages.success(request, said, extra_tags=put_back)
