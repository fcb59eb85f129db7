from django.apps import AppConfig


class BenchConfig(AppConfig):
    name = "boardshop.bench"
    label = "bench"
