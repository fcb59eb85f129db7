from django.urls import path

from boardshop.papers import views

urlpatterns = [
    path("board/<str:code>/papers/", views.papers, name="papers"),
    path("board/<str:code>/build-sheet.pdf", views.build_sheet, name="build-sheet"),
    path("board/<str:code>/case-label.pdf", views.case_label, name="case-label"),
]
