from django.urls import path

from boardshop.papers import views

urlpatterns = [
    path("boards/<str:code>/papers", views.papers, name="papers"),
    path("boards/<str:code>/build-sheet.pdf", views.build_sheet, name="build-sheet"),
    path("boards/<str:code>/cut-sheet.pdf", views.cut_sheet, name="cut-sheet"),
    path("boards/<str:code>/case-label.pdf", views.case_label, name="case-label"),
    path("boards/<str:code>/first-power.pdf", views.first_power_sheet, name="first-power-sheet"),
]
