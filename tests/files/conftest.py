import pytest

from boardshop.files.models import Attachment
from boardshop.files.store import receive_files
from boardshop.gear.held_files import GearHolder
from tests.factories import Cast, make_unit
from tests.files.pictures import picture, sent, told_exif


@pytest.fixture
def holder(cast: Cast) -> GearHolder:
    return GearHolder(make_unit(cast.shop))


@pytest.fixture
def photo(cast: Cast, holder: GearHolder) -> Attachment:
    """One photo of a unit."""
    files = [sent(picture(exif=told_exif()), "knobs.jpg")]
    return receive_files(holder, cast.shop, cast.owner, files, "knobs").added[0]
