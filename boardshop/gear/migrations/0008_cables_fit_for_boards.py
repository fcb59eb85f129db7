"""Beside each made cable its key again, or null once it failed or was scrapped: what a link may point to."""

from django.db import migrations

ADD = """
ALTER TABLE gear_madecable
  ADD COLUMN fit_for_board bigint
    GENERATED ALWAYS AS (CASE WHEN verdict = 'failed' OR scrapped_on IS NOT NULL THEN NULL ELSE id END) STORED,
  ADD CONSTRAINT made_cable_fit_for_board UNIQUE (fit_for_board);
"""
DROP = "ALTER TABLE gear_madecable DROP COLUMN fit_for_board;"


class Migration(migrations.Migration):
    dependencies = [("gear", "0007_made_cables")]

    operations = [migrations.RunSQL(ADD, DROP)]
