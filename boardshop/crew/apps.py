from django.apps import AppConfig


class CrewConfig(AppConfig):
    name = "boardshop.crew"
    label = "crew"
