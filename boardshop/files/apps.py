from django.apps import AppConfig


class FilesConfig(AppConfig):
    name = "boardshop.files"
    label = "files"
