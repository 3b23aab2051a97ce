/** The languages that a customer can be written to in, as the office calls them. */
export const LANGUAGES = { en: 'English', es: 'Spanish' } as const
