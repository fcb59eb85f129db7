"""Why a file is not taken; `name` is what the person calls it."""

from boardshop.crew.errors import Refusal


class FileRefused(Refusal):
    """%(name)s cannot be taken."""

    field = "sent"


class EmptyFile(FileRefused):
    """%(name)s is empty: choose it again, it may not have come over whole."""


class FileTooLarge(FileRefused):
    """%(name)s is larger than %(limit)s, which is the most for one file: send it smaller."""


class UnknownFile(FileRefused):
    """%(name)s is no picture or document that can be kept: send a JPEG, PNG, WebP or GIF, or a PDF."""


class PhoneFormat(FileRefused):
    """%(name)s is a HEIC or AVIF picture, which many browsers cannot show: send it as JPEG."""


class BrokenPicture(FileRefused):
    """%(name)s is broken or not whole: choose it again from where it was made."""


class TooManyPixels(FileRefused):
    """%(name)s has more than %(limit)s million pixels, which is the most: send it smaller."""


class BrokenDocument(FileRefused):
    """%(name)s cannot be read as a PDF: print it to a PDF anew, and send that."""


class LockedDocument(FileRefused):
    """%(name)s is encrypted: take its password off, and send it again."""


class TooManyPages(FileRefused):
    """%(name)s has more than %(limit)s pages, which is the most: send only those that matter."""


class StoreFull(FileRefused):
    """%(name)s does not fit: %(shop)s keeps %(used)s of files, of the %(limit)s that it may. \
    Remove some first; what was removed counts until it leaves the trash."""


class FileOfSeveralThings(Refusal):
    """“%(name)s” must be of one thing: choose the unit, the cable or the pedal that it shows."""
