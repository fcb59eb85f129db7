"""What stands between the first proof of who somebody is and being signed in."""

from allauth.mfa.models import Authenticator
from allauth.mfa.stages import AuthenticateStage
from allauth.mfa.utils import is_mfa_enabled
from django.http import HttpResponse


class CodeStage(AuthenticateStage):
    """Asks for a code of those who have an authenticator app.

    A passkey alone is one more way in and makes no second step of a password.
    """

    def handle(self) -> tuple[HttpResponse | None, bool]:
        if not is_mfa_enabled(self.login.user, [Authenticator.Type.TOTP]):
            return None, True
        answer: tuple[HttpResponse | None, bool] = super().handle()
        return answer
