-- The customer has said that somebody will be at home. Taken back when the visit is moved to another time.

-- AlterTable
ALTER TABLE "visit" ADD COLUMN     "confirmed_at" TIMESTAMPTZ(3);
