from django.apps import AppConfig


class StageConfig(AppConfig):
    name = "boardshop.stage"
    label = "stage"
