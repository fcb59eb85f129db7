"""The WSGI application that gunicorn serves."""

import os

from django.core.wsgi import get_wsgi_application

from boardshop.ops.memory import keep_what_is_loaded

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "boardshop.settings")

application = get_wsgi_application()
keep_what_is_loaded()
