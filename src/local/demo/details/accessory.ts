import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { RemovalReason } from '../truth-details.ts'
import type { Site } from '../truth-words.ts'
import type { Added } from './details.ts'
import { habits } from './habits.ts'

const removalReasons: readonly (readonly [RemovalReason, number])[] = [
  ['narrowed-sigmoid', 60],
  ['discomfort', 20],
  ['looping', 8],
  ['poor-view', 12],
]
const injured: readonly Site[] = ['sigmoid', 'sigmoid', 'sigmoid', 'rectum', 'splenic-flexure', 'transverse']

/** What became of an attachment, and injuries of the mucosa; how much of it is told differs by unit. */
export function detailAccessory(random: Random, plan: Plan): Added {
  const outcome = outcomeOf(random, plan)
  const injury = injuryOf(random, plan)
  return { truth: { ...outcome.truth, ...injury.truth }, written: { ...outcome.written, ...injury.written } }
}

function outcomeOf(random: Random, { unit, row }: Plan): Added {
  const outcome = random.weighted([
    ['kept', 920],
    ['removed', 62],
    ['detached', 18],
  ] as const)
  const wasBefore = random.chance(7200)
  const reason = random.weighted(removalReasons)
  const again = random.chance(3000)
  const isSaid = random.chance(habits[unit.id].attachmentOutcome)
  if (row.attachment === 'none') return { truth: { attachmentRemovedBeforeCaecum: false }, written: {} }
  // One unit writes down only what was done with the device.
  if (row.attachmentKind === undefined || !isSaid || (unit.id === 'tarnhollow' && outcome === 'kept'))
    return { truth: {}, written: {} }
  const removed = outcome === 'removed'
  const inFull = unit.id === 'ellenby'
  const beforeCaecum = removed && inFull ? wasBefore : undefined
  const why = removed && unit.id !== 'tarnhollow' ? reason : undefined
  const reinserted = outcome !== 'kept' && inFull ? again : undefined
  return {
    truth: {
      attachmentOutcome: outcome,
      attachmentRemovedBeforeCaecum: removed ? beforeCaecum : false,
      attachmentRemovalReason: why,
      attachmentReinserted: reinserted,
    },
    written: {
      outcome: {
        outcome,
        ...(beforeCaecum !== undefined && { beforeCaecum }),
        ...(why !== undefined && { reason: why }),
        ...(reinserted !== undefined && { reinserted }),
      },
    },
  }
}

/** Treated only where tissue was taken anyway, so that it decides nothing else. */
function injuryOf(random: Random, { unit, row }: Plan): Added {
  const isAttached = row.attachmentKind !== undefined
  const seen = random.chance(isAttached ? 130 : 60)
  const site = random.pick(injured)
  const isTreated = random.chance(3000)
  const denies = random.chance(2000)
  const tookTissue =
    row.randomBiopsies > 0 || row.polyps.some(({ handling }) => handling === 'removed' || handling === 'biopsied')
  if (!seen) {
    if (unit.id !== 'ellenby' || !denies) return { truth: {}, written: {} }
    return { truth: { mucosalInjury: false }, written: { injury: { seen } } }
  }
  const isSited = unit.id !== 'quernford'
  const treated = unit.id === 'ellenby' ? tookTissue && isTreated : undefined
  return {
    truth: { mucosalInjury: true, mucosalInjurySite: isSited ? site : undefined, mucosalInjuryTreated: treated },
    written: { injury: { seen, ...(isSited && { site }), ...(treated !== undefined && { treated }) } },
  }
}
