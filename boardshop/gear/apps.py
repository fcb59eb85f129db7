from django.apps import AppConfig


class GearConfig(AppConfig):
    name = "boardshop.gear"
    label = "gear"
