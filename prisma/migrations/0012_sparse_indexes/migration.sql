-- Most follow-ups are about a device and most messages about no visit: rows that name nothing there have no entry to be
-- written each time a row is.
DROP INDEX follow_up_finding_id_idx, follow_up_visit_id_idx, follow_up_estimate_id_idx, follow_up_request_id_idx,
  message_visit_id_idx;
CREATE INDEX follow_up_finding ON follow_up (finding_id) WHERE finding_id IS NOT NULL;
CREATE INDEX follow_up_visit ON follow_up (visit_id) WHERE visit_id IS NOT NULL;
CREATE INDEX follow_up_estimate ON follow_up (estimate_id) WHERE estimate_id IS NOT NULL;
CREATE INDEX follow_up_request ON follow_up (request_id) WHERE request_id IS NOT NULL;
CREATE INDEX message_visit ON message (visit_id) WHERE visit_id IS NOT NULL;
