/** One line of at most so many letters, cut between words: `Working space: clear width 26 in …`. */
export function shortened(text: string, most: number): string {
  const line = text.replace(/\s+/g, ' ').trim()
  if (line.length <= most) return line
  const end = line.lastIndexOf(' ', most)
  return `${line.slice(0, end > 0 ? end : most)} …`
}
