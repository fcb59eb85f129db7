from django.urls import URLPattern, path

from boardshop.bench.views import cable_places, cable_tests, cuts, made_cables

urlpatterns: list[URLPattern] = [
    path("boards/<str:code>/cables/cut-list", cuts.cut_list, name="cut-list"),
    path("bench/cuts", cuts.cut_plan, name="cut-plan"),
    path("bench/cuts/book", cuts.book_cuts, name="book-cuts"),
    path("bench/cut-jobs", cuts.cut_jobs, name="cut-jobs"),
    path("bench/cut-jobs/<int:pk>", cuts.cut_job, name="cut-job"),
    path("bench/cut-jobs/<int:pk>/take-back", cuts.take_back_cuts, name="take-back-cuts"),
    path("bench/cables", made_cables.made_cables, name="made-cables"),
    path("bench/cables/add", made_cables.add_made_cable, name="add-made-cable"),
    path("bench/cables/failures", made_cables.cable_failures, name="cable-failures"),
    path("bench/cables/export", made_cables.export_made_cables, name="export-made-cables"),
    path("bench/cables/<str:code>", made_cables.show_made_cable, name="show-made-cable"),
    path("bench/cables/<str:code>/change", made_cables.change_made_cable, name="change-made-cable"),
    path("bench/cables/<str:code>/test", cable_tests.test_cable, name="test-cable"),
    path("bench/cables/<str:code>/fault", cable_tests.report_cable_fault, name="report-cable-fault"),
    path("bench/cables/<str:code>/scrap", cable_tests.scrap_cable, name="scrap-cable"),
    path("bench/cables/<str:code>/unscrap", cable_tests.unscrap_cable, name="unscrap-cable"),
    path("bench/cables/<str:code>/put", cable_places.put_cable_on_board, name="put-cable-on-board"),
    path("bench/cables/<str:code>/off", cable_places.take_cable_off, name="take-cable-off"),
    path("boards/<str:code>/links/<str:ref>/spares", cable_places.spares_for_link, name="spares-for-link"),
]
