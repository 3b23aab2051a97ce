-- Every table as prisma/schema.prisma describes it.
CREATE EXTENSION IF NOT EXISTS citext;

-- CreateTable
CREATE TABLE "company" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "name" TEXT NOT NULL,
    "phone" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "address_lines" TEXT[],
    "time_zone" TEXT NOT NULL,
    "policy" JSONB NOT NULL DEFAULT '{}',
    "logo_photo_id" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "company_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "staff" (
    "id" UUID NOT NULL,
    "email" CITEXT NOT NULL,
    "name" TEXT NOT NULL,
    "phone" TEXT,
    "role" TEXT NOT NULL,
    "password_hash" TEXT,
    "failed_logins" INTEGER NOT NULL DEFAULT 0,
    "locked_until" TIMESTAMPTZ(3),
    "disabled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "staff_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "user_token" (
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "user_token_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "session" (
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "user_agent" TEXT NOT NULL,
    "ip" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_seen_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "api_token" (
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "prefix" TEXT NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3),
    "last_used_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "api_token_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "audit_entry" (
    "id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "actor_kind" TEXT NOT NULL,
    "actor_id" UUID,
    "action" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" UUID,
    "before" JSONB,
    "after" JSONB,
    "ip" TEXT,
    "request_id" TEXT,

    CONSTRAINT "audit_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "idempotency_key" (
    "key" TEXT NOT NULL,
    "user_id" UUID NOT NULL,
    "route" TEXT NOT NULL,
    "request_hash" BYTEA NOT NULL,
    "status" INTEGER NOT NULL,
    "body" JSONB,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "idempotency_key_pkey" PRIMARY KEY ("user_id","key")
);

-- CreateTable
CREATE TABLE "customer" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "email" CITEXT,
    "phone" TEXT,
    "second_phone" TEXT,
    "language" TEXT NOT NULL DEFAULT 'en',
    "address_lines" TEXT[],
    "notes" TEXT NOT NULL DEFAULT '',
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "customer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "message_preference" (
    "customer_id" UUID NOT NULL,
    "category" TEXT NOT NULL,
    "allowed" BOOLEAN NOT NULL,
    "source" TEXT NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "message_preference_pkey" PRIMARY KEY ("customer_id","category")
);

-- CreateTable
CREATE TABLE "suppressed_address" (
    "email" CITEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "detail" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "suppressed_address_pkey" PRIMARY KEY ("email")
);

-- CreateTable
CREATE TABLE "jurisdiction" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "region" TEXT NOT NULL,
    "is_us" BOOLEAN NOT NULL DEFAULT true,
    "adoptions" JSONB NOT NULL DEFAULT '[]',
    "amendments" JSONB NOT NULL DEFAULT '[]',
    "version" INTEGER NOT NULL DEFAULT 1,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "jurisdiction_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "property" (
    "id" UUID NOT NULL,
    "line1" TEXT NOT NULL,
    "line2" TEXT NOT NULL DEFAULT '',
    "city" TEXT NOT NULL,
    "region" TEXT NOT NULL,
    "postcode" TEXT NOT NULL,
    "latitude" DOUBLE PRECISION,
    "longitude" DOUBLE PRECISION,
    "time_zone" TEXT NOT NULL,
    "jurisdiction_id" UUID,
    "year_built" INTEGER,
    "year_altered" INTEGER,
    "levels" INTEGER,
    "area_sq_ft" INTEGER,
    "fuels" TEXT[],
    "has_gas_piping" BOOLEAN,
    "garage" TEXT,
    "garage_opens_into_home" BOOLEAN,
    "tenure" TEXT,
    "last_inspected_on" DATE,
    "sold_on" DATE,
    "access_notes" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "property_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "property_party" (
    "property_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "is_contact" BOOLEAN NOT NULL DEFAULT false,
    "since" DATE NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "until" DATE,

    CONSTRAINT "property_party_pkey" PRIMARY KEY ("property_id","customer_id","role")
);

