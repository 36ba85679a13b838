import type { why } from '../../record/why.ts'
import { referralReasons } from '../../record/words.ts'
import { answerIn, observedIn, wordIn } from './observed.ts'
import type { CodesOn, Way, WaysOf } from './way.ts'

const reasonCodes = (on: string): CodesOn => ({ on, conceptMaps: ['referral-reason'], ours: referralReasons })

const stated: readonly Way[] = [
  { elements: ['Procedure.reasonCode'], rungs: ['own element'], codes: [reasonCodes('Procedure.reasonCode')] },
  {
    elements: ['ServiceRequest.reasonCode'],
    rungs: ['direct reference'],
    codes: [reasonCodes('ServiceRequest.reasonCode')],
    note: 'Of an order in Procedure.basedOn.',
  },
  {
    elements: ['Condition.code', 'Observation.code', 'Procedure.code', 'DiagnosticReport.code'],
    rungs: ['direct reference'],
    codes: [reasonCodes('code of what is referred to; of an Observation its value first')],
    note: 'What Procedure.reasonReference or ServiceRequest.reasonReference leads to. Of an Observation with a result the result must be positive.',
  },
]
/** Reasons that say more than the kind of referral. */
const particular = (code: string): readonly Way[] => [
  ...(['Procedure.reasonCode', 'ServiceRequest.reasonCode'] as const).map(
    (element): Way => ({
      elements: [element],
      rungs: [element === 'Procedure.reasonCode' ? 'own element' : 'direct reference'],
      codes: [
        { on: element, ours: [code] },
        { ...reasonCodes(element), on: `${element}, of every other reason` },
      ],
      note: 'False where every stated reason is known here, and none leaves it open.',
    }),
  ),
  {
    elements: ['Condition.code', 'Observation.code', 'Procedure.code', 'DiagnosticReport.code'],
    rungs: ['direct reference'],
    codes: [{ on: 'code of what is referred to', ours: [code, ...referralReasons] }],
    note: 'What Procedure.reasonReference or ServiceRequest.reasonReference leads to.',
  },
  answerIn(code, 'Asked at the examination: yes or no.'),
]
const testDate: Way = {
  elements: [
    'Observation.effectiveDateTime',
    'Observation.effectiveInstant',
    'Observation.effectivePeriod',
    'Observation.issued',
  ],
  rungs: ['direct reference'],
  codes: [reasonCodes('code of the Observation; its value first')],
  note: 'The positive test of a screening programme that Procedure.reasonReference or ServiceRequest.reasonReference names: when its sample was taken, else when the result was issued. To the day.',
}
const byProcedureCode: Way = {
  elements: ['Procedure.code'],
  rungs: ['inferred from the procedure code'],
  codes: [{ on: 'Procedure.code', valueSets: ['screening-colonoscopy'] }],
  note: 'Only where no reason is stated that is known here.',
}
/** A reason in words. */
const inWords: Way = {
  elements: [
    'Procedure.reasonCode.text',
    'ServiceRequest.reasonCode.text',
    'Condition.code.text',
    'Procedure.code.text',
    'DiagnosticReport.code.text',
  ],
  rungs: ['read from free text'],
  note: 'Only where the source has its text read (readsText): English words that speak of a lesion known before.',
}
const reasons = [...stated, byProcedureCode]

export const whyAccepted: WaysOf<typeof why> = {
  reasonCount: reasons,
  reasons,
  'reasons.reason': reasons,
  referralReason: reasons,
  referredForKnownLesion: [...stated, inWords],
  knownLesion: [
    ...stated,
    {
      elements: ['Observation.component (known-lesion-seen-again)'],
      rungs: ['inferred from the findings'],
      codes: [{ on: 'Observation.component.code', ours: ['known-lesion-seen-again'] }],
      note: 'Component valueBoolean true of a polyp’s observation.',
    },
    inWords,
  ],
  chronicDiarrhoea: particular('chronic-diarrhoea'),
  daysFromPositiveTest: [
    testDate,
    observedIn(['valueDateTime'], { ours: ['positive-test-date'], note: 'To the day, and not after the examination.' }),
  ],
  afterIncompleteExamination: [
    ...particular('after-incomplete-examination'),
    {
      elements: ['Procedure.status'],
      rungs: ['direct reference'],
      codes: [{ on: 'Procedure.code', valueSets: ['colonoscopy'] }],
      note: 'A colonoscopy of an earlier day that was stopped, named in Procedure.reasonReference or ServiceRequest.reasonReference.',
    },
  ],
  intent: [
    wordIn('intent', ['complete', 'limited']),
    {
      elements: ['Procedure.code'],
      rungs: ['default: no limitation stated'],
      note: 'A colonoscopy of which nobody states a limitation was meant to be complete.',
    },
  ],
}
