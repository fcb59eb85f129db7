from django.urls import path

from boardshop.crew.views import (
    account,
    audit,
    clients,
    invitations,
    mail,
    passkeys,
    people,
    shop,
    shops,
    signing,
)

SIGN_IN = signing.SignIn.as_view()
TYPE_CODE = account.TypeCode.as_view()
CONFIRM_PASSWORD = account.ConfirmPassword.as_view()
CONFIRM_CODE = account.ConfirmCode.as_view()
CONFIRM_PASSKEY = passkeys.ConfirmPasskey.as_view()
ADD_AUTHENTICATOR = account.AddAuthenticator.as_view()
REMOVE_AUTHENTICATOR = account.RemoveAuthenticator.as_view()

account_addresses = [
    path("sign-in", SIGN_IN, name="sign-in"),
    path("sign-in/code", TYPE_CODE, name="type-code"),
    path("sign-in/passkey", passkeys.SignInByPasskey.as_view(), name="sign-in-by-passkey"),
    path("account", account.account, name="account"),
    path("account/confirm", CONFIRM_PASSWORD, name="confirm-password"),
    path("account/confirm/code", CONFIRM_CODE, name="confirm-code"),
    path("account/confirm/passkey", CONFIRM_PASSKEY, name="confirm-passkey"),
    path("account/app/add", ADD_AUTHENTICATOR, name="add-authenticator"),
    path("account/app/remove", REMOVE_AUTHENTICATOR, name="remove-authenticator"),
    path("account/codes", account.RecoveryCodes.as_view(), name="recovery-codes"),
    path("account/codes/renew", account.RenewRecoveryCodes.as_view(), name="renew-recovery-codes"),
    path("account/passkeys/add", passkeys.AddPasskey.as_view(), name="add-passkey"),
    path("account/passkeys/<int:pk>/rename", passkeys.RenamePasskey.as_view(), name="rename-passkey"),
    path("account/passkeys/<int:pk>/remove", passkeys.RemovePasskey.as_view(), name="remove-passkey"),
    path("account/devices/<int:pk>/end", account.end_device, name="end-device"),
    path("account/devices/end-others", account.end_other_devices, name="end-other-devices"),
    path("account/mail", mail.change_mail, name="change-mail"),
    path("account/mail/<str:token>", mail.confirm_mail, name="confirm-mail"),
    path("forgot-password", mail.forgot_password, name="forgot-password"),
]
# The same pages by the names under which the library for signing in looks for them.
library_addresses = [
    path("sign-in", SIGN_IN, name="account_login"),
    path("sign-in/code", TYPE_CODE, name="mfa_authenticate"),
    path("account/confirm", CONFIRM_PASSWORD, name="account_reauthenticate"),
    path("account/confirm/code", CONFIRM_CODE, name="mfa_reauthenticate"),
    path("account/confirm/passkey", CONFIRM_PASSKEY, name="mfa_reauthenticate_webauthn"),
    path("account/app/add", ADD_AUTHENTICATOR, name="mfa_activate_totp"),
    path("account/app/remove", REMOVE_AUTHENTICATOR, name="mfa_deactivate_totp"),
]
urlpatterns = [
    *account_addresses,
    *library_addresses,
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
    path("clients/<int:pk>/delete", clients.delete_client, name="delete-client"),
    path("clients/<int:pk>/restore", clients.restore_client, name="restore-client"),
]
