"""The theme somebody chose for this screen, kept in a cookie: a stage phone and a desk may differ."""

from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from boardshop.crew.addresses import page_seen

COOKIE = "theme"
KEPT_SECONDS = 365 * 24 * 3600
THEMES = (
    ("auto", _("as the device")),
    ("light", _("light")),
    ("dark", _("dark")),
    ("night", _("night, for the stage")),
)
DEFAULT = "auto"


def read_theme(request: HttpRequest) -> str:
    """The chosen theme, `auto` where none or an unknown one was kept."""
    chosen = request.COOKIES.get(COOKIE, DEFAULT)
    return chosen if chosen in dict(THEMES) else DEFAULT


def theme(request: HttpRequest) -> dict[str, object]:
    """Context processor: `theme` for the page's root, `themes` for the choice in its foot.

    `page_seen` is where that choice leads back to.
    """
    return {"theme": read_theme(request), "themes": THEMES, "page_seen": page_seen(request)}
