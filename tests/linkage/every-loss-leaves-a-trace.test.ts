import { isDeepStrictEqual } from 'node:util'
import { expect, it } from 'vitest'
import { Codes } from '../../src/fhir/codes.ts'
import { type LinkedWindow, linkWindow } from '../../src/linkage/link.ts'
import { Survey } from '../../src/linkage/survey.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { drawFrom } from '../criteria/varied-records.ts'
import { definitions } from '../stories/ask.ts'
import { bareProcedure } from './bare-examination.ts'
import { type CompleteExamination, completeExaminations } from './complete-examinations.ts'
import { spoilsOf } from './spoils.ts'
import { newTraces, type Traces, tracesOf } from './traces.ts'

const wanted = 100_000

/** Faults that take a statement away and put nothing in its place. */
const takesAway: ReadonlySet<string> = new Set(['dropped', 'null', 'emptied'])

/**
 * The one loss that nobody can report: something that a record may go without was taken away, and nothing stands where it stood.
 * Each of these was itself the statement. None ties a resource to its patient or to its examination;
 * none is the examination's record as a whole.
 */
const optional = placesOf({
  Patient: 'birthDate gender deceasedBoolean deceasedDateTime',
  Encounter: 'class.code participant participant.individual',
  Procedure:
    'encounter location performer performer.function statusReason reasonCode reasonReference bodySite complication ' +
    'followUp usedCode usedReference focalDevice focalDevice.action',
  Observation: 'dataAbsentReason bodySite specimen performer hasMember component component.dataAbsentReason',
  Media: 'bodySite',
  DiagnosticReport: 'conclusionCode result',
  Specimen: 'collection collection.bodySite collection.quantity',
  Condition: 'onsetDateTime clinicalStatus severity bodySite',
  AdverseEvent: 'date severity outcome',
  ServiceRequest: 'authoredOn occurrenceDateTime occurrencePeriod reasonCode',
})

/** A value, or a part of one. */
const isOfValue = (place: string): boolean => /^Observation\.(component\.)?value[A-Z]/.test(place)

/** A name may be any text: with another one a thing is called otherwise, and is as well recorded as before. */
const names = placesOf({ Procedure: 'id', Observation: 'id', Practitioner: 'identifier.value' })

function placesOf(byType: Readonly<Record<string, string>>): ReadonlySet<string> {
  return new Set(Object.entries(byType).flatMap(([type, paths]) => paths.split(' ').map((path) => `${type}.${path}`)))
}

const window = { start: '2026-01-01', end: '2026-12-31' }
const codesOf = new WeakMap<object, Codes>()

function link({ source }: CompleteExamination, resources: readonly unknown[], survey?: Survey): LinkedWindow {
  const codes = codesOf.get(source.conceptMaps) ?? new Codes(definitions.resources, source.conceptMaps)
  codesOf.set(source.conceptMaps, codes)
  const asOf = Date.parse('2027-06-01T12:00:00Z')
  return linkWindow(resources, { source, codes, window, asOf, ...(survey && { survey }) })
}

/** Another patient's examination in the same window. */
const neighbour = [
  { resourceType: 'Patient', id: 'neighbour', birthDate: '1960-01-01', gender: 'male' },
  bareProcedure({ id: 'neighbour', subject: { reference: 'Patient/neighbour' } }),
]
const isNeighbour = ({ procedure }: Colonoscopy): boolean => procedure === 'Procedure/neighbour'

interface Linked {
  readonly record: Colonoscopy | undefined
  readonly neighbour: Colonoscopy | undefined
  readonly traces: Traces
}

/** Links twice, with a survey and without: the records must be the same. */
function linkBoth(examination: CompleteExamination, resources: readonly unknown[], where: string): Linked {
  const all = [...resources, ...neighbour]
  const survey = new Survey()
  const surveyed = link(examination, all, survey)
  const plain = link(examination, all)
  if (!isDeepStrictEqual(plain, surveyed)) expect(surveyed, where).toEqual(plain)
  const records = surveyed.colonoscopies.map(({ record }) => record)
  return {
    record: records.find((one) => !isNeighbour(one)),
    neighbour: records.find(isNeighbour),
    traces: tracesOf(surveyed, survey),
  }
}

/** Polyps come in the order of their ids. */
const inOneOrder = (record: Colonoscopy) => ({
  ...record,
  polyps: record.polyps?.map((polyp) => JSON.stringify(polyp)).sort(),
})

/** Facts that are not what they were; the record itself where it is gone. */
function losses(before: Colonoscopy, now: Colonoscopy | undefined, isRenamed: boolean): string[] {
  if (now === undefined) return ['the record']
  const [one, other] = [inOneOrder(before), inOneOrder(now)]
  const fields = Object.keys(one) as (keyof Colonoscopy)[]
  return fields.filter(
    (name) =>
      !(isRenamed && (name === 'procedure' || name === 'operator')) && !isDeepStrictEqual(one[name], other[name]),
  )
}

it(`of ${wanted.toLocaleString('en-GB')} examinations spoilt in one place none loses a fact without a trace in the wiring report`, () => {
  const draw = drawFrom(20261125)
  const examinations = completeExaminations()
  const spoilsIn = (some: readonly CompleteExamination[]): number =>
    some.reduce((sum, { resources }) => sum + resources.flatMap((one) => [...spoilsOf(one)]).length, 0)
  // Everything that can be spoilt in the examinations as they stand, and of their variants as many as are left.
  const asTheyStand = spoilsIn(examinations.filter(({ isVariant }) => !isVariant))
  let rest = spoilsIn(examinations.filter(({ isVariant }) => isVariant))
  let left = wanted - asTheyStand
  expect(left).toBeGreaterThan(0)
  expect(rest).toBeGreaterThan(left)
  const untraced = new Set<string>()
  const excused = new Set<string>()
  let lossy = 0
  for (const examination of examinations) {
    const whole = linkBoth(examination, examination.resources, examination.id)
    const before = whole.record
    if (before === undefined) throw new Error(`${examination.id} has no record`)
    for (const [index, resource] of examination.resources.entries())
      for (const spoilt of spoilsOf(resource)) {
        // Each of a variant is as likely as any other.
        if (examination.isVariant) {
          if (draw(rest--) >= left) continue
          left--
        }
        const place = `${String(resource.resourceType)}.${spoilt.path.join('.')}`
        const where = `${place}, ${spoilt.fault} (${examination.id})`
        const now = linkBoth(
          examination,
          (examination.resources as readonly unknown[]).with(index, spoilt.resource),
          where,
        )
        if (!isDeepStrictEqual(now.neighbour, whole.neighbour)) expect(now.neighbour, where).toEqual(whole.neighbour)
        const lost = losses(before, now.record, names.has(place) && spoilt.fault === 'a huge string')
        if (lost.length === 0) continue
        lossy++
        if (newTraces(now.traces, whole.traces).length > 0) continue
        const mayGo = isOfValue(place) || optional.has(place)
        if (takesAway.has(spoilt.fault) && mayGo && !lost.includes('the record')) excused.add(place)
        else untraced.add(`${where}: ${lost.join(', ')}`)
      }
  }
  expect([...untraced]).toEqual([])
  expect(
    [...optional].filter((place) => !excused.has(place)),
    'exceptions that nothing needs',
  ).toEqual([])
  expect(left).toBe(0)
  expect(lossy).toBeGreaterThan(wanted / 3)
}, 240_000)
