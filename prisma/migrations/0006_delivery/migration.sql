-- The life of a message: when it was first tried, written and sent back; troubles on its way; wording that the office
-- changed; and how fast a receiving domain takes letters.

-- AlterTable
ALTER TABLE "message" ADD COLUMN     "bounced_at" TIMESTAMPTZ(3),
ADD COLUMN     "first_tried_at" TIMESTAMPTZ(3),
ADD COLUMN     "has_turn" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "rendered_at" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "message_trouble" (
    "id" UUID NOT NULL,
    "message_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "detail" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "message_trouble_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "wording" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "source" TEXT,
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "wording_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "receiving_domain" (
    "domain" TEXT NOT NULL,
    "free_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "receiving_domain_pkey" PRIMARY KEY ("domain")
);

-- CreateIndex
CREATE INDEX "message_trouble_message_id_idx" ON "message_trouble"("message_id");

-- CreateIndex
CREATE UNIQUE INDEX "wording_kind_language_version_key" ON "wording"("kind", "language", "version");

-- AddForeignKey
ALTER TABLE "message_trouble" ADD CONSTRAINT "message_trouble_message_id_fkey" FOREIGN KEY ("message_id") REFERENCES "message"("id") ON DELETE CASCADE ON UPDATE CASCADE;

ALTER TABLE message_trouble ADD CONSTRAINT message_trouble_kind_known
  CHECK (kind IN ('attempt', 'bounced', 'complained', 'delayed'));
ALTER TABLE wording ADD CONSTRAINT wording_language_known CHECK (language IN ('en', 'es'));
ALTER TABLE wording ADD CONSTRAINT wording_version_counts CHECK (version >= 1);
