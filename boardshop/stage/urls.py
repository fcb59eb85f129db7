from django.urls import path

from boardshop.stage import views

urlpatterns = [
    path("s/<str:code>/", views.stage_board, name="stage-board"),
]
