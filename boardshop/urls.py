"""All addresses, app by app."""

from django.urls import URLPattern, URLResolver, path

from boardshop.ops.health import healthz

urlpatterns: list[URLPattern | URLResolver] = [
    path("healthz", healthz, name="healthz"),
]
