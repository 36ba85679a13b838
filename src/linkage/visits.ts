import { asObject } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'
import type { Colonoscopy, Visit } from '../record/colonoscopy.ts'
import { type Examination, sawFeed } from './examinations.ts'
import {
  encountersOfColonoscopies,
  hasTakenPlace,
  isPartOfAnother,
  kindOfVisit,
  wasPlanned,
} from './hospital-visits.ts'
import type { Ladder } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import type { Rung } from './rungs.ts'
import type { Trail } from './trail.ts'
import { visitedAfter } from './visited-after.ts'

/** What is known of the hospital visits after one examination. */
export interface Visits {
  readonly found: readonly Visit[]
  /** There may have been another: its date, its kind, or to which examination it belongs is not known. */
  readonly undecided: boolean
}

const ofVisits = ['hospitalVisitCount', 'visits', 'unplannedVisit', 'unplannedVisitDay'] as const
const placedByTime: Rung = 'same patient within the time window'

/**
 * Gives each hospital visit to the patient's latest examination before it, if that was at most 30 days ago. No visits are the
 * encounters of colonoscopies, what these are part of, and what is part of any encounter that is a visit already or no visit.
 * Where the date, the class, the status or two examinations of one day leave open whether there was a visit, or after which
 * examination, those it may belong to are undecided.
 */
export function assignVisits(
  reading: Reading,
  ladder: Ladder,
  patientKey: PatientKey,
): ReadonlyMap<Examination, Visits> {
  const { resources, asOf, survey } = reading
  const visits = new Map<Examination, { found: Visit[]; undecided: boolean }>()
  const at = (examination: Examination) => {
    const known = visits.get(examination) ?? { found: [], undecided: false }
    visits.set(examination, known)
    return known
  }
  let ofColonoscopies: ReadonlySet<string> | undefined
  for (const encounter of resources.ofType('Encounter')) {
    const kind = kindOfVisit(encounter, reading)
    if (kind === undefined) continue
    const examinations = ladder.ofPatient(patientKey(encounter.subject))
    if (examinations.length === 0) continue
    ofColonoscopies ??= encountersOfColonoscopies(reading)
    if (ofColonoscopies.has(ownKey(encounter) ?? '') || isPartOfAnother(encounter, reading, ofColonoscopies)) continue
    const { after, may, day } = visitedAfter(asObject(encounter.period)?.start, examinations, asOf)
    if (kind === 'unknown' && may.some(({ owned }) => owned))
      survey?.missed('Encounter.class', { coding: [encounter.class] }, patientKey(encounter.subject))
    const isCertain = after !== undefined && kind !== 'unknown' && hasTakenPlace(encounter)
    for (const examination of may) {
      sawFeed(examination, 'visits')
      if (isCertain) continue
      at(examination).undecided = true
      examination.trail?.doubt('hospital visit of which it is not certain that it followed', encounter)
    }
    if (!isCertain) continue
    at(after).found.push({ day, planned: wasPlanned(encounter, kind, reading) })
    if (after.trail) for (const field of ofVisits) after.trail.note(field, encounter, placedByTime, 'Encounter.period')
  }
  return visits
}

type VisitFacts = Pick<Colonoscopy, 'hospitalVisitCount' | 'visits' | 'unplannedVisit' | 'unplannedVisitDay'>

/**
 * The record's facts of the hospital visits given to one examination. None is a fact only in a complete feed. The day of the
 * first unplanned visit is not recorded while a visit that may have been earlier and unplanned is without its date or its
 * kind.
 *
 * @param visits undefined where no encounter may be one
 * @param complete whether the source declares that it sends every visit
 */
export function visitFacts(visits: Visits | undefined, complete: boolean, trail?: Trail): VisitFacts {
  const { found = [], undecided = false } = visits ?? {}
  const count = undecided || (found.length === 0 && !complete) ? undefined : found.length
  const isUnplanned = found.some(({ planned }) => planned === false)
  const mayBeUnplanned = undecided || !complete || found.some(({ planned }) => planned === undefined)
  const facts: VisitFacts = {
    hospitalVisitCount: count,
    visits: count === undefined ? undefined : [...found].sort(byDay),
    unplannedVisit: isUnplanned ? true : mayBeUnplanned ? undefined : false,
    unplannedVisitDay: undecided ? undefined : firstUnplanned(found),
  }
  if (trail && count === 0)
    for (const field of ['hospitalVisitCount', 'visits', 'unplannedVisit'] as const)
      trail.note(field, undefined, 'nothing found in a complete feed', 'Encounter')
  return facts
}

function firstUnplanned(found: readonly Visit[]): number | undefined {
  const may = found.filter(({ planned }) => planned !== true)
  const days = may.flatMap(({ day }) => day ?? [])
  if (days.length < may.length || days.length === 0) return undefined
  const first = Math.min(...days)
  return may.some(({ day, planned }) => day === first && planned === false) ? first : undefined
}

const byDay = (one: Visit, other: Visit): number =>
  (one.day ?? Number.POSITIVE_INFINITY) - (other.day ?? Number.POSITIVE_INFINITY) ||
  Number(one.planned ?? false) - Number(other.planned ?? false)
