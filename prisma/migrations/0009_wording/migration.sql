-- Why a wording was changed; and the life of a message tells when the company's own wording could not be used.
ALTER TABLE "wording" ADD COLUMN "note" TEXT NOT NULL DEFAULT '';
ALTER TABLE message_trouble DROP CONSTRAINT message_trouble_kind_known;
ALTER TABLE message_trouble ADD CONSTRAINT message_trouble_kind_known
  CHECK (kind IN ('attempt', 'bounced', 'complained', 'delayed', 'wording'));
