/** What all of them give. Where one fails, the others are waited for first: nothing runs on behind the back of a failure. */
export async function allEnded<Value>(running: readonly Promise<Value>[]): Promise<Value[]> {
  await Promise.allSettled(running)
  return Promise.all(running)
}
