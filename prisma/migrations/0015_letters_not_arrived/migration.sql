-- Letters that reached nobody: the worklist asks for them each time it is opened, and they are few among all.
CREATE INDEX message_ended_unsent ON message (id) WHERE state IN ('failed', 'bounced', 'suppressed');
