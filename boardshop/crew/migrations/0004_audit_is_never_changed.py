"""An audit entry stays as it was written; only its link to an account that is deleted goes."""

from django.db import migrations

FORWARD = """
CREATE FUNCTION refuse_audit_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.person_id IS NULL AND to_jsonb(NEW) - 'person_id' = to_jsonb(OLD) - 'person_id' THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'audit entries are never changed'
    USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'audit_is_never_changed';
END
$$;
CREATE TRIGGER audit_is_never_changed BEFORE UPDATE ON crew_auditentry
  FOR EACH ROW EXECUTE FUNCTION refuse_audit_change();
"""
BACKWARD = """
DROP TRIGGER audit_is_never_changed ON crew_auditentry;
DROP FUNCTION refuse_audit_change();
"""


class Migration(migrations.Migration):
    dependencies = [("crew", "0003_invitations_and_since")]

    operations = [migrations.RunSQL(FORWARD, BACKWARD)]
