-- What must hold whatever program writes: states, money, one booking at a time, one open follow-up per cause,
-- an audit trail that nobody edits; and the indexes that the busy queries walk.
CREATE EXTENSION IF NOT EXISTS btree_gist;
CREATE EXTENSION IF NOT EXISTS pg_trgm;
CREATE EXTENSION IF NOT EXISTS unaccent;

-- Known words ------------------------------------------------------------------------------------------------------
ALTER TABLE company ADD CONSTRAINT company_one_row CHECK (id = 1);
ALTER TABLE staff ADD CONSTRAINT staff_role_known CHECK (role IN ('admin', 'office', 'technician'));
ALTER TABLE user_token ADD CONSTRAINT user_token_purpose_known
  CHECK (purpose IN ('set-up', 'invitation', 'password-reset'));
ALTER TABLE audit_entry ADD CONSTRAINT audit_entry_actor_known CHECK (actor_kind IN ('user', 'homeowner', 'system'));
ALTER TABLE customer ADD CONSTRAINT customer_kind_known CHECK (kind IN ('person', 'firm'));
ALTER TABLE customer ADD CONSTRAINT customer_language_known CHECK (language IN ('en', 'es'));
ALTER TABLE message_preference ADD CONSTRAINT message_preference_source_known
  CHECK (source IN ('unsubscribe', 'preferences-page', 'office'));
ALTER TABLE suppressed_address ADD CONSTRAINT suppressed_address_reason_known
  CHECK (reason IN ('bounced', 'complained', 'asked'));
ALTER TABLE property ADD CONSTRAINT property_garage_known CHECK (garage IN ('none', 'attached', 'detached'));
ALTER TABLE property ADD CONSTRAINT property_tenure_known CHECK (tenure IN ('owner', 'rented'));
ALTER TABLE property ADD CONSTRAINT property_year_sensible CHECK (year_built BETWEEN 1600 AND 2200);
ALTER TABLE property ADD CONSTRAINT property_position_whole CHECK ((latitude IS NULL) = (longitude IS NULL)
  AND latitude BETWEEN -90 AND 90 AND longitude BETWEEN -180 AND 180);
ALTER TABLE property_party ADD CONSTRAINT property_party_role_known
  CHECK (role IN ('owner', 'occupant', 'payer', 'contact'));
ALTER TABLE equipment ADD CONSTRAINT equipment_kind_known CHECK (kind IN ('service', 'panel', 'circuit', 'disconnect',
  'electrode', 'bond', 'receptacle', 'switch', 'luminaire', 'surge-protector', 'alarm', 'other'));
ALTER TABLE equipment ADD CONSTRAINT equipment_details_object CHECK (jsonb_typeof(details) = 'object');
ALTER TABLE visit_request ADD CONSTRAINT visit_request_state_known CHECK (state IN ('waiting', 'booked', 'withdrawn'));
ALTER TABLE visit_request ADD CONSTRAINT visit_request_kind_known
  CHECK (kind IN ('inspection', 'repair', 'correction-check'));
ALTER TABLE visit_request ADD CONSTRAINT visit_request_source_known
  CHECK (source IN ('phone', 'e-mail', 'private-link'));
ALTER TABLE visit ADD CONSTRAINT visit_state_known
  CHECK (state IN ('booked', 'travelling', 'on-site', 'finished', 'cancelled', 'no-access'));
ALTER TABLE visit ADD CONSTRAINT visit_kind_known CHECK (kind IN ('inspection', 'repair', 'correction-check'));
ALTER TABLE visit ADD CONSTRAINT visit_window_forward CHECK (window_ends_at > window_starts_at);
ALTER TABLE visit ADD CONSTRAINT visit_start_in_window CHECK (starts_at BETWEEN window_starts_at AND window_ends_at);
ALTER TABLE visit ADD CONSTRAINT visit_length_sensible
  CHECK (length_minutes BETWEEN 10 AND 1440 AND ends_at = starts_at + make_interval(mins => length_minutes));
ALTER TABLE inspection ADD CONSTRAINT inspection_state_known CHECK (state IN ('open', 'completed', 'issued'));
ALTER TABLE inspection ADD CONSTRAINT inspection_completed_dated
  CHECK ((state = 'open') = (completed_at IS NULL) AND (completed_at IS NULL) = (completed_on IS NULL));
