"""All addresses, app by app."""

from django.urls import URLPattern, URLResolver, include, path

from boardshop.ops.health import healthz

urlpatterns: list[URLPattern | URLResolver] = [
    path("healthz", healthz, name="healthz"),
    path("", include("boardshop.crew.urls")),
    path("", include("boardshop.files.urls")),
    path("gear/", include("boardshop.gear.urls")),
    path("", include("boardshop.boards.urls")),
    path("", include("boardshop.bench.urls")),
    path("", include("boardshop.stage.urls")),
    path("", include("boardshop.papers.urls")),
]
