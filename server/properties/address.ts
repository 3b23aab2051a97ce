/** `14 Quay Lane, Upper flat, Port Ansel`: as people name a home. */
export const addressOf = (home: { line1: string; line2: string; city: string }) =>
  [home.line1, home.line2, home.city].filter((part) => part !== '').join(', ')
