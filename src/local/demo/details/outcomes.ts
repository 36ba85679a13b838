import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthPolyp } from '../truth-row.ts'
import { habits } from './habits.ts'

/**
 * What was thought of a polyp, and what became of it: suspected to be cancer, cleared, beyond reach, sent for surgery. One unit
 * answers every question, one those that it answers with yes, one says only what it judged of the removal.
 */
export function detailOutcomes(random: Random, plan: Plan, polyps: readonly TruthPolyp[]): readonly TruthPolyp[] {
  return polyps.map((polyp) => detailOutcome(random, plan, polyp))
}

function detailOutcome(random: Random, { unit }: Plan, polyp: TruthPolyp): TruthPolyp {
  const { sizeMillimetres: size = 4, nature, handling, resection } = polyp
  const isCancer = nature === 'cancer'
  const looksMalignant = random.chance(isCancer ? 8500 : size >= 20 ? 900 : 0)
  const isCleared = random.chance(resection === 'piecemeal' ? 8000 : size >= 10 ? 9600 : 9950)
  const isBeyond = random.chance(2500)
  const wasTried = random.chance(3500)
  const forSurgery = random.chance(isCancer ? 8000 : 5500)
  const isJudged = random.chance(habits[unit.id].resection)
  // Of a polyp that is merely named nothing more is said.
  if (handling === undefined) return polyp
  const isRemoved = handling === 'removed'
  const isLarge = size >= 10 || isCancer
  const isFound = handling !== 'not-found-again'
  const mayBeSent = isLarge && !isRemoved && isFound
  const yes = (holds: boolean, isAsked: boolean): boolean | undefined =>
    unit.id === 'tarnhollow' ? undefined : holds ? true : unit.id === 'ellenby' && isAsked ? false : undefined
  const [suspected, inaccessible] = [yes(looksMalignant, isLarge), yes(mayBeSent && isBeyond, mayBeSent)]
  const sent = yes(mayBeSent && forSurgery, isLarge)
  const tried = isRemoved || yes(mayBeSent && !isBeyond && wasTried, mayBeSent)
  return {
    ...polyp,
    ...(suspected !== undefined && { suspectedCancer: suspected }),
    ...(inaccessible !== undefined && { inaccessible }),
    ...(sent !== undefined && { sentForSurgery: sent }),
    ...(tried !== undefined && { removalAttempted: tried }),
    ...(isRemoved && isJudged && { clearance: isCleared ? 'complete' : 'incomplete' }),
  }
}
