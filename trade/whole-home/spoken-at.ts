/**
 * At which items of the checklist a rule speaks: there its verdict stands beside the values. A rule about equipment
 * speaks on the line of that piece, one about a space on the line of that space, one about the home on every line.
 */
export const SPOKEN_AT: Readonly<Record<string, readonly string[]>> = {}
