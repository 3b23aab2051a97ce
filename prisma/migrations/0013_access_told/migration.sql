-- Every process remembers for some seconds who is behind a session or a token. It is told the moment that one is ended,
-- or that a person's role changes or they may not enter any more; so that nobody is let in on what held before.
CREATE FUNCTION tell_access() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('watchlamp_access', '');
  RETURN NULL;
END $$;
CREATE TRIGGER session_access_told AFTER DELETE OR UPDATE OF revoked_at, expires_at, wipe ON session
  FOR EACH STATEMENT EXECUTE FUNCTION tell_access();
CREATE TRIGGER api_token_access_told AFTER DELETE OR UPDATE OF revoked_at, expires_at ON api_token
  FOR EACH STATEMENT EXECUTE FUNCTION tell_access();
CREATE TRIGGER staff_access_told AFTER DELETE OR UPDATE OF role, name, disabled_at ON staff
  FOR EACH STATEMENT EXECUTE FUNCTION tell_access();
