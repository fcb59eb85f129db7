from django.urls import path

from boardshop.stage import views

urlpatterns = [
    path("s/", views.find_board, name="find-board"),
    path("s/<str:code>/", views.stage_board, name="stage-board"),
]
