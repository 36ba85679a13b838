import { describe, expect, it } from 'vitest'
import { readAccessory } from '../../src/linkage/accessory.ts'
import { readComfort } from '../../src/linkage/comfort.ts'
import { readCourse } from '../../src/linkage/course.ts'
import { devicesUsed } from '../../src/linkage/devices.ts'
import { readEquipment } from '../../src/linkage/equipment.ts'
import { readPreparation } from '../../src/linkage/preparation.ts'
import { readTimes } from '../../src/linkage/times.ts'
import { fact, snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { bareProcedure, observationOf } from './bare-examination.ts'
import { oneExamination } from './one-examination.ts'

// Three-valued logic (Kleene): taking away what is known never turns a fact into another one, only into not recorded. Left out
// are the facts whose description says what they are when nothing is found, and those that name which kind of evidence there is.
type Resource = Record<string, unknown>
const restOnAbsence = new Set([
  'completionPhotographed',
  'neverInserted',
  'intent',
  'landmarkPhotographCount',
  'extentEvidence',
  'preparationScale',
])
const said = (code: string, word: string, more: Resource = {}) =>
  observationOf(fact(code), { valueCodeableConcept: fact(word), ...more })
const boston = (site: string, value: number) =>
  observationOf(snomed('722819004'), { bodySite: snomed(site), valueInteger: value })
const component = (code: string, value: Resource) => ({ code: fact(code), ...value })

const common = [
  observationOf(fact('insertion-time'), { valueQuantity: { value: 12, code: 'min' } }),
  observationOf(fact('withdrawal-time'), { valueString: '8 min' }),
  observationOf(fact('comfort-one-to-five'), {
    valueInteger: 4,
    performer: [{ reference: 'Patient/a' }],
    component: [component('comfort-scorer', { valueCodeableConcept: fact('patient') })],
  }),
  said('distal-attachment', 'before-insertion'),
  said('attachment-outcome', 'removed', {
    component: [
      component('attachment-removed-before-caecum', { valueBoolean: true }),
      component('attachment-removal-reason', { valueCodeableConcept: fact('looping') }),
      component('attachment-reinserted', { valueBoolean: false }),
    ],
  }),
  observationOf(fact('mucosal-injury'), {
    valueBoolean: true,
    bodySite: fact('sigmoid'),
    component: [component('mucosal-injury-treated', { valueBoolean: false })],
  }),
  said('insufflation', 'water'),
  observationOf(fact('dye'), { valueBoolean: false }),
  observationOf(fact('computer-aided-detection'), { valueBoolean: true }),
  said('rectal-retroflexion', 'attempted'),
  said('preparation', 'fair'),
]
const used = { usedCode: [fact('adult-colonoscope'), fact('cuff')] }
const completed = [
  bareProcedure(used),
  said('extent-reached', 'ileum'),
  said('landmark-photograph', 'ileum'),
  said('ileal-intubation', 'done'),
  boston('51342009', 2),
  boston('485005', 2),
  boston('55572008', 3),
  ...common,
]
const stopped = [
  bareProcedure({ ...used, status: 'stopped', statusReason: fact('inadequate-preparation') }),
  said('extent-reached', 'sigmoid'),
  said('ileal-intubation', 'not-attempted'),
  boston('55572008', 0),
  ...common,
]

function factsOf(resources: readonly unknown[], source: typeof northmoor): Record<string, unknown> {
  const { examination, reading, personKey } = oneExamination(resources, source)
  const course = readCourse(examination, reading)
  const devices = devicesUsed(examination, reading)
  return {
    ...course,
    ...readTimes(examination, reading),
    ...readPreparation(examination, {}, course, reading),
    ...readComfort(examination, reading, undefined, personKey),
    ...readEquipment(examination, devices, reading),
    ...readAccessory(examination, devices, reading),
  }
}

/** A value without one of its properties or entries at any depth, every way there is; null, as some servers send, among them. */
function poorer(value: unknown): unknown[] {
  if (typeof value !== 'object' || value === null) return [undefined]
  if (Array.isArray(value))
    return value.flatMap((inner, index) =>
      poorer(inner).map((less) =>
        less === undefined ? value.filter((_, other) => other !== index) : value.with(index, less),
      ),
    )
  const entries = Object.entries(value)
  return [undefined, ...entries.flatMap(([name, inner]) => poorer(inner).map((less) => ({ ...value, [name]: less })))]
}

describe('taking anything away from what is told of an examination', () => {
  it.each([
    ['completed', completed, northmoor],
    ['stopped for stool', stopped, northmoor],
    ['completed, in a source that declares nothing', completed, { ...northmoor, completeFeeds: [] }],
  ])('%s: leaves every fact as it was, or not recorded', (_, resources, source) => {
    const whole = factsOf(resources, source)
    let changed = 0
    const turned: unknown[] = []
    resources.forEach((resource, index) => {
      for (const less of poorer(resource)) {
        // Without status, code or date there is no such examination or observation; without partOf it is somebody else's.
        const left = less === undefined ? resources.toSpliced(index, 1) : resources.with(index, less as Resource)
        if (!isExamination(left)) continue
        const facts = factsOf(left, source)
        for (const [field, value] of Object.entries(facts)) {
          if (restOnAbsence.has(field) || value === whole[field]) continue
          changed++
          if (value !== undefined) turned.push({ field, value, left: less ?? resource })
        }
      }
    })
    expect(turned).toEqual([])
    // Nearly every fact was taken away at least once.
    expect(changed).toBeGreaterThan(60)
  })
})

function isExamination(resources: readonly unknown[]): boolean {
  try {
    return oneExamination(resources).examination !== undefined
  } catch {
    return false // What is left is no colonoscopy.
  }
}
