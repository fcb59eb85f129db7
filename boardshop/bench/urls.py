from django.urls import path

from boardshop.bench.views import cuts

urlpatterns = [
    path("boards/<str:code>/cables/cut-list", cuts.cut_list, name="cut-list"),
    path("bench/cuts", cuts.cut_plan, name="cut-plan"),
    path("bench/cuts/book", cuts.book_cuts, name="book-cuts"),
    path("bench/cut-jobs", cuts.cut_jobs, name="cut-jobs"),
    path("bench/cut-jobs/<int:pk>", cuts.cut_job, name="cut-job"),
    path("bench/cut-jobs/<int:pk>/take-back", cuts.take_back_cuts, name="take-back-cuts"),
]
