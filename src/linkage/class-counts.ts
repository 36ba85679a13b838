import { bySeverity, type HistologyClass } from './remark.ts'

/** Fewest and most lesions of each class. */
export type ClassCounts = Record<HistologyClass, { least: number; most: number }>

export function noCounts(): ClassCounts {
  const nothing = () => ({ least: 0, most: 0 })
  return {
    'conventional-adenoma': nothing(),
    'traditional-serrated-adenoma': nothing(),
    'sessile-serrated-lesion': nothing(),
    hyperplastic: nothing(),
    cancer: nothing(),
    other: nothing(),
  }
}

interface Classed {
  readonly histology: HistologyClass
}

const countOf = (diagnoses: readonly Classed[], histology: HistologyClass): number => {
  let count = 0
  for (const one of diagnoses) if (one.histology === histology) count++
  return count
}

/** Lesions in which a cancer may have arisen: one polyp can be both. */
const precursors: readonly HistologyClass[] = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
]

/** What is said of some pots that have room for so many lesions. */
export interface SaidOfPots {
  readonly diagnoses: readonly Classed[]
  /** Results that may be further diagnoses, of whatever class. */
  readonly unread: number
  /** Tissue without a lesion is told beside one, and may be another piece. */
  readonly isMixed: boolean
  readonly room: number
  readonly holdsPolyps: boolean
}

/**
 * Adds the diagnoses of some pots. One diagnosis speaks for all of them, unless something else is said as well. As many diagnoses
 * as lesions are one each. Fewer leave some lesions open; more than there are polyps describe some polyp twice, and its
 * worst one stands, beside a cancer the lesion that it arose in. What cannot be read may be a lesion that is still open, or say
 * something worse of one that is told.
 */
export function addDiagnoses(counts: ClassCounts, said: SaidOfPots): void {
  const { diagnoses, unread, isMixed, room } = said
  const [only] = diagnoses
  if (only !== undefined && diagnoses.length === 1 && unread === 0 && !(isMixed && room > 1)) {
    counts[only.histology].least += room
    counts[only.histology].most += room
    return
  }
  if (diagnoses.length + unread > room) {
    addCrowded(counts, said)
    return
  }
  const open = room - diagnoses.length
  for (const one of bySeverity) {
    const count = countOf(diagnoses, one)
    const canBeMore = count > 0 || unread > 0 || (isMixed && one === 'other')
    counts[one].least += count
    counts[one].most += canBeMore ? count + open : 0
  }
}

function addCrowded(counts: ClassCounts, { diagnoses, unread, room, holdsPolyps }: SaidOfPots): void {
  const cancers = Math.min(countOf(diagnoses, 'cancer'), room)
  // Left where every cancer is a polyp of its own, and where each arose in a lesion that is told.
  let apart = room - cancers
  let shared = room
  for (const one of bySeverity) {
    const count = countOf(diagnoses, one)
    let fits = cancers
    let mayFit = cancers
    if (one !== 'cancer') {
      if (!precursors.includes(one)) shared = Math.min(shared, room - cancers)
      mayFit = Math.min(count, shared)
      fits = Math.min(count, apart)
      // The worst lesion told beside a cancer is there, be it in the polyp that the cancer arose in.
      if (precursors.includes(one) && mayFit > 0) fits = Math.max(fits, 1)
      shared -= mayFit
      apart = Math.max(0, apart - fits)
    }
    const stands = one === 'cancer' || one === 'conventional-adenoma'
    counts[one].least += stands ? fits : Math.max(0, fits - unread)
    // In a pot of which no polyp is told, two diagnoses may well be two lesions.
    counts[one].most += holdsPolyps ? Math.min(room, mayFit + unread) : count + unread
  }
}

/**
 * Diagnoses without a pot, over slots that none names: each of one slot; more than there are slots may repeat themselves. What
 * cannot be read may be any of the slots, or say something worse of one that is told.
 */
export function addLoose(
  counts: ClassCounts,
  diagnoses: readonly Classed[],
  unread: number,
  slots: number,
  room: number,
): void {
  const more = slots > 0 && diagnoses.length + unread > slots
  const open = Math.max(0, room - Math.max(slots, diagnoses.length))
  for (const one of bySeverity) {
    const count = countOf(diagnoses, one)
    if (count === 0 && unread === 0) continue
    const stands = one === 'cancer' || one === 'conventional-adenoma'
    const least = more ? Math.min(count, slots) : count
    counts[one].least += more && !stands ? Math.max(0, least - unread) : least
    const most = count + (count > 0 && !more ? open : 0)
    counts[one].most += unread === 0 ? most : Math.min(Math.max(room, count), count + unread + open)
  }
}

/** Diagnoses that no polyp's pot accounts for may be of lesions known before that went without one: those are no new ones. */
export function allowForKnown(counts: ClassCounts, diagnoses: readonly Classed[], knownWithoutPot: number): void {
  if (knownWithoutPot === 0) return
  for (const one of bySeverity) {
    if (one === 'other') continue
    const theirs = Math.min(knownWithoutPot, countOf(diagnoses, one))
    counts[one].least = Math.max(0, counts[one].least - theirs)
  }
}
