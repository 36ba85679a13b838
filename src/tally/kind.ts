import { type Answer, type AnswerCode, answerCodes } from './answer.ts'
import type { ApartReason } from './result.ts'

/**
 * Everything about an answer but its values, as one small number: answers of one kind are counted together, and looked at once.
 * The lowest three bits are the place of the code among `answerCodes`.
 */
export type Kind = number

const inPopulation = 1 << 3
const exclusionUnrecorded = 1 << 4
const alreadyMet = 1 << 5
const settled = 1 << 6
const available = 1 << 7
const attributed = 1 << 8

/** Number of kinds there can be. */
export const kindCount = 1 << 9

const places: Readonly<Record<AnswerCode, number>> = Object.fromEntries(
  answerCodes.map((code, place) => [code, place]),
) as Record<AnswerCode, number>

/** Where an answer stands in a report. */
export interface Standing {
  /** It lies on or before the report's last settled day. */
  readonly settled: boolean
  /** Its source feeds what the measure needs. */
  readonly available: boolean
  /** It counts for a person. */
  readonly attributed: boolean
}

export const kindOf = (answer: Answer, standing: Standing): Kind =>
  places[answer.code] |
  (answer.inPopulation ? inPopulation : 0) |
  (answer.exclusionUnrecorded ? exclusionUnrecorded : 0) |
  (answer.alreadyMet ? alreadyMet : 0) |
  (standing.settled ? settled : 0) |
  (standing.available ? available : 0) |
  (standing.attributed ? attributed : 0)

/** What a kind says, spelt out. */
export interface KindMeaning extends Standing {
  readonly code: AnswerCode
  readonly inPopulation: boolean
  /** Everything that is counted beside the populations. */
  readonly apart: readonly ApartReason[]
}

const meanings: (KindMeaning | undefined)[] = []

export function meaningOf(kind: Kind): KindMeaning {
  const known = meanings[kind]
  if (known) return known
  const has = (flag: number) => (kind & flag) !== 0
  const code = answerCodes[kind & 7] as AnswerCode
  const standing = { settled: has(settled), available: has(available), attributed: has(attributed) }
  const meaning = {
    code,
    inPopulation: has(inPopulation),
    ...standing,
    apart: apartOf(code, standing, has(exclusionUnrecorded), has(alreadyMet)),
  }
  meanings[kind] = meaning
  return meaning
}

function apartOf(code: AnswerCode, standing: Standing, exclusionOpen: boolean, already: boolean): ApartReason[] {
  if (code === 'out') return ['out']
  const reasons: ApartReason[] = standing.attributed ? [] : ['unattributed']
  if (!standing.available) return [...reasons, 'not-available']
  if (code === 'eligibility-not-recorded') return [...reasons, code]
  if (exclusionOpen) reasons.push('exclusion-not-recorded')
  if (code === 'pending') return already ? [...reasons, code, 'pending-already-met'] : [...reasons, code]
  if (!standing.settled) return [...reasons, `later-${code}`]
  return code === 'not-recorded' ? [...reasons, code] : reasons
}
