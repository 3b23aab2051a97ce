/** Kept with a letter that the office sent in place of an earlier one. */
export interface Again {
  /** The earlier letter. */
  of: string
  /** Who sent it again. */
  by: string
  /** Until when it may go out at night, because somebody said so; null = by day only. */
  nowUntil: string | null
}

/** One letter has one that takes its place, whoever asks and however often. */
export const againKey = (messageId: string) => `again/${messageId}`

export function againOf(context: unknown): Again | null {
  return (context as { again?: Again } | null)?.again ?? null
}

/** Somebody waits for it, and said so; held up past that time, it waits for the morning like any other. */
export function isSentNow(context: unknown, now: Date): boolean {
  const until = againOf(context)?.nowUntil
  return until != null && now < new Date(until)
}
