from django.urls import path

from boardshop.gear.views import cables, files, frames, home, importing, pedals, removing, supplies, units

urlpatterns = [
    path("", home.gear, name="gear"),
    path("pedals/add", pedals.add_pedal_model, name="add-pedal-model"),
    path("pedals/<int:pk>", pedals.show_pedal_model, name="show-pedal-model"),
    path("pedals/<int:pk>/change", pedals.change_pedal_model, name="change-pedal-model"),
    path("supplies/add", supplies.add_supply_model, name="add-supply-model"),
    path("supplies/<int:pk>", supplies.show_supply_model, name="show-supply-model"),
    path("supplies/<int:pk>/change", supplies.change_supply_model, name="change-supply-model"),
    path("frames/add", frames.add_frame_model, name="add-frame-model"),
    path("frames/<int:pk>", frames.show_frame_model, name="show-frame-model"),
    path("frames/<int:pk>/change", frames.change_frame_model, name="change-frame-model"),
    path("cables/add", cables.add_cable_type, name="add-cable-type"),
    path("cables/<int:pk>/change", cables.change_cable_type, name="change-cable-type"),
    path("plugs/add", cables.add_plug_type, name="add-plug-type"),
    path("plugs/<int:pk>/change", cables.change_plug_type, name="change-plug-type"),
    path("stock/add", cables.add_stock, name="add-stock"),
    path("stock/<int:pk>/change", cables.change_stock, name="change-stock"),
    path("units/add", units.add_unit, name="add-unit"),
    path("units/<int:pk>", units.show_unit, name="show-unit"),
    path("units/<int:pk>/change", units.change_unit, name="change-unit"),
    path("units/<int:pk>/draw", units.measure_draw, name="measure-draw"),
    path("<slug:kind>/<int:pk>/delete", removing.delete_gear, name="delete-gear"),
    path("<slug:kind>/<int:pk>/restore", removing.restore_gear, name="restore-gear"),
    path("<slug:kind>/<int:pk>/files", files.add_gear_files, name="add-gear-files"),
    path("<slug:kind>/import", importing.import_gear, name="import-gear"),
    path("<slug:kind>/import/apply", importing.apply_import, name="apply-import"),
    path("<slug:kind>/export", importing.export_gear, name="export-gear"),
    path("<slug:kind>/template", importing.download_template, name="download-template"),
]