ALTER TABLE answer ADD CONSTRAINT answer_subject_known CHECK (subject_kind IN ('home', 'space', 'equipment')
  AND (subject_kind = 'home') = (subject_id IS NULL));
ALTER TABLE answer ADD CONSTRAINT answer_result_known CHECK (result IN ('ok', 'finding', 'absent', 'not-reached'));
ALTER TABLE finding ADD CONSTRAINT finding_severity_known
  CHECK (severity IN ('unsafe', 'repair', 'improve', 'watch', 'investigate'));
ALTER TABLE finding ADD CONSTRAINT finding_state_known CHECK (state IN ('open', 'on-estimate', 'accepted', 'declined',
  'booked', 'corrected', 'checked', 'no-longer-applies'));
ALTER TABLE finding_review ADD CONSTRAINT finding_review_outcome_known
  CHECK (outcome IN ('still-there', 'corrected-by-us', 'corrected-by-others', 'no-longer-applies'));
ALTER TABLE photo ADD CONSTRAINT photo_hashes_whole
  CHECK (octet_length(sha256) = 32 AND octet_length(original_sha256) = 32);
ALTER TABLE report ADD CONSTRAINT report_version_counts CHECK (version >= 1);
ALTER TABLE price_item ADD CONSTRAINT price_item_not_negative CHECK (price_cents >= 0 AND tax_basis_points >= 0);
ALTER TABLE price_item ADD CONSTRAINT price_item_unit_known CHECK (unit IN ('each', 'hour', 'foot'));
ALTER TABLE estimate ADD CONSTRAINT estimate_state_known
  CHECK (state IN ('draft', 'sent', 'accepted', 'declined', 'expired', 'withdrawn'));
ALTER TABLE estimate_line ADD CONSTRAINT estimate_line_decision_known
  CHECK (decision IN ('undecided', 'accepted', 'declined'));
ALTER TABLE estimate_line ADD CONSTRAINT estimate_line_quantity_positive CHECK (quantity_thousandths > 0);
ALTER TABLE follow_up ADD CONSTRAINT follow_up_state_known
  CHECK (state IN ('planned', 'told', 'asked', 'booked', 'done', 'dismissed'));
ALTER TABLE follow_up ADD CONSTRAINT follow_up_subject_known
  CHECK (subject_kind IN ('home', 'equipment', 'finding', 'visit', 'estimate'));
ALTER TABLE follow_up ADD CONSTRAINT follow_up_closed_dated
  CHECK ((state IN ('done', 'dismissed')) = (closed_at IS NOT NULL));
ALTER TABLE call_note ADD CONSTRAINT call_note_outcome_known
  CHECK (outcome IN ('reached', 'no-answer', 'will-call-back', 'declined', 'wrong-number'));
ALTER TABLE message ADD CONSTRAINT message_state_known
  CHECK (state IN ('planned', 'sending', 'sent', 'failed', 'bounced', 'suppressed', 'cancelled'));
ALTER TABLE message ADD CONSTRAINT message_category_known
  CHECK (category IN ('booking', 'safety', 'report', 'reminder', 'tips', 'account'));
ALTER TABLE message ADD CONSTRAINT message_language_known CHECK (language IN ('en', 'es'));
ALTER TABLE message ADD CONSTRAINT message_sent_dated CHECK (state <> 'sent' OR sent_at IS NOT NULL);
ALTER TABLE private_link ADD CONSTRAINT private_link_purpose_known
  CHECK (purpose IN ('report', 'due', 'visit', 'preferences', 'estimate'));
ALTER TABLE operation ADD CONSTRAINT operation_outcome_known CHECK (outcome IN ('applied', 'refused'));

ALTER TABLE visit ADD CONSTRAINT visit_sequence_counts CHECK (sequence >= 0);

-- One technician, one place at a time. Half-open, so that one visit may begin when another ends.
ALTER TABLE visit ADD CONSTRAINT visit_no_overlap EXCLUDE USING gist (
  technician_id WITH =,
  tstzrange(starts_at, ends_at) WITH &&
) WHERE (state IN ('booked', 'travelling', 'on-site', 'finished'));