-- CreateTable
CREATE TABLE "space" (
    "id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "level" INTEGER NOT NULL DEFAULT 0,
    "area_sq_ft" INTEGER,
    "has_sink" BOOLEAN,
    "has_tub_or_shower" BOOLEAN,
    "has_fuel_burner" BOOLEAN,
    "sleeping_area" TEXT,
    "position" INTEGER NOT NULL DEFAULT 0,
    "retired_on" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "space_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "equipment" (
    "id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "space_id" UUID,
    "parent_id" UUID,
    "kind" TEXT NOT NULL,
    "label" TEXT NOT NULL,
    "details" JSONB NOT NULL DEFAULT '{}',
    "manufactured_on" DATE,
    "installed_on" DATE,
    "replace_by" DATE,
    "replace_by_assumed" BOOLEAN NOT NULL DEFAULT false,
    "last_checked_on" DATE,
    "next_check_on" DATE,
    "retired_on" DATE,
    "retired_reason" TEXT,
    "replaced_by_id" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "equipment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit_request" (
    "id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "kind" TEXT NOT NULL DEFAULT 'inspection',
    "preferred_days" DATE[],
    "preferred_time" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "source" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "closed_reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visit_request_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit" (
    "id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "request_id" UUID,
    "technician_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'booked',
    "window_starts_at" TIMESTAMPTZ(3) NOT NULL,
    "window_ends_at" TIMESTAMPTZ(3) NOT NULL,
    "starts_at" TIMESTAMPTZ(3) NOT NULL,
    "length_minutes" INTEGER NOT NULL,
    "ends_at" TIMESTAMPTZ(3) NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "sequence" INTEGER NOT NULL DEFAULT 0,
    "travel_started_at" TIMESTAMPTZ(3),
    "arrived_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "closed_reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "inspection" (
    "id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "technician_id" UUID NOT NULL,
    "checklist_version" INTEGER NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'open',
    "started_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "completed_at" TIMESTAMPTZ(3),
    "completed_on" DATE,
    "note" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "inspection_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "answer" (
    "id" UUID NOT NULL,
    "inspection_id" UUID NOT NULL,
    "item_id" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" UUID,
    "result" TEXT NOT NULL,
    "not_reached_reason" TEXT,
    "note" TEXT NOT NULL DEFAULT '',
    "readings" JSONB NOT NULL DEFAULT '{}',
    "verdicts" JSONB NOT NULL DEFAULT '[]',
    "disagreements" JSONB NOT NULL DEFAULT '[]',
    "answered_by_id" UUID NOT NULL,
    "answered_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "answer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "finding" (
    "id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "inspection_id" UUID NOT NULL,
    "item_id" TEXT NOT NULL,
    "space_id" UUID,
    "equipment_id" UUID,
    "severity" TEXT NOT NULL,
    "proposed_severity" TEXT,
    "lowered_reason" TEXT,
    "rule" TEXT,
    "text" TEXT NOT NULL,
    "correction" TEXT NOT NULL DEFAULT '',
    "state" TEXT NOT NULL DEFAULT 'open',
    "make_safe" TEXT,
    "refusal" JSONB,
    "watch_until" DATE,
    "found_on" DATE NOT NULL,
    "closed_on" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "finding_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "finding_review" (
    "inspection_id" UUID NOT NULL,
    "finding_id" UUID NOT NULL,
    "outcome" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "reviewed_by_id" UUID NOT NULL,
    "reviewed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "finding_review_pkey" PRIMARY KEY ("inspection_id","finding_id")
);

-- CreateTable
CREATE TABLE "photo" (
    "id" UUID NOT NULL,
    "inspection_id" UUID NOT NULL,
    "finding_id" UUID,
    "item_id" TEXT,
    "subject_id" UUID,
    "sha256" BYTEA NOT NULL,
    "original_sha256" BYTEA NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "bytes" INTEGER NOT NULL,
    "caption" TEXT NOT NULL DEFAULT '',
    "annotations" JSONB NOT NULL DEFAULT '[]',
    "taken_at" TIMESTAMPTZ(3),
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "photo_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "report" (
    "id" UUID NOT NULL,
    "inspection_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "content" JSONB NOT NULL,
    "sha256" BYTEA NOT NULL,
    "pdf_sha256" BYTEA NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "issued_by_id" UUID NOT NULL,
    "issued_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "report_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "price_item" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "description" TEXT NOT NULL DEFAULT '',
    "unit" TEXT NOT NULL DEFAULT 'each',
    "price_cents" INTEGER NOT NULL,
    "tax_basis_points" INTEGER NOT NULL DEFAULT 0,
    "corrects_items" TEXT[],
    "retired_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "price_item_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "estimate" (
    "id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "number" SERIAL NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'draft',
    "expires_on" DATE,
    "sent_at" TIMESTAMPTZ(3),
    "decided_at" TIMESTAMPTZ(3),
    "signature" JSONB,
    "note" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "estimate_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "estimate_line" (
    "id" UUID NOT NULL,
    "estimate_id" UUID NOT NULL,
    "finding_id" UUID,
    "price_item_id" UUID,
    "option" TEXT NOT NULL DEFAULT '',
    "description" TEXT NOT NULL,
    "quantity_thousandths" INTEGER NOT NULL DEFAULT 1000,
    "price_cents" INTEGER NOT NULL,
    "tax_basis_points" INTEGER NOT NULL DEFAULT 0,
    "position" INTEGER NOT NULL DEFAULT 0,
    "decision" TEXT NOT NULL DEFAULT 'undecided',

    CONSTRAINT "estimate_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "follow_up" (
    "id" UUID NOT NULL,
    "property_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" UUID NOT NULL,
    "equipment_id" UUID,
    "finding_id" UUID,
    "visit_id" UUID,
    "estimate_id" UUID,
    "request_id" UUID,
    "due_on" DATE NOT NULL,
    "assumed" BOOLEAN NOT NULL DEFAULT false,
    "reason" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'planned',
    "last_step" TEXT,
    "next_notice_on" DATE,
    "snoozed_until" DATE,
    "closed_at" TIMESTAMPTZ(3),
    "closed_reason" TEXT,
    "closed_by_id" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "follow_up_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "call_note" (
    "id" UUID NOT NULL,
    "follow_up_id" UUID NOT NULL,
    "outcome" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "call_note_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "message" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "category" TEXT NOT NULL,
    "customer_id" UUID,
    "property_id" UUID,
    "visit_id" UUID,
    "to_address" TEXT NOT NULL,
    "to_name" TEXT NOT NULL DEFAULT '',
    "language" TEXT NOT NULL DEFAULT 'en',
    "dedupe_key" TEXT NOT NULL,
    "message_id_header" TEXT NOT NULL,
    "context" JSONB NOT NULL DEFAULT '{}',
    "subject" TEXT,
    "text_body" TEXT,
    "html_body" TEXT,
    "calendar" TEXT,
    "state" TEXT NOT NULL DEFAULT 'planned',
    "reason" TEXT NOT NULL DEFAULT '',
    "send_after" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "lease_until" TIMESTAMPTZ(3),
    "lease_by" TEXT,
    "last_error" TEXT,
    "sent_at" TIMESTAMPTZ(3),
    "opened_page_at" TIMESTAMPTZ(3),
    "acted_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "message_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "message_follow_up" (
    "message_id" UUID NOT NULL,
    "follow_up_id" UUID NOT NULL,
    "step" TEXT NOT NULL,

    CONSTRAINT "message_follow_up_pkey" PRIMARY KEY ("message_id","follow_up_id")
);

-- CreateTable
CREATE TABLE "private_link" (
    "id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "property_id" UUID,
    "purpose" TEXT NOT NULL,
    "subject_id" UUID,
    "token_hash" BYTEA NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_seen_at" TIMESTAMPTZ(3),

    CONSTRAINT "private_link_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "operation" (
    "id" UUID NOT NULL,
    "inspection_id" UUID,
    "user_id" UUID NOT NULL,
    "device_id" UUID NOT NULL,
    "command" TEXT NOT NULL,
    "payload" JSONB NOT NULL,
    "outcome" TEXT NOT NULL,
    "problem" JSONB,
    "received_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "operation_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "staff_email_key" ON "staff"("email");

-- CreateIndex
CREATE UNIQUE INDEX "user_token_token_hash_key" ON "user_token"("token_hash");

-- CreateIndex
CREATE INDEX "user_token_user_id_idx" ON "user_token"("user_id");

-- CreateIndex
CREATE UNIQUE INDEX "session_token_hash_key" ON "session"("token_hash");

-- CreateIndex
CREATE INDEX "session_user_id_idx" ON "session"("user_id");

-- CreateIndex
CREATE UNIQUE INDEX "api_token_token_hash_key" ON "api_token"("token_hash");

-- CreateIndex
CREATE INDEX "api_token_user_id_idx" ON "api_token"("user_id");

-- CreateIndex
CREATE INDEX "audit_entry_subject_kind_subject_id_at_idx" ON "audit_entry"("subject_kind", "subject_id", "at");

-- CreateIndex
CREATE INDEX "audit_entry_at_idx" ON "audit_entry"("at");

-- CreateIndex
CREATE INDEX "idempotency_key_created_at_idx" ON "idempotency_key"("created_at");

-- CreateIndex
CREATE INDEX "customer_email_idx" ON "customer"("email");

-- CreateIndex
CREATE UNIQUE INDEX "jurisdiction_name_key" ON "jurisdiction"("name");

-- CreateIndex
CREATE INDEX "property_jurisdiction_id_idx" ON "property"("jurisdiction_id");

-- CreateIndex
CREATE INDEX "property_postcode_line1_idx" ON "property"("postcode", "line1");

-- CreateIndex
CREATE INDEX "property_party_customer_id_idx" ON "property_party"("customer_id");

-- CreateIndex
CREATE INDEX "space_property_id_idx" ON "space"("property_id");

-- CreateIndex
CREATE INDEX "equipment_property_id_idx" ON "equipment"("property_id");

-- CreateIndex
CREATE INDEX "equipment_parent_id_idx" ON "equipment"("parent_id");

-- CreateIndex
CREATE INDEX "equipment_space_id_idx" ON "equipment"("space_id");

-- CreateIndex
CREATE INDEX "visit_request_property_id_idx" ON "visit_request"("property_id");

-- CreateIndex
CREATE INDEX "visit_request_customer_id_idx" ON "visit_request"("customer_id");

-- CreateIndex
CREATE INDEX "visit_request_state_created_at_idx" ON "visit_request"("state", "created_at");

-- CreateIndex
CREATE INDEX "visit_technician_id_starts_at_idx" ON "visit"("technician_id", "starts_at");

-- CreateIndex
CREATE INDEX "visit_starts_at_idx" ON "visit"("starts_at");

-- CreateIndex
CREATE INDEX "visit_property_id_idx" ON "visit"("property_id");

-- CreateIndex
CREATE INDEX "visit_customer_id_idx" ON "visit"("customer_id");

-- CreateIndex
CREATE INDEX "visit_request_id_idx" ON "visit"("request_id");

-- CreateIndex
CREATE UNIQUE INDEX "inspection_visit_id_key" ON "inspection"("visit_id");

-- CreateIndex
CREATE INDEX "inspection_property_id_idx" ON "inspection"("property_id");

-- CreateIndex
CREATE INDEX "inspection_technician_id_idx" ON "inspection"("technician_id");

-- CreateIndex
CREATE INDEX "answer_inspection_id_idx" ON "answer"("inspection_id");

-- CreateIndex
CREATE INDEX "finding_property_id_state_idx" ON "finding"("property_id", "state");

-- CreateIndex
CREATE INDEX "finding_inspection_id_idx" ON "finding"("inspection_id");

-- CreateIndex
CREATE INDEX "finding_equipment_id_idx" ON "finding"("equipment_id");

-- CreateIndex
CREATE INDEX "finding_review_finding_id_idx" ON "finding_review"("finding_id");

-- CreateIndex
CREATE INDEX "photo_inspection_id_idx" ON "photo"("inspection_id");

-- CreateIndex
CREATE INDEX "photo_finding_id_idx" ON "photo"("finding_id");

-- CreateIndex
CREATE UNIQUE INDEX "report_inspection_id_version_key" ON "report"("inspection_id", "version");

-- CreateIndex
CREATE UNIQUE INDEX "price_item_code_key" ON "price_item"("code");

-- CreateIndex
CREATE UNIQUE INDEX "estimate_number_key" ON "estimate"("number");

-- CreateIndex
CREATE INDEX "estimate_property_id_idx" ON "estimate"("property_id");

-- CreateIndex
CREATE INDEX "estimate_customer_id_idx" ON "estimate"("customer_id");

-- CreateIndex
CREATE INDEX "estimate_line_estimate_id_idx" ON "estimate_line"("estimate_id");

-- CreateIndex
CREATE INDEX "estimate_line_finding_id_idx" ON "estimate_line"("finding_id");

-- CreateIndex
CREATE INDEX "estimate_line_price_item_id_idx" ON "estimate_line"("price_item_id");

-- CreateIndex
CREATE INDEX "follow_up_property_id_idx" ON "follow_up"("property_id");

-- CreateIndex
CREATE INDEX "follow_up_equipment_id_idx" ON "follow_up"("equipment_id");

-- CreateIndex
CREATE INDEX "follow_up_finding_id_idx" ON "follow_up"("finding_id");

-- CreateIndex
CREATE INDEX "follow_up_visit_id_idx" ON "follow_up"("visit_id");

-- CreateIndex
CREATE INDEX "follow_up_estimate_id_idx" ON "follow_up"("estimate_id");

-- CreateIndex
CREATE INDEX "follow_up_request_id_idx" ON "follow_up"("request_id");

-- CreateIndex
CREATE INDEX "call_note_follow_up_id_idx" ON "call_note"("follow_up_id");

-- CreateIndex
CREATE UNIQUE INDEX "message_dedupe_key_key" ON "message"("dedupe_key");

-- CreateIndex
CREATE UNIQUE INDEX "message_message_id_header_key" ON "message"("message_id_header");

-- CreateIndex
CREATE INDEX "message_customer_id_created_at_idx" ON "message"("customer_id", "created_at");

-- CreateIndex
CREATE INDEX "message_property_id_created_at_idx" ON "message"("property_id", "created_at");

-- CreateIndex
CREATE INDEX "message_visit_id_idx" ON "message"("visit_id");

-- CreateIndex
CREATE INDEX "message_created_at_idx" ON "message"("created_at");

-- CreateIndex
CREATE INDEX "message_follow_up_follow_up_id_idx" ON "message_follow_up"("follow_up_id");

-- CreateIndex
CREATE UNIQUE INDEX "private_link_token_hash_key" ON "private_link"("token_hash");

-- CreateIndex
CREATE INDEX "private_link_customer_id_idx" ON "private_link"("customer_id");

-- CreateIndex
CREATE INDEX "private_link_property_id_idx" ON "private_link"("property_id");

-- CreateIndex
CREATE INDEX "operation_inspection_id_idx" ON "operation"("inspection_id");

-- AddForeignKey
ALTER TABLE "user_token" ADD CONSTRAINT "user_token_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "staff"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "staff"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "api_token" ADD CONSTRAINT "api_token_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "staff"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "message_preference" ADD CONSTRAINT "message_preference_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "property" ADD CONSTRAINT "property_jurisdiction_id_fkey" FOREIGN KEY ("jurisdiction_id") REFERENCES "jurisdiction"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "property_party" ADD CONSTRAINT "property_party_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "property_party" ADD CONSTRAINT "property_party_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "space" ADD CONSTRAINT "space_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment" ADD CONSTRAINT "equipment_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment" ADD CONSTRAINT "equipment_space_id_fkey" FOREIGN KEY ("space_id") REFERENCES "space"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment" ADD CONSTRAINT "equipment_parent_id_fkey" FOREIGN KEY ("parent_id") REFERENCES "equipment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_request" ADD CONSTRAINT "visit_request_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_request" ADD CONSTRAINT "visit_request_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_request_id_fkey" FOREIGN KEY ("request_id") REFERENCES "visit_request"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "answer" ADD CONSTRAINT "answer_inspection_id_fkey" FOREIGN KEY ("inspection_id") REFERENCES "inspection"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_inspection_id_fkey" FOREIGN KEY ("inspection_id") REFERENCES "inspection"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_equipment_id_fkey" FOREIGN KEY ("equipment_id") REFERENCES "equipment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding_review" ADD CONSTRAINT "finding_review_inspection_id_fkey" FOREIGN KEY ("inspection_id") REFERENCES "inspection"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding_review" ADD CONSTRAINT "finding_review_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_inspection_id_fkey" FOREIGN KEY ("inspection_id") REFERENCES "inspection"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "report" ADD CONSTRAINT "report_inspection_id_fkey" FOREIGN KEY ("inspection_id") REFERENCES "inspection"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "estimate" ADD CONSTRAINT "estimate_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "estimate" ADD CONSTRAINT "estimate_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "estimate_line" ADD CONSTRAINT "estimate_line_estimate_id_fkey" FOREIGN KEY ("estimate_id") REFERENCES "estimate"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "estimate_line" ADD CONSTRAINT "estimate_line_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "estimate_line" ADD CONSTRAINT "estimate_line_price_item_id_fkey" FOREIGN KEY ("price_item_id") REFERENCES "price_item"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_equipment_id_fkey" FOREIGN KEY ("equipment_id") REFERENCES "equipment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_estimate_id_fkey" FOREIGN KEY ("estimate_id") REFERENCES "estimate"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_request_id_fkey" FOREIGN KEY ("request_id") REFERENCES "visit_request"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "call_note" ADD CONSTRAINT "call_note_follow_up_id_fkey" FOREIGN KEY ("follow_up_id") REFERENCES "follow_up"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "message" ADD CONSTRAINT "message_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "message" ADD CONSTRAINT "message_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "message" ADD CONSTRAINT "message_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "message_follow_up" ADD CONSTRAINT "message_follow_up_message_id_fkey" FOREIGN KEY ("message_id") REFERENCES "message"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "message_follow_up" ADD CONSTRAINT "message_follow_up_follow_up_id_fkey" FOREIGN KEY ("follow_up_id") REFERENCES "follow_up"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "private_link" ADD CONSTRAINT "private_link_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "private_link" ADD CONSTRAINT "private_link_property_id_fkey" FOREIGN KEY ("property_id") REFERENCES "property"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "operation" ADD CONSTRAINT "operation_inspection_id_fkey" FOREIGN KEY ("inspection_id") REFERENCES "inspection"("id") ON DELETE SET NULL ON UPDATE CASCADE;
