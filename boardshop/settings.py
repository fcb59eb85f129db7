"""Django's settings; every value that a site may choose comes from a BOARDSHOP_* setting.

boardshop/environment.py lists and reads them.
Without any of them this is the local set-up: a private PostgreSQL and everything else under var/.
"""

import os
import secrets
import sys
from pathlib import Path
from typing import Any

import django_stubs_ext
from django.utils.csp import CSP
from django.utils.translation import gettext_lazy as _

from boardshop import environment
from boardshop.ops.postgres import local_url

# Lets classes such as ModelForm name their model in brackets, as the type checker wants it.
django_stubs_ext.monkeypatch()

BASE_DIR = Path(__file__).resolve().parent.parent
ENV = os.environ
TESTING = "pytest" in sys.modules

DATA_DIR = environment.folder(ENV, "BOARDSHOP_DATA_DIR", BASE_DIR / "var")
DEBUG = environment.flag(ENV, "BOARDSHOP_DEBUG", default=False)
PORT = environment.whole_number(ENV, "BOARDSHOP_PORT", 8000, 1, 65535)
WORKERS = environment.whole_number(ENV, "BOARDSHOP_WORKERS", 2, 1, 64)
PUBLIC_URL = environment.public_url(ENV, "BOARDSHOP_PUBLIC_URL", f"http://localhost:{PORT}")


def _kept_secret_key(file: Path) -> str:
    """The key made on the first start; two processes that start at once agree on one."""
    file.parent.mkdir(parents=True, exist_ok=True)
    draft = file.with_name(f"{file.name}.{os.getpid()}")
    if not file.exists():
        draft.touch(mode=0o600)
        draft.write_text(secrets.token_urlsafe(50), encoding="ascii")
        try:
            os.link(draft, file)
        except FileExistsError:
            pass
        finally:
            draft.unlink()
    return file.read_text(encoding="ascii")


SECRET_KEY = environment.secret(ENV, "BOARDSHOP_SECRET_KEY") or _kept_secret_key(DATA_DIR / "secret-key")

ALLOWED_HOSTS = [PUBLIC_URL.host, "localhost", "127.0.0.1", "[::1]"]
CSRF_TRUSTED_ORIGINS = [PUBLIC_URL.origin]
# A phone on stage must not ask for a password in the dark; RollingSessionMiddleware renews it while in use.
SESSION_COOKIE_AGE = 90 * 24 * 3600
# How long a link of `manage.py let_in` opens.
PASSWORD_RESET_TIMEOUT = 24 * 3600
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = PUBLIC_URL.is_secure
SECURE_HSTS_SECONDS = 30 * 24 * 3600 if PUBLIC_URL.is_secure else 0
if PUBLIC_URL.is_secure:
    # TLS ends at the proxy in front of the app, which must set this header itself.
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

SECURE_CSP = {
    "default-src": [CSP.SELF],
    "script-src": [CSP.SELF],
    "style-src": [CSP.SELF],
    "img-src": [CSP.SELF],
    "font-src": [CSP.SELF],
    "object-src": [CSP.NONE],
    "frame-ancestors": [CSP.NONE],
    "base-uri": [CSP.SELF],
    "form-action": [CSP.SELF],
}
X_FRAME_OPTIONS = "DENY"

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.postgres",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.forms",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.usersessions",
    "boardshop.crew",
    "boardshop.files",
    "boardshop.gear",
    "boardshop.boards",
    "boardshop.bench",
    "boardshop.stage",
    "boardshop.papers",
    "boardshop.ops",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.csp.ContentSecurityPolicyMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "boardshop.ops.middleware.BodyLimitMiddleware",
    "boardshop.ops.middleware.NulMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "boardshop.crew.middleware.RollingSessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "boardshop.crew.middleware.ShopInUseMiddleware",
    "boardshop.crew.middleware.SignInRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "boardshop.crew.middleware.RefusalMiddleware",
    "boardshop.boards.middleware.RowGoneMiddleware",
]

ROOT_URLCONF = "boardshop.urls"
WSGI_APPLICATION = "boardshop.wsgi.application"

TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "boardshop.crew.theme.theme",
                "boardshop.crew.shop_in_use.my_shops",
            ],
        },
    },
]
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"

