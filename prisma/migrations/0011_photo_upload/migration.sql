-- A picture that arrives in parts: what of it is here, until it is whole.
CREATE TABLE "photo_upload" (
    "id" UUID NOT NULL,
    "inspection_id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "content_type" TEXT NOT NULL,
    "said" JSONB NOT NULL,
    "length" INTEGER NOT NULL,
    "sha256" BYTEA,
    "bytes" BYTEA NOT NULL,
    "updated_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "photo_upload_pkey" PRIMARY KEY ("id")
);

-- How much of it one technician has on the way.
CREATE INDEX "photo_upload_user_id_idx" ON "photo_upload"("user_id");

-- The limit is that of server/photos/schema.ts.
ALTER TABLE "photo_upload" ADD CONSTRAINT "photo_upload_length_fits"
  CHECK ("length" BETWEEN 1 AND 12582912 AND octet_length("bytes") <= "length");

-- Pictures are compressed already: trying again at each part would cost time and gain nothing.
ALTER TABLE "photo_upload" ALTER COLUMN "bytes" SET STORAGE EXTERNAL;
