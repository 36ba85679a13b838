import type { WiringReport } from '../../src/wiring/report.ts'

/** A report written by hand, with a line of each kind. */
export const wiringReport: WiringReport = {
  periodStart: '2026-03-01',
  periodEnd: '2026-03-31',
  asOf: '2026-08-15T22:59:59.999Z',
  sources: [
    {
      source: 'harbour',
      examinations: 120,
      reasons: { stated: 100, several: 7, shareWithSeveral: 0.07 },
      fields: [
        {
          group: 'Course',
          field: 'withdrawalMinutes',
          recorded: 90,
          of: 120,
          share: 0.75,
          unreadable: 2,
          unreadableExamples: ['Observation/withdrawal-1'],
          ways: [{ element: 'Observation.valueQuantity', rung: 'direct reference', count: 90 }],
          toDo: 'Look at the examples that cannot be read.',
        },
      ],
      feeds: [
        {
          kind: 'deaths',
          declared: false,
          seenIn: 0,
          examinations: 120,
          proposal: 'keep undeclared',
          factsThatChange: [{ field: 'death', gained: 120, lost: 0, changed: 0 }],
          answersThatChange: [],
          toDo: 'Leave it undeclared.',
        },
      ],
      unmatched: [
        {
          where: 'Observation.code',
          system: 'https://harbour.example/codes',
          code: 'WDT',
          words: 'Withdrawal <time>',
          count: 30,
          closest: { code: 'withdrawal-time', display: 'Withdrawal time', within: 'CodeSystem/colonoscopy-facts' },
          toDo: 'Map it.',
        },
      ],
      textsWithheld: 3,
      deadEnds: [{ what: 'Procedure.report', count: 4, examples: ['Procedure/17'], toDo: 'Deliver it.' }],
      leftOut: [{ what: 'not done', count: 5, examples: ['Procedure/18'], toDo: 'Nothing to do.' }],
      unlinked: [],
      malformed: [{ what: 'Patient.birthDate (no date)', count: 2, examples: ['Patient/19'], toDo: 'Send a date.' }],
      contradictions: [],
      doubts: [],
      incomplete: [],
      notes: [],
    },
  ],
}