_database_url = environment.secret(ENV, "BOARDSHOP_DATABASE_URL")
DATABASES: dict[str, Any] = {
    "default": {
        **environment.database(_database_url or local_url(DATA_DIR, "test" if TESTING else "run")),
        "CONN_MAX_AGE": 600,
        "CONN_HEALTH_CHECKS": True,
        # The process number keeps two test runs on one cluster apart.
        "TEST": {"NAME": f"test_boardshop_{os.getpid()}"},
    },
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "crew.Person"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "sign-in"
CSRF_FAILURE_VIEW = "boardshop.crew.views.csrf.csrf_failure"
LOGIN_REDIRECT_URL = "/"

# Sign-in, second factor and devices; how they behave here is in boardshop/crew/accounts.
ACCOUNT_ADAPTER = "boardshop.crew.accounts.adapters.AccountAdapter"
ACCOUNT_LOGIN_METHODS = {"username"}
ACCOUNT_SIGNUP_FIELDS = ["username*", "password1*", "password2*"]
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_FORMS = {
    "login": "boardshop.crew.accounts.forms.SignInForm",
    "reauthenticate": "boardshop.crew.accounts.forms.ConfirmPasswordForm",
}
ACCOUNT_RATE_LIMITS = {
    # A van, a venue or an office is one address with many people: no address as such is ever barred.
    "login": None,
    # By name and address together, and by account for codes.
    "login_failed": "6/10m/key",
    # By name alone, for addresses that the person has never signed in from.
    "login_failed_anywhere": "60/h/key",
    "reset_by_mail": "3/h/key",
}
ALLAUTH_TRUSTED_PROXY_COUNT = environment.whole_number(ENV, "BOARDSHOP_PROXIES", 0, 0, 9)
MFA_ADAPTER = "boardshop.crew.accounts.adapters.SecondFactorAdapter"
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes", "webauthn"]
MFA_PASSKEY_LOGIN_ENABLED = True
# A phone's clock may be one step of 30 s off (RFC 6238, section 5.2).
MFA_TOTP_TOLERANCE = 1
MFA_TOTP_ISSUER = "Boardshop"
MFA_FORMS = {
    "authenticate": "boardshop.crew.accounts.forms.CodeForm",
    "reauthenticate": "boardshop.crew.accounts.forms.ConfirmCodeForm",
    "activate_totp": "boardshop.crew.accounts.forms.AddAuthenticatorForm",
    "login_webauthn": "boardshop.crew.accounts.forms.PasskeySignInForm",
    "authenticate_webauthn": "boardshop.crew.accounts.forms.PasskeyCodeForm",
    "reauthenticate_webauthn": "boardshop.crew.accounts.forms.ConfirmPasskeyForm",
    "add_webauthn": "boardshop.crew.accounts.forms.AddPasskeyForm",
    "edit_webauthn": "boardshop.crew.accounts.forms.RenamePasskeyForm",
}
# A passkey holds no secret that could be guessed.
MFA_RATE_LIMITS = {"webauthn_login": None}

_mail_host = environment.text(ENV, "BOARDSHOP_MAIL_HOST", "")
MAIL_IS_SENT = bool(_mail_host)
DEFAULT_FROM_EMAIL = environment.text(ENV, "BOARDSHOP_MAIL_FROM", f"boardshop@{PUBLIC_URL.host}")
MAILERS: dict[str, Any] = {"default": {"BACKEND": "django.core.mail.backends.dummy.EmailBackend"}}
if MAIL_IS_SENT:
    MAILERS["default"] = environment.smtp(
        _mail_host,
        environment.choice(ENV, "BOARDSHOP_MAIL_SECURITY", "starttls", ("starttls", "tls", "none")),
        environment.whole_number(ENV, "BOARDSHOP_MAIL_PORT", 0, 0, 65535),
        environment.text(ENV, "BOARDSHOP_MAIL_USER", ""),
        environment.secret(ENV, "BOARDSHOP_MAIL_PASSWORD") or "",
    )

# Tries and used codes are counted here, for all server processes together; the table is made by a migration.
CACHES: dict[str, Any] = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "crew_counter",
        "OPTIONS": {"MAX_ENTRIES": 100_000},
    }
}

LANGUAGE_CODE = "en"
LANGUAGES = [("en", _("English"))]
LOCALE_PATHS = [BASE_DIR / "locale"]
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"

# Searches for a layout run beside the server; each keeps one processor busy.
SEARCHES_AT_ONCE = environment.whole_number(ENV, "BOARDSHOP_SEARCHES", 1, 1, 16)
# What sets one going: a function of the key of its row.
SEARCH_STARTER = "boardshop.boards.searching.processes.start_process"

STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = environment.folder(ENV, "BOARDSHOP_STATIC_DIR", DATA_DIR / "staticfiles")
STORAGES: dict[str, Any] = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

_upload_limit_mb = environment.whole_number(ENV, "BOARDSHOP_UPLOAD_LIMIT_MB", 10, 1, 1000)
UPLOAD_LIMIT_BYTES = _upload_limit_mb * 1024 * 1024
# All that one shop keeps of photos and files, thumbnails and trash included.
_files_limit_mb = environment.whole_number(ENV, "BOARDSHOP_FILES_LIMIT_MB", 2000, 1, 10_000_000)
FILES_LIMIT_BYTES = _files_limit_mb * 1024 * 1024
# What a form sends beside its files; the files are held to the limit by their own fields.
# A table comes back from its dry run inside a form, written in letters: at most 5/3 of its bytes.
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * UPLOAD_LIMIT_BYTES

LOGGING: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name} {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    # At every PDF these tell of each step, and of what our style sheets say to screens alone.
    "loggers": {
        "weasyprint": {"level": "ERROR"},
        "weasyprint.progress": {"level": "ERROR"},
        "fontTools": {"level": "WARNING"},
    },
    "root": {
        "handlers": ["console"],
        "level": environment.choice(
            ENV, "BOARDSHOP_LOG_LEVEL", "info", ("debug", "info", "warning", "error")
        ).upper(),
    },
}

if TESTING:
    # Hashing a password for real takes a quarter of a second, and tests collect no static files.
    PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    # A test that wants a search to run says so.
    SEARCH_STARTER = "boardshop.boards.searching.processes.start_nothing"
    STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
    WHITENOISE_AUTOREFRESH = WHITENOISE_USE_FINDERS = True
