import { SPACE_KINDS } from '../../trade/property.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { changedMeanwhile } from '../versions.ts'
import { checkMaySeeHome } from './scope.ts'
import type { ChangeSpaceBody, NewSpaceBody, SpaceView } from './space-schema.ts'
import * as store from './space-store.ts'
import { getProperty } from './store.ts'

/** The spaces of a home that is new, in the order given. A second bedroom is "Bedroom 2". */
export async function addSpaces(tx: Db, propertyId: string, spaces: readonly NewSpaceBody[]): Promise<void> {
  const rows = spaces.map((space, position) => ({
    ...space,
    id: space.id ?? newId(),
    propertyId,
    position: space.position ?? position,
    name: space.name || numbered(space.kind, spaces.slice(0, position)),
  }))
  const added = await store.insertSpaces(tx, rows)
  if (added < rows.length) {
    throw invalid({
      pointer: '#/spaces',
      detail: 'an id is there twice, or belongs to a space of another home',
    })
  }
}

function numbered(kind: SpaceView['kind'], before: readonly { kind: string }[]): string {
  const number = before.filter((each) => each.kind === kind).length + 1
  return number === 1 ? SPACE_KINDS[kind] : `${SPACE_KINDS[kind]} ${number}`
}

/** One more space. The same id again is the same space, left as it is. */
export async function addSpace(ctx: Ctx, propertyId: string, input: NewSpaceBody): Promise<SpaceView> {
  const id = input.id ?? newId()
  return ctx.db.$transaction(async (tx) => {
    await getProperty(tx, propertyId)
    await checkMaySeeHome(ctx, tx, propertyId)
    const position = input.position ?? (await store.nextPosition(tx, propertyId))
    const name = input.name || numbered(input.kind, await store.listKinds(tx, propertyId))
    const added = await store.insertSpaces(tx, [{ ...input, id, propertyId, position, name }])
    const space = await store.getSpace(tx, id)
    if (space.propertyId !== propertyId) {
      throw new Problem('already-exists', 'A space of another home has that id; make a new one.')
    }
    if (added)
      await audit(ctx, tx, { action: 'space.add', subjectKind: 'space', subjectId: id, after: space })
    return space
  })
}

export async function changeSpace(
  ctx: Ctx,
  id: string,
  seen: number,
  change: ChangeSpaceBody,
): Promise<SpaceView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getSpace(tx, id)
    await checkMaySeeHome(ctx, tx, before.propertyId)
    const { name, ...plain } = change
    const stored = await store.updateSpace(tx, id, seen, { ...plain, ...(name && { name }) })
    const after = await store.getSpace(tx, id)
    if (!stored) throw changedMeanwhile(seen, after)
    await audit(ctx, tx, { action: 'space.change', subjectKind: 'space', subjectId: id, before, after })
    return after
  })
}

/** A space entered by mistake goes; one that something was written down about ends, and stays in the history. */
export async function removeSpace(ctx: Ctx, id: string, seen: number) {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getSpace(tx, id)
    await checkMaySeeHome(ctx, tx, before.propertyId)
    const { timeZone } = await getProperty(tx, before.propertyId)
    const outcome = await store.endSpace(tx, id, seen, ctx.today(timeZone))
    if (!outcome) throw changedMeanwhile(seen, await store.getSpace(tx, id))
    await audit(ctx, tx, { action: `space.${outcome}`, subjectKind: 'space', subjectId: id, before })
    return { outcome }
  })
}
