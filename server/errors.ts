/** Every problem that we answer with (RFC 9457). docs/problems.md lists the same codes; a test compares them. */
export const PROBLEMS = {
  'invalid-request': { status: 400, title: 'Something in the request is not right' },
  'not-logged-in': { status: 401, title: 'Log in first' },
  'wrong-credentials': { status: 401, title: 'E-mail or password is not right' },
  'device-revoked': { status: 401, title: 'This device may not be used any more' },
  'not-allowed': { status: 403, title: 'Your role does not allow this' },
  'cross-site': { status: 403, title: 'The request did not come from this site' },
  'other-person': { status: 409, title: 'Somebody else is logged in' },
  'not-found': { status: 404, title: 'There is no such thing here' },
  'method-not-allowed': { status: 405, title: 'That address does not take this method' },
  'changed-meanwhile': { status: 412, title: 'Someone else changed this first' },
  'still-in-progress': { status: 409, title: 'The same call is still being worked on' },
  'already-exists': { status: 409, title: 'That exists already' },
  'upload-elsewhere': { status: 409, title: 'The upload stands at another byte' },
  'technician-busy': { status: 409, title: 'The technician is somewhere else at that time' },
  'wrong-state': { status: 409, title: 'That cannot be done in its present state' },
  'confirm-messages': { status: 409, title: 'That would write to many people at once' },
  'link-expired': { status: 410, title: 'This link is no longer valid' },
  'link-withdrawn': { status: 410, title: 'The office withdrew this link' },
  'inspection-incomplete': { status: 409, title: 'Something is still open' },
  'too-large': { status: 413, title: 'That is too large' },
  'unsupported-type': { status: 415, title: 'That kind of content is not taken here' },
  'wording-refused': { status: 422, title: 'This wording cannot be sent' },
  'key-reused': { status: 422, title: 'The Idempotency-Key was used for another request' },
  'version-missing': { status: 428, title: 'Say which version you saw' },
  'too-many-requests': { status: 429, title: 'Too many requests' },
  'locked-out': { status: 429, title: 'Too many failed log-ins' },
  'internal-error': { status: 500, title: 'Something went wrong here' },
  'not-available': { status: 503, title: 'Not available for the moment' },
} as const
export type ProblemCode = keyof typeof PROBLEMS

/** One fault of one field. `pointer` is a JSON pointer into the body (`#/phone`), or `?name`, or `path/id`. */
export interface FieldFault {
  pointer: string
  detail: string
}

/** Thrown anywhere below a route; one plugin turns it into application/problem+json. */
export class Problem extends Error {
  readonly code: ProblemCode
  readonly more: Readonly<Record<string, unknown>>
  constructor(code: ProblemCode, detail?: string, more: Readonly<Record<string, unknown>> = {}) {
    super(detail ?? PROBLEMS[code].title)
    this.code = code
    this.more = more
  }
  get status(): number {
    return PROBLEMS[this.code].status
  }
}

/** A body that passed its schema but cannot be right in the light of the records. */
export function invalid(...errors: FieldFault[]): Problem {
  return new Problem('invalid-request', errors.map((each) => each.detail).join('; '), { errors })
}
