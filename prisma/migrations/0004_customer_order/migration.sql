-- Customers by name, page by page: without it each page sorts all of them.
CREATE INDEX "customer_name_id_idx" ON "customer"("name", "id");
