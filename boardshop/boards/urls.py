from django.urls import path

from boardshop.boards.views import lists

urlpatterns = [
    path("", lists.boards, name="boards"),
]
