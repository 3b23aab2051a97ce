/** Text from elsewhere without what PostgreSQL cannot keep: zero bytes, and halves of a character, which Node writes as U+FFFD. */
export const storableText = (text: string) => Buffer.from(text.replaceAll('\0', '\uFFFD')).toString()
