"""Every page in every theme at a desk; the phone has a file of its own, so that both are walked at once."""

import pytest
from django.urls import reverse

from boardshop.crew.setup import issue_setup_token
from tests.browser.every_page import look, look_at_every_page
from tests.chromium import DESKTOP, InBrowser

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_every_page(in_browser: InBrowser) -> None:
    look_at_every_page(in_browser, DESKTOP)


def test_the_first_start(in_browser: InBrowser) -> None:
    """The one page that is there only while nobody has an account."""
    path = reverse("set-up", args=[issue_setup_token()])
    assert in_browser(lambda page: look(page, path, is_phone=False), size=DESKTOP) == []
