/** Enough of a browser's own description to know one's devices by. */
export function browserOf(agent: string): string {
  const browser = /(Firefox|Edg|Chrome|Safari)\/[\d]+/.exec(agent)?.[1] ?? 'A program'
  const device = /(iPhone|iPad|Android|Windows|Mac OS X|Linux)/.exec(agent)?.[1] ?? 'an unknown device'
  return `${browser} on ${device}`
}
