import type { Json } from '../fhir/json.ts'
import { type Diagnosis, diagnosesOf } from './diagnoses.ts'
import type { PathologyReading } from './histology.ts'
import type { PolypFindings } from './polyps.ts'
import { isLesion } from './remark.ts'

/** Pots that are read together, with every diagnosis of them. */
export interface PotGroup {
  readonly pots: readonly string[]
  /** Empty where nobody can read what is said of them. */
  readonly diagnoses: readonly Diagnosis[]
  /** Results that may be further diagnoses, and that nobody can read. */
  readonly unread: readonly Json[]
  /** Results in words, which describe the diagnosis where there is but one polyp. */
  readonly notes: readonly Json[]
  /** Tissue without a lesion is told beside one, and may be another piece. */
  readonly isMixed: boolean
  /** Some diagnosis is said of more than one lesion, and not of how many. */
  readonly isUncounted: boolean
}

/** Readings of pots that hold new findings; a pot with nothing but a lesion known before tells of nothing new. */
export function withoutKnown(
  readings: readonly PathologyReading[],
  knownPots: readonly string[],
): readonly PathologyReading[] {
  if (knownPots.length === 0) return readings
  return readings.flatMap((one): PathologyReading[] => {
    const left = one.pots.filter((pot) => !knownPots.includes(pot))
    return one.pots.length > 0 && left.length === 0 ? [] : [{ ...one, pots: left }]
  })
}

/** Readings joined where they speak of the same pot: several results of one pot are diagnoses of that pot. */
export function potGroups(readings: readonly PathologyReading[]): PotGroup[] {
  const groups: { pots: string[]; readings: PathologyReading[] }[] = []
  for (const reading of readings) {
    const { pots } = reading
    if (pots.length === 0) continue
    const [group, ...others] = groups.filter((one) => one.pots.some((pot) => pots.includes(pot)))
    if (group === undefined) {
      groups.push({ pots: [...pots], readings: [reading] })
      continue
    }
    group.pots = [...new Set([...group.pots, ...pots, ...others.flatMap((one) => one.pots)])]
    group.readings.push(reading, ...others.flatMap((one) => one.readings))
    for (const other of others) groups.splice(groups.indexOf(other), 1)
  }
  return groups.map(({ pots, readings: ofPots }) => ({
    pots,
    diagnoses: diagnosesOf(ofPots.flatMap(({ remarks }) => remarks)),
    unread: ofPots.flatMap(({ unread }) => unread),
    notes: ofPots.flatMap(({ notes }) => notes),
    isMixed: ofPots.some(({ isMixed }) => isMixed),
    isUncounted: ofPots.some(({ isUncounted }) => isUncounted),
  }))
}

/** Diagnoses of results that name no pot. */
export const looseDiagnoses = (readings: readonly PathologyReading[]): Diagnosis[] =>
  readings.flatMap(({ pots, remarks }) => (pots.length === 0 ? diagnosesOf(remarks) : []))

/**
 * Readings of new findings, and the pots of lesions known before. Where nothing new was seen, and no more lesions came back than
 * known ones may have gone without a pot, what came back is theirs.
 *
 * @param inPathology polyps that pathology alone tells of, beyond the known ones
 */
export function newReadings(
  readings: readonly PathologyReading[],
  { knownPots, knownWithoutPot, polyps, unnamedRemovals, impliedRemovals }: PolypFindings,
  inPathology: number,
): { readonly counted: readonly PathologyReading[]; readonly knownPots: readonly string[] } {
  const counted = withoutKnown(readings, knownPots)
  if (knownWithoutPot === 0 || inPathology + polyps.length + unnamedRemovals + impliedRemovals > 0)
    return { counted, knownPots }
  const holdsLesion = ({ diagnoses }: PotGroup) => diagnoses.some(isLesion)
  const groups = potGroups(counted).filter(holdsLesion)
  const lesions = [...groups.flatMap(({ diagnoses }) => diagnoses), ...looseDiagnoses(counted)].filter(isLesion)
  if (lesions.length > knownWithoutPot) return { counted, knownPots }
  const theirs = groups.flatMap(({ pots }) => pots)
  return {
    counted: counted.filter(({ pots, remarks }) =>
      pots.length === 0 ? !remarks.some(isLesion) : !pots.some((pot) => theirs.includes(pot)),
    ),
    knownPots: [...knownPots, ...theirs],
  }
}
