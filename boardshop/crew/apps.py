from django.apps import AppConfig


class CrewConfig(AppConfig):
    name = "boardshop.crew"
    label = "crew"

    def ready(self) -> None:
        from boardshop.crew.accounts import events  # noqa: F401, its receivers connect themselves
