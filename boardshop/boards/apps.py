from django.apps import AppConfig


class BoardsConfig(AppConfig):
    name = "boardshop.boards"
    label = "boards"
