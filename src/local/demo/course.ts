import type { Random } from './random.ts'
import type { DemoUnit, Endoscopist } from './region.ts'
import type { Slot } from './schedule.ts'
import type { TruthPreparation, TruthRow } from './truth-row.ts'
import type { Landmark, Site, StopReason } from './truth-words.ts'

/** How far an examination went, how clean the bowel was, and what of it was written down. */
export interface Course {
  readonly recorded: Pick<
    TruthRow,
    | 'stopped'
    | 'stopReason'
    | 'extent'
    | 'photographs'
    | 'insertionMinutes'
    | 'withdrawalMinutes'
    | 'preparation'
    | 'comfort'
    | 'intent'
  >
  /** Truly reached the caecum or what is left in its place. */
  readonly reached: boolean
  /** Truly clean enough to see what there is. */
  readonly clean: boolean
  readonly withdrawalAsBound: boolean
}

const stopReasons: readonly (readonly [StopReason, number])[] = [
  ['inadequate-preparation', 30],
  ['discomfort', 20],
  ['looping', 20],
  ['obstructing-lesion', 10],
  ['impassable-stricture', 8],
  ['severe-inflammation', 5],
  ['sedation', 3],
  ['equipment', 2],
  ['other', 2],
]
const turningPoints: readonly Site[] = [
  'sigmoid',
  'sigmoid',
  'descending',
  'splenic-flexure',
  'transverse',
  'hepatic-flexure',
]

export function takeCourse(random: Random, slot: Slot, person: Endoscopist, resected: boolean): Course {
  const { unit } = slot
  const limited = random.chance(slot.reason === 'site-check' ? 2500 : 120)
  const stopped = !limited && random.chance(Math.trunc((470 * person.stopping) / 1000))
  // A few are called stopped though the caecum was seen: what the record shows outranks the word.
  const calledStopped = !limited && !stopped && unit.id !== 'quernford' && random.chance(12)
  const reached = !limited && !stopped && !random.chance(70)
  const stopReason = stopped && !random.chance(600) ? random.weighted(stopReasons) : undefined
  const turned = limited
    ? random.pick<Site>(['sigmoid', 'descending'])
    : stopped
      ? random.pick(turningPoints)
      : 'ascending'
  const end = reached ? deepest(random, resected) : turned
  const clean =
    stopReason === 'inadequate-preparation' ? false : random.chance(slot.setting === 'outpatient' ? 9250 : 7800)
  const photographs = reached && random.chance(unit.photographed) ? photographsOf(random, end) : []
  const extentRecorded = random.chance(stopped ? 7500 : unit.extentRecorded) || calledStopped
  const minutes = withdrawalMinutes(random, unit)
  const withdrawalWritten = reached && random.chance(unit.withdrawalRecorded)
  const withdrawalAsBound = withdrawalWritten && unit.id === 'ellenby' && random.chance(15)
  const preparation = calledStopped
    ? ({ kind: 'segments', left: 2, transverse: 2, right: 1 } as const)
    : writtenPreparation(random, unit, { clean, stopped, stopReason, end, limited })
  const insertion = reached && random.chance(5500) ? random.between(4, 24) : undefined
  const comfort = random.chance(unit.comfortRecorded) ? comfortScore(random, unit, stopReason) : undefined
  return {
    recorded: {
      intent: limited ? 'limited' : 'complete',
      stopped: stopped || calledStopped,
      ...(stopReason !== undefined && { stopReason }),
      ...(extentRecorded && { extent: end }),
      photographs,
      ...(insertion !== undefined && { insertionMinutes: insertion }),
      ...(withdrawalWritten && !withdrawalAsBound && { withdrawalMinutes: minutes }),
      ...(preparation !== undefined && { preparation }),
      ...(comfort !== undefined && { comfort }),
    },
    reached,
    clean: calledStopped ? false : clean,
    withdrawalAsBound,
  }
}

function deepest(random: Random, resected: boolean): Site {
  if (resected && random.chance(4500)) return 'anastomosis'
  return random.chance(3600) ? 'ileum' : 'caecum'
}

function photographsOf(random: Random, end: Site): Landmark[] {
  if (end === 'anastomosis') return ['anastomosis']
  const both: Landmark[] = random.chance(8200)
    ? ['appendix-orifice', 'ileocaecal-valve']
    : [random.pick<Landmark>(['appendix-orifice', 'ileocaecal-valve'])]
  return end === 'ileum' && random.chance(6000) ? [...both, 'ileum'] : both
}

/** One unit writes seconds; minutes are then rounded to three decimals, as the record does. */
function withdrawalMinutes(random: Random, unit: DemoUnit): number {
  if (unit.id === 'tarnhollow') return Math.round((random.between(300, 1080) * 1000) / 60) / 1000
  return (random.between(5, 19) + random.between(5, 19)) >> 1
}

interface BowelState {
  readonly clean: boolean
  readonly stopped: boolean
  readonly stopReason: StopReason | undefined
  readonly end: Site
  readonly limited: boolean
}

function writtenPreparation(random: Random, unit: DemoUnit, state: BowelState): TruthPreparation | undefined {
  if (!random.chance(state.stopped ? 7000 : unit.preparationRecorded)) return undefined
  if (unit.id === 'quernford') return totalOrLevel(random, state)
  const score = () => (state.clean ? (random.chance(6000) ? 3 : 2) : random.below(2))
  if (!state.stopped && !state.limited) {
    if (state.clean) return { kind: 'segments', left: score(), transverse: score(), right: score() }
    const dirty = random.below(3)
    const mixed = (position: number) => (position === dirty ? random.below(2) : random.between(1, 3))
    return { kind: 'segments', left: mixed(0), transverse: mixed(1), right: mixed(2) }
  }
  const further = state.end !== 'sigmoid' && state.end !== 'descending'
  // Stopped "for preparation" with clean segments behind: the scores contradict the reason, and the record says so.
  if (state.stopReason === 'inadequate-preparation' && random.chance(800))
    return { kind: 'segments', left: 3, transverse: 3 }
  return { kind: 'segments', left: score(), ...(further && { transverse: score() }) }
}

function totalOrLevel(random: Random, { clean, stopped, limited }: BowelState): TruthPreparation | undefined {
  if (random.chance(6500)) return { kind: 'level', adequate: clean }
  if (stopped || limited) return undefined
  return {
    kind: 'total',
    total: clean
      ? random.weighted([
          [6, 10],
          [7, 15],
          [8, 30],
          [9, 45],
        ] as const)
      : random.between(1, 6),
  }
}

function comfortScore(random: Random, unit: DemoUnit, stopReason: StopReason | undefined): number {
  const least = unit.id === 'tarnhollow' ? 0 : 1
  if (stopReason === 'discomfort') return least + random.between(3, 4)
  return (
    least +
    random.weighted([
      [0, 42],
      [1, 33],
      [2, 17],
      [3, 6],
      [4, 2],
    ] as const)
  )
}
