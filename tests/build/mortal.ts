import type { Ctx } from '../../server/ctx.ts'

type Db = Ctx['db']

export class Killed extends Error {}

/**
 * A database that answers so many statements, those within transactions and their commits counted. At the last the
 * process dies: before it is run, or after. Nothing is answered from then on, and what was not committed is undone.
 */
export function mortal(target: Db, statements: number, isRun: boolean): Db {
  let left = statements
  const live = async (act: () => Promise<unknown>) => {
    if (--left > 0) return act()
    if (left === 0 && isRun) await act()
    throw new Killed()
  }
  const wrap = (object: object): object =>
    new Proxy(object, {
      get(inner, name) {
        const value = Reflect.get(inner, name) as unknown
        if (typeof name !== 'string') return value
        if (value instanceof Object && typeof value !== 'function') return wrap(value)
        if (typeof value !== 'function') return value
        const call = (...args: unknown[]) => Promise.resolve(Reflect.apply(value, inner, args) as unknown)
        if (name === '$transaction')
          return (work: Work, ...more: unknown[]) => inTransaction(call, work, more)
        return (...args: unknown[]) => live(() => call(...args))
      },
    })
  type Work = (tx: object) => Promise<unknown>
  async function inTransaction(begin: (...args: unknown[]) => Promise<unknown>, work: Work, more: unknown[]) {
    let isLast = false
    const made = await begin(
      async (tx: object) => {
        const done = await work(wrap(tx))
        // The commit: dead before it, all is undone; dead after it, all is there and nobody hears of it.
        if (--left < 0 || (left === 0 && !isRun)) throw new Killed()
        isLast = left === 0
        return done
      },
      ...more,
    )
    if (isLast) throw new Killed()
    return made
  }
  return wrap(target) as Db
}
