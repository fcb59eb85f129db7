from django.apps import AppConfig


class PapersConfig(AppConfig):
    name = "boardshop.papers"
    label = "papers"
