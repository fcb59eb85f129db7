"""What a proxy or a container engine asks: can this process do its work?"""

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe


@login_not_required
@require_safe
@never_cache
def healthz(request: HttpRequest) -> JsonResponse:
    """200 if the database answers and holds every migration, else 503 and why."""
    try:
        executor = MigrationExecutor(connection)
        missing = len(executor.migration_plan(executor.loader.graph.leaf_nodes()))
    except DatabaseError:
        return JsonResponse({"database": "unreachable", "migrations": "unknown"}, status=503)
    words = f"{missing} missing" if missing else "applied"
    return JsonResponse({"database": "reachable", "migrations": words}, status=503 if missing else 200)
