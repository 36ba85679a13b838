import { expect, it } from 'vitest'
import { linkWindow } from '../../src/linkage/link.ts'
import { createFhirServer } from '../../src/local/fhir-server/server.ts'
import { pullWindow } from '../../src/source/pull-window.ts'
import { pullNeeds, sourceCodes } from '../../src/source/source-codes.ts'
import { definitions } from '../stories/ask.ts'
import { examination, fact, type Resource } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// An event of 5 June that names the examination of 25 March is 72 days after it on the civil calendar; another examination was on
// 1 June. That any split of a period gives the same facts is this service's own law.
const source = { ...northmoor, baseUrl: 'http://localhost/fhir' }
const codes = sourceCodes(definitions.resources, source)
const march = examination({ id: 'march', date: '2026-03-25', patient: 'p', birthDate: '1966-01-01' })
const june = examination({ id: 'june', date: '2026-06-01', patient: 'p', birthDate: '1966-01-01' })
const event: Resource = {
  resourceType: 'AdverseEvent',
  id: 'event',
  actuality: 'actual',
  event: fact('perforation'),
  subject: { reference: 'Patient/p' },
  date: '2026-06-05',
}
const names = (key: string) => ({ ...event, suspectEntity: [{ instance: { reference: key } }] })
const part: Resource = {
  resourceType: 'Procedure',
  id: 'part',
  status: 'completed',
  code: fact('polypectomy'),
  subject: { reference: 'Patient/p' },
  performedDateTime: '2026-03-25',
  partOf: [{ reference: 'Procedure/march' }],
}

async function told(resources: readonly Resource[], window: { start: string; end: string }) {
  const serve = createFhirServer(resources as unknown as Parameters<typeof createFhirServer>[0])
  const pulled = await pullWindow(
    source,
    window,
    pullNeeds(codes),
    async (url, init) => serve(new Request(url, init)),
    { sleep: async () => {} },
  )
  const { colonoscopies, leftOut } = linkWindow(pulled.resources, {
    source,
    codes,
    window,
    asOf: Date.parse('2027-01-01'),
  })
  return {
    days: colonoscopies.map(({ record }) => [record.procedure, record.perforationDay ?? record.perforation]).sort(),
    leftOut,
  }
}

const onlyJune = { start: '2026-06-01', end: '2026-06-30' }
const both = { start: '2026-03-01', end: '2026-06-30' }
const store = [...march, ...june.slice(1), part, { resourceType: 'Practitioner', id: 'operator-1' }]

it.each(['Procedure/march', 'Procedure/part'])(
  'an event that names %s is of March, whether June is read alone or not',
  async (key) => {
    const resources = [...store, names(key)]
    expect((await told(resources, onlyJune)).days).toEqual([['Procedure/june', false]])
    expect((await told(resources, both)).days).toEqual([
      ['Procedure/june', false],
      ['Procedure/march', 72],
    ])
  },
)

it('an event that names what the server does not have leaves June open, whether it is read alone or not', async () => {
  const resources = [...store, names('Procedure/gone')]
  const left = [{ reference: 'AdverseEvent/event', reason: 'event of a procedure that did not come' }]
  expect(await told(resources, onlyJune)).toEqual({ days: [['Procedure/june', undefined]], leftOut: left })
  expect(await told(resources, both)).toEqual({
    days: [
      ['Procedure/june', undefined],
      ['Procedure/march', false],
    ],
    leftOut: left,
  })
})
