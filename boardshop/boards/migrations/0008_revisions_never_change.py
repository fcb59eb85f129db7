"""A released revision stays as it is, whoever writes to the table; an account that goes is only forgotten."""

from django.db import migrations

REFUSE = """
CREATE FUNCTION boards_revision_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF to_jsonb(NEW) - 'person_id' IS DISTINCT FROM to_jsonb(OLD) - 'person_id'
     OR (NEW.person_id IS NOT NULL AND NEW.person_id IS DISTINCT FROM OLD.person_id) THEN
    RAISE EXCEPTION 'a released revision never changes'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'revision_never_changes', TABLE = 'boards_revision';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER revision_never_changes BEFORE UPDATE ON boards_revision
  FOR EACH ROW EXECUTE FUNCTION boards_revision_stays();
"""

ALLOW = """
DROP TRIGGER revision_never_changes ON boards_revision;
DROP FUNCTION boards_revision_stays();
"""


class Migration(migrations.Migration):
    dependencies = [("boards", "0007_history_and_trash")]

    operations = [migrations.RunSQL(REFUSE, ALLOW)]
