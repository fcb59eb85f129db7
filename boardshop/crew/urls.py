from django.urls import path

from boardshop.crew.views import audit, clients, invitations, people, shop, shops, signing

urlpatterns = [
    path("sign-in", signing.sign_in, name="sign-in"),
    path("sign-out", signing.sign_out, name="sign-out"),
    path("change-password", signing.change_password, name="change-password"),
    path("let-in/<int:pk>/<str:token>", signing.let_in, name="let-in"),
    path("set-up/<str:token>", signing.set_up, name="set-up"),
    path("shop-settings", shop.shop_settings, name="shop-settings"),
    path("set-theme", shop.set_theme, name="set-theme"),
    path("shops/add", shops.add_shop, name="add-shop"),
    path("shops/use", shops.use_shop, name="use-shop"),
    path("people", people.people, name="people"),
    path("people/leave", people.leave_shop, name="leave-shop"),
    path("people/hand-over", people.hand_over_shop, name="hand-over-shop"),
    path("people/invite", invitations.make_invitation, name="make-invitation"),
    path("people/invitations/<int:pk>/revoke", invitations.revoke_invitation, name="revoke-invitation"),
    path("people/<int:pk>/role", people.change_role, name="change-role"),
    path("people/<int:pk>/remove", people.remove_member, name="remove-member"),
    path("join/<str:token>", invitations.join, name="join"),
    path("audit", audit.audit, name="audit"),
    path("audit/export", audit.export_audit, name="export-audit"),
    path("clients", clients.clients, name="clients"),
    path("clients/add", clients.add_client, name="add-client"),
    path("clients/<int:pk>/change", clients.change_client, name="change-client"),
]
