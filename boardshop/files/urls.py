from django.urls import path

from boardshop.files import views

urlpatterns = [
    path("files/<str:key>", views.show_file, name="show-file"),
    path("files/<str:key>/small", views.show_thumbnail, name="show-thumbnail"),
    path("files/<str:key>/change", views.change_file, name="change-file"),
    path("files/<str:key>/remove", views.remove_file, name="remove-file"),
    path("files/<str:key>/put-back", views.put_back_file, name="put-back-file"),
]
