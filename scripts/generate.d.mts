/** Generates the database client when it is missing or older than its schema. Says whether it did. */
export function generateWhenStale(): boolean