-- One answer per item and subject; the home itself has no subject id.
CREATE UNIQUE INDEX answer_one_per_subject ON answer (inspection_id, item_id, subject_kind, subject_id) NULLS NOT DISTINCT;

-- One open follow-up per cause.
CREATE UNIQUE INDEX follow_up_one_open ON follow_up (kind, subject_id) WHERE closed_at IS NULL;

-- One person to write to per home.
CREATE UNIQUE INDEX property_party_one_contact ON property_party (property_id) WHERE is_contact AND until IS NULL;

-- What the nightly run and the relay walk: cost follows what is due, not what is stored.
CREATE INDEX equipment_replace_by_due ON equipment (replace_by) WHERE retired_on IS NULL AND replace_by IS NOT NULL;
CREATE INDEX equipment_next_check_due ON equipment (next_check_on) WHERE retired_on IS NULL AND next_check_on IS NOT NULL;
CREATE INDEX finding_open ON finding (found_on) WHERE closed_on IS NULL;
CREATE INDEX follow_up_notice_due ON follow_up (next_notice_on) WHERE closed_at IS NULL AND next_notice_on IS NOT NULL;
CREATE INDEX follow_up_due ON follow_up (due_on, id) WHERE closed_at IS NULL;
CREATE INDEX message_waiting ON message (send_after) WHERE state IN ('planned', 'sending');
CREATE INDEX property_last_inspected ON property (last_inspected_on) WHERE archived_at IS NULL;

-- Search that forgives: folded text, letters without accents, phone numbers as digits.
CREATE FUNCTION fold(value text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE STRICT
  AS $$ SELECT lower(public.unaccent('public.unaccent', value)) $$;
CREATE FUNCTION digits(value text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE STRICT
  AS $$ SELECT regexp_replace(value, '[^0-9]', '', 'g') $$;
ALTER TABLE customer ADD COLUMN search text GENERATED ALWAYS AS (
  fold(name) || ' ' || coalesce(fold(email::text), '') || ' ' || coalesce(digits(phone), '') || ' ' ||
  coalesce(digits(second_phone), '')) STORED;
ALTER TABLE property ADD COLUMN search text GENERATED ALWAYS AS (
  fold(line1) || ' ' || fold(line2) || ' ' || fold(city) || ' ' || fold(postcode)) STORED;
CREATE INDEX customer_search ON customer USING gin (search gin_trgm_ops);
CREATE INDEX property_search ON property USING gin (search gin_trgm_ops);
CREATE INDEX customer_phone_digits ON customer (digits(phone));

-- The audit trail is only ever added to.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'audit_entry is append-only' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER audit_entry_append_only BEFORE UPDATE OR DELETE ON audit_entry
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER audit_entry_no_truncate BEFORE TRUNCATE ON audit_entry
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- An issued report stays as it was issued.
CREATE FUNCTION refuse_report_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'an issued report is never changed; issue a new version' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER report_frozen BEFORE UPDATE OR DELETE ON report FOR EACH ROW EXECUTE FUNCTION refuse_report_change();

-- Open screens are told which record changed, after the commit, in every process. A large batch says only its table.
CREATE FUNCTION tell_change() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE ids text[];
BEGIN
  SELECT array_agg(id::text) INTO ids FROM (SELECT id FROM changed LIMIT 51) AS first_ones;
  IF ids IS NULL THEN RETURN NULL; END IF;
  PERFORM pg_notify('watchlamp_change', json_build_object('record', TG_TABLE_NAME,
    'ids', CASE WHEN cardinality(ids) <= 50 THEN to_json(ids) END)::text);
  RETURN NULL;
END $$;
DO $$
DECLARE name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['visit', 'visit_request', 'inspection', 'customer', 'property', 'follow_up', 'message'] LOOP
    EXECUTE format('CREATE TRIGGER %I_told_insert AFTER INSERT ON %I REFERENCING NEW TABLE AS changed
      FOR EACH STATEMENT EXECUTE FUNCTION tell_change()', name, name);
    EXECUTE format('CREATE TRIGGER %I_told_update AFTER UPDATE ON %I REFERENCING NEW TABLE AS changed
      FOR EACH STATEMENT EXECUTE FUNCTION tell_change()', name, name);
  END LOOP;
END $$;
