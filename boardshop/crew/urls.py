from django.urls import path

from boardshop.crew.views import clients, shop, signing

urlpatterns = [
    path("sign-in", signing.sign_in, name="sign-in"),
    path("sign-out", signing.sign_out, name="sign-out"),
    path("change-password", signing.change_password, name="change-password"),
    path("set-up/<str:token>", signing.set_up, name="set-up"),
    path("shop-settings", shop.shop_settings, name="shop-settings"),
    path("set-theme", shop.set_theme, name="set-theme"),
    path("clients", clients.clients, name="clients"),
    path("clients/add", clients.add_client, name="add-client"),
    path("clients/<int:pk>/change", clients.change_client, name="change-client"),
]
