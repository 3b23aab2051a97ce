-- What the customer declined to have done, signed on site: { findingIds, name, at, statement, statementHash, drawing? }.
ALTER TABLE "inspection" ADD COLUMN "work_declined" JSONB;
