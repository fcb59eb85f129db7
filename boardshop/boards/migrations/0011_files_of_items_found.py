from django.db import migrations

# Of two refs a board bears each once, whatever its case, so a file finds one thing or none.
FIND = """
UPDATE boards_boardfile SET item_key = item.id FROM boards_item item
WHERE item.board_id = boards_boardfile.board_id AND UPPER(item.ref) = UPPER(boards_boardfile.ref)
"""


class Migration(migrations.Migration):
    dependencies = [("boards", "0010_files_follow_their_item")]

    operations = [migrations.RunSQL(FIND, migrations.RunSQL.noop)]
