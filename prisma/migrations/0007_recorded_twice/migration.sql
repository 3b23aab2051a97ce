-- The order in which the server took operations: neither a device's clock nor two writes within one millisecond decide
-- who was the later one.
ALTER TABLE "operation" ADD COLUMN "seq" BIGSERIAL NOT NULL;

-- What was recorded for the same thing and replaced unseen: kept and offered until a person chooses.
CREATE TABLE "alternative" (
    "id" UUID NOT NULL,
    "inspection_id" UUID NOT NULL,
    "subject" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "record" JSONB NOT NULL,
    "recorded_by_id" UUID,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL,
    "replaced_by_id" UUID NOT NULL,
    "replaced_at" TIMESTAMPTZ(3) NOT NULL,
    "choice" TEXT,
    "chosen_by_id" UUID,
    "chosen_at" TIMESTAMPTZ(3),

    CONSTRAINT "alternative_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "alternative_inspection_id_idx" ON "alternative"("inspection_id");

ALTER TABLE "alternative" ADD CONSTRAINT "alternative_inspection_id_fkey" FOREIGN KEY ("inspection_id") REFERENCES "inspection"("id") ON DELETE CASCADE ON UPDATE CASCADE;

ALTER TABLE "alternative" ADD CONSTRAINT "alternative_choice_known" CHECK ("choice" IN ('keep', 'use'));

-- A session ended by somebody else, or for a lost device: what the device holds is deleted at its next contact.
ALTER TABLE "session" ADD COLUMN "wipe" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN "wiped_at" TIMESTAMPTZ(3);
