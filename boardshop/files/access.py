"""From a person to a photo or file: whoever may see the thing that it is of, a member of its shop."""

from django.db.models import F, QuerySet
from django.http import Http404

from boardshop.crew.access import Visitor, check_role
from boardshop.crew.models import Membership, Person
from boardshop.files.models import Attachment
from boardshop.files.store import unheld


def get_attachment_for(
    person: Visitor, key: str, *, editing: bool = False, with_trash: bool = False
) -> Attachment:
    """One photo or file by its key, in one query and without its bytes.

    404 for a stranger and for what is of nothing any more, 403 for a viewer when `editing`.
    One in the trash is found only `with_trash`.
    """
    if not isinstance(person, Person):
        raise Http404
    files: QuerySet[Attachment] = Attachment.with_trash.select_related("shop").exclude(unheld())
    files = files.filter(key=key, shop__memberships__person=person)
    if not with_trash:
        files = files.filter(trashed_at=None)
    attachment = files.annotate(role=F("shop__memberships__role")).first()
    if attachment is None:
        raise Http404
    membership = Membership(person=person, shop=attachment.shop, role=attachment.role)
    check_role(membership, editing=editing)
    return attachment
