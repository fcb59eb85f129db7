from django.apps import AppConfig


class OpsConfig(AppConfig):
    name = "boardshop.ops"
    label = "ops"

    def ready(self) -> None:
        from boardshop.ops import checks  # noqa: F401  (registers the system checks)
