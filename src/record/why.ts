import type { Field } from './field.ts'
import { referralReasons } from './words.ts'

export const reasonFields = {
  reason: {
    type: 'code',
    values: referralReasons,
    short: 'One stated reason.',
    filledBy: 'A reason code of the examination or of its order, or the code of what they refer to as a reason.',
  },
} as const satisfies Record<string, Field>

export const why = {
  reasonCount: {
    type: 'integer',
    short: 'Number of different reasons stated.',
    filledBy:
      'Procedure.reasonCode, reasonReference and the order’s reasons. Absent where none is stated that we know.',
  },
  reasons: {
    type: 'list',
    of: reasonFields,
    short: 'Every different reason stated, one element each.',
    filledBy: 'As reasonCount.',
  },
  referralReason: {
    type: 'code',
    values: referralReasons,
    short:
      'The one referral reason, by this precedence of all stated: known lesion, site check, positive screening test, surveillance, symptoms with a positive stool test, symptoms, screening.',
    filledBy:
      'Procedure.reasonCode, reasonReference, the ServiceRequest’s reasons; else a procedure code that itself says screening. Absent where nothing says why.',
  },
  referredForKnownLesion: {
    type: 'boolean',
    short: 'A lesion known before is why the patient was referred, even where the coded reason is another.',
    filledBy:
      'True with a coded reason of a known lesion or, where the source has its free text read, a reason’s text that says so. False only where every stated reason is known here and none is that. A lesion merely seen again is no referral. Absent otherwise.',
  },
  knownLesion: {
    type: 'boolean',
    short: 'A lesion was known before the examination, whatever the coded reason is.',
    filledBy:
      'True with a reason of a known lesion, a lesion said to be seen again, or, where the source has its free text read, a reason’s text that says so. False where every stated reason is coded and known to us, and none of these is met; absent where no reason is stated, or one whose meaning is not known.',
  },
  chronicDiarrhoea: {
    type: 'boolean',
    short: 'Chronic or unexplained diarrhoea is a stated reason.',
    filledBy:
      'True with a coded reason that says so, or a yes/no observation. False where an observation says so, or where every stated reason is known here, none is that, and none says symptoms without saying which. Absent otherwise, and where a yes stands against a no.',
  },
  daysFromPositiveTest: {
    type: 'integer',
    unit: 'd',
    short: 'Days from the positive screening test to the examination.',
    filledBy:
      'Date of the positive test that a reason refers to, or a stated positive-test date. Absent where none is named, its date is too coarse or later than the examination, or two differ.',
  },
  afterIncompleteExamination: {
    type: 'boolean',
    short: 'Done because an earlier colonoscopy was incomplete.',
    filledBy:
      'True with a coded reason that says so, a reason that refers to a stopped colonoscopy before it, or a yes/no observation. False where an observation says so, or where every stated reason is known here and none is that. Absent otherwise, and where a yes stands against a no.',
  },
  intent: {
    type: 'code',
    values: ['complete', 'limited'],
    short: 'Whether the whole colon was meant to be examined.',
    filledBy: 'Stated limitation; a colonoscopy without one was meant to be complete (an inference the trail names).',
  },
} as const satisfies Record<string, Field>
