-- Planning follow-ups in whole sets: ids made in the database, and what the planner asks of each candidate.

-- UUIDv7 of an instant: ordered by time, as the ids made outside are. PostgreSQL 18 has uuidv7(); older ones have not.
CREATE FUNCTION uuid_v7(at timestamptz) RETURNS uuid LANGUAGE sql VOLATILE PARALLEL SAFE AS $$
  SELECT encode(set_bit(set_bit(overlay(uuid_send(gen_random_uuid())
    PLACING substring(int8send(floor(extract(epoch FROM at) * 1000)::bigint) FROM 3) FROM 1 FOR 6), 52, 1), 53, 1), 'hex')::uuid
$$;

-- Something ended for one due date stays ended for that date.
CREATE INDEX follow_up_ended ON follow_up (subject_id, kind, due_on) WHERE closed_at IS NOT NULL;

-- A home that somebody is about to go to is not written to; one where nobody let us in is booked anew.
CREATE INDEX visit_live ON visit (property_id, starts_at) WHERE state IN ('booked', 'travelling', 'on-site');
CREATE INDEX visit_no_access ON visit (starts_at) WHERE state = 'no-access';

-- A sale makes the next inspection due at once.
CREATE INDEX property_sold ON property (sold_on) WHERE sold_on IS NOT NULL AND archived_at IS NULL;
