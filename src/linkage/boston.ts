import { absentReasons, reasonsForAbsence } from '../fhir/absent-reasons.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { wholeNumberOf } from '../fhir/quantity.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import { elementOf, type Reading, type Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { componentOf, listUnread } from './told-value.ts'

/** The Boston segments from the anus inwards, as they come into view, and the field of each. */
export const segments = [
  { word: 'left-segment', field: 'preparationLeft', present: 'leftSegmentPresent' },
  { word: 'transverse-segment', field: 'preparationTransverse', present: 'transverseSegmentPresent' },
  { word: 'right-segment', field: 'preparationRight', present: 'rightSegmentPresent' },
] as const

/** What is stated of one segment. */
export interface SegmentStated {
  /** Score from 0 to 3; absent where none is stated, or those stated differ. */
  readonly score: number | undefined
  readonly statements: readonly Statement<number>[]
  /** Said not to be scored, as it does not exist. */
  readonly notApplicable: Told | undefined
  /** A score stands there that cannot be read: the segment was seen. */
  readonly unread: boolean
}

/** Boston scores as stated: per segment in the order of `segments`, and a total from 0 to 9. */
export interface BostonStated {
  readonly segments: readonly SegmentStated[]
  readonly total: number | undefined
  readonly totalStatements: readonly Statement<number>[]
}

interface SegmentHeard {
  scores: Statement<number>[] | undefined
  notApplicable: Told | undefined
  unread: boolean
}

const codedScores: Readonly<Record<string, number>> = { 'boston-0': 0, 'boston-1': 1, 'boston-2': 2, 'boston-3': 3 }

/**
 * Reads segment scores (an observation or component each) and totals, in numbers or as codes.
 *
 * @param parts observations of preparation, and their components
 */
export function readBoston(parts: readonly Told[], examination: Examination, reading: Reading): BostonStated {
  const heard = segments.map((): SegmentHeard => ({ scores: undefined, notApplicable: undefined, unread: false }))
  let totals: Statement<number>[] | undefined
  const hearSegment = (told: Told, site: unknown) => {
    const word = reading.codes.word(site, 'boston-segment-site')
    const index = segments.findIndex((segment) => segment.word === word)
    const segment = heard[index]
    const field = segments[index]?.field ?? 'segmentsAllAtLeast2'
    const score = scoreOf(told, 3, reading)
    if (typeof score === 'number') {
      if (segment !== undefined) {
        segment.scores = stated(segment.scores, score, told)
        return
      }
      examination.trail?.cannotRead(
        field,
        told.resource,
        elementOf(told, told.holder === told.resource ? 'bodySite' : 'code'),
      )
      reading.survey?.missed('Observation.bodySite (boston-segment)', site, examination.patient)
    } else if (score === 'unreadable') {
      if (segment !== undefined) segment.unread = true
      listUnreadScore(field, told, examination, reading)
    } else if (segment === undefined)
      reading.survey?.missed('Observation.bodySite (boston-segment)', site, examination.patient)
    else if (isNotApplicable(told.holder)) segment.notApplicable = told
    else if (told.holder.dataAbsentReason !== undefined && !saysWhyAbsent(told.holder))
      reading.survey?.missed('Observation.dataAbsentReason', told.holder.dataAbsentReason, examination.patient)
  }
  const hearTotal = (told: Told) => {
    const total = scoreOf(told, 9, reading)
    if (total === 'unreadable') listUnreadScore('preparationTotal', told, examination, reading)
    else totals = stated(totals, total, told)
  }
  for (const part of parts) {
    const { sets, words, fact } = part.code
    const isWhole = part.holder === part.resource
    const isSite = segments.some(({ word }) => word === (words.get('boston-segment-site') ?? fact))
    if (!isWhole && isSite) hearSegment(part, part.holder.code)
    else if (sets.has('boston-segment')) hearSegment(part, part.resource.bodySite)
    else if (sets.has('boston-total')) hearTotal(part)
    else if (!isWhole && !sets.has('preparation-observation'))
      reading.survey?.missed('Observation.component.code', part.holder.code, examination.patient)
  }
  return {
    segments: heard.map(({ scores, notApplicable, unread }, index) => ({
      score: settle(segments[index]?.field ?? 'preparationLeft', scores, examination),
      statements: scores ?? [],
      notApplicable,
      unread,
    })),
    total: settle('preparationTotal', totals, examination),
    totalStatements: totals ?? [],
  }
}

/** The observations of preparation that are known by now, each followed by its components: a score or a word may stand in either. */
export function preparationParts({ observations, zone }: Examination, { codes, asOf }: Reading): readonly Told[] {
  const parts: Told[] = []
  for (const told of observations.preparation) {
    if (!isKnownYet(told.resource, asOf, zone)) continue
    parts.push(told)
    const { component } = told.resource
    if (told.holder !== told.resource || component === undefined) continue
    for (const one of asObjects(component)) parts.push(componentOf(told, one, codes.of(one.code)))
  }
  return parts
}

/** Points on a scale from 0, as a number or, of a segment, as a code; a panel that only carries components has none of its own. */
function scoreOf({ holder }: Told, most: 3 | 9, { codes }: Reading): number | 'unreadable' | undefined {
  const coded = most === 3 ? codedScores[codes.fact(holder.valueCodeableConcept) ?? ''] : undefined
  const score = coded ?? wholeNumberOf(holder)
  if (coded !== undefined && holder.dataAbsentReason !== undefined) return 'unreadable'
  return typeof score !== 'number' || (score >= 0 && score <= most) ? score : 'unreadable'
}

function listUnreadScore(
  field: 'segmentsAllAtLeast2' | 'preparationTotal' | (typeof segments)[number]['field'],
  told: Told,
  examination: Examination,
  reading: Reading,
): void {
  listUnread(field, told, examination, reading)
  if (typeof wholeNumberOf(told.holder) === 'number') examination.trail?.doubt('score outside its scale', told.resource)
}

const isNotApplicable = (holder: Json): boolean => absentReasons(holder).includes('not-applicable')
const saysWhyAbsent = (holder: Json): boolean => absentReasons(holder).some((code) => reasonsForAbsence.has(code))
