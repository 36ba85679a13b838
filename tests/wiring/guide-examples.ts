import type { FhirResource } from 'fhir/r4'
import type { Source } from '../../src/config.ts'
import { Codes } from '../../src/fhir/codes.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { Survey, type Surveyed } from '../../src/linkage/survey.ts'
import { baseSource, resourcesOf } from '../../src/wiring/guide/examples/base.ts'
import type { Example } from '../../src/wiring/guide/examples/example.ts'
import { definitions } from '../stories/ask.ts'

const window = { start: '2026-01-01', end: '2026-12-31' }

/** The source of an example: that of the base with the example's settings. */
export const sourceOf = ({ settings = {} }: Example): Source => ({
  units: [],
  completeFeeds: [],
  pathologyLagDays: 60,
  eventLagDays: 0,
  eventsKnownBy: 'not-stated',
  conceptMaps: [],
  ...baseSource,
  ...settings,
})

/** The only examination of an example, with the trail of its facts. */
export function linkExample(example: Example, resources: readonly FhirResource[] = resourcesOf(example)): Surveyed {
  const source = sourceOf(example)
  const survey = new Survey()
  linkWindow(resources, {
    source,
    codes: new Codes(definitions.resources, source.conceptMaps),
    window,
    asOf: Date.parse('2027-06-01T12:00:00Z'),
    survey,
  })
  const [only, ...more] = survey.examinations
  if (only === undefined || more.length > 0)
    throw new Error(`${example.id}: ${survey.examinations.length} examinations`)
  return only
}
