-- What people say on their pages, each word once: the office looks at it, and a wrong click can be taken back.
CREATE TABLE "homeowner_answer" (
    "id" UUID NOT NULL,
    "link_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "follow_up_id" UUID,
    "act" TEXT NOT NULL,
    "said" JSONB NOT NULL,
    "before" JSONB NOT NULL DEFAULT '{}',
    "at" TIMESTAMPTZ(3) NOT NULL,
    "taken_back_at" TIMESTAMPTZ(3),
    "checked_at" TIMESTAMPTZ(3),
    "checked_by_id" UUID,

    CONSTRAINT "homeowner_answer_pkey" PRIMARY KEY ("id")
);
ALTER TABLE "homeowner_answer" ADD CONSTRAINT "homeowner_answer_act_known"
  CHECK ("act" IN ('replaced', 'battery', 'checked', 'corrected', 'snooze', 'decline', 'not-mine'));

CREATE INDEX "homeowner_answer_property_id_at_idx" ON "homeowner_answer"("property_id", "at");
CREATE INDEX "homeowner_answer_customer_id_at_idx" ON "homeowner_answer"("customer_id", "at");
CREATE INDEX "homeowner_answer_follow_up_id_idx" ON "homeowner_answer"("follow_up_id");
-- The office reads what nobody has looked at yet, earliest first.
CREATE INDEX "homeowner_answer_checked_at_at_idx" ON "homeowner_answer"("checked_at", "at");

ALTER TABLE "homeowner_answer" ADD CONSTRAINT "homeowner_answer_customer_id_fkey"
  FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "homeowner_answer" ADD CONSTRAINT "homeowner_answer_property_id_fkey"
  FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "homeowner_answer" ADD CONSTRAINT "homeowner_answer_follow_up_id_fkey"
  FOREIGN KEY ("follow_up_id") REFERENCES "follow_up"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- The intervals that the dates beside devices were last worked out with: changed ones are worked in by the next plan.
ALTER TABLE "company" ADD COLUMN "dated_with" JSONB;

-- Reached at a bad moment: the office calls again.
ALTER TABLE "call_note" DROP CONSTRAINT "call_note_outcome_known";
ALTER TABLE "call_note" ADD CONSTRAINT "call_note_outcome_known"
  CHECK ("outcome" IN ('reached', 'no-answer', 'will-call-back', 'call-later', 'declined', 'wrong-number'));
