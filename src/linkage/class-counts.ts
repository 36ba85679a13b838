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

/**
 * Adds the diagnoses of some pots that have room for so many lesions. One diagnosis speaks for all of them. As many diagnoses
 * as lesions are one each. Fewer leave some lesions open; more than there are polyps describe some polyp twice, and its
 * worst one stands.
 */
export function addDiagnoses(
  counts: ClassCounts,
  diagnoses: readonly Classed[],
  room: number,
  holdsPolyps: boolean,
): void {
  const [only] = diagnoses
  if (only !== undefined && diagnoses.length === 1) {
    counts[only.histology].least += room
    counts[only.histology].most += room
    return
  }
  if (diagnoses.length <= room) {
    const open = room - diagnoses.length
    for (const one of bySeverity) {
      const count = countOf(diagnoses, one)
      counts[one].least += count
      counts[one].most += count > 0 ? count + open : 0
    }
    return
  }
  let left = room
  for (const one of bySeverity) {
    const count = countOf(diagnoses, one)
    const fits = Math.min(count, left)
    left -= fits
    counts[one].least += fits
    // In a pot of which no polyp is told, two diagnoses may well be two lesions.
    counts[one].most += holdsPolyps ? fits : count
  }
}

/** Diagnoses without a pot, over slots that none names: each of one slot; more than there are slots may repeat themselves. */
export function addLoose(counts: ClassCounts, diagnoses: readonly Classed[], slots: number, room: number): void {
  const more = slots > 0 && diagnoses.length > slots
  const open = Math.max(0, room - Math.max(slots, diagnoses.length))
  for (const one of bySeverity) {
    const count = countOf(diagnoses, one)
    if (count === 0) continue
    counts[one].least += more ? Math.min(count, slots) : count
    counts[one].most += count + (more ? 0 : open)
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
