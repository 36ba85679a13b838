import type { Colonoscopy } from '../record/colonoscopy.ts'
import { referralReasons } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import { readParticularReasons } from './particular-reasons.ts'
import type { Reading } from './reading.ts'
import { type ReferralReason, type StatedReasons, statedReasons } from './stated-reasons.ts'

type Reasons = Pick<
  Colonoscopy,
  | 'reasonCount'
  | 'reasons'
  | 'referralReason'
  | 'referredForKnownLesion'
  | 'knownLesion'
  | 'chronicDiarrhoea'
  | 'afterIncompleteExamination'
  | 'daysFromPositiveTest'
>

/**
 * All stated reasons, and the one referral reason among them by the precedence in which `referralReasons` are listed. Only
 * where none is stated that we know does a procedure code that itself says screening count. A reason that we do not know may go
 * before those that we do: they are told as they are coded, and the doubt is listed.
 *
 * A text never makes a reason. One that speaks of a lesion known before beside a reason of screening is listed as a contradiction,
 * always; it makes `referredForKnownLesion` and `knownLesion` true only where the source has its text read.
 *
 * @param knownLesionSeen whether a lesion of the examination is said to have been known before
 * @param isLastStopped whether the patient's last colonoscopy before was stopped: then silence does not say that this is no repeat
 */
export function readReasons(
  examination: Examination,
  reading: Reading,
  knownLesionSeen: boolean,
  isLastStopped = false,
): Reasons {
  const { trail } = examination
  const stated = statedReasons(examination, reading)
  const distinct = inPrecedence(stated)
  const screeningByCode = distinct.length === 0 ? screeningProcedure(examination, reading) : undefined
  if (screeningByCode !== undefined) {
    distinct.push('screening')
    for (const field of ['reasonCount', 'reasons', 'referralReason'] as const)
      trail?.note(field, screeningByCode, 'inferred from the procedure code', 'Procedure.code')
  }
  const [referralReason] = distinct
  // It stands as it is coded; whether the unknown one goes before it, nobody can tell.
  if (stated.isOpen && distinct.length > 0)
    trail?.doubt('reason that is not known here, beside one that is', examination.lead)
  if (trail)
    for (const { reason, resource, rung, element } of stated.reasons) {
      trail.note('reasonCount', resource, rung, element)
      trail.note('reasons', resource, rung, element)
      if (reason === referralReason) trail.note('referralReason', resource, rung, element)
    }
  const isTold = knownLesionSeen || stated.mentions.length > 0 || distinct.includes('known-lesion')
  if (isTold && distinct.includes('screening')) {
    const others = stated.mentions.map(({ resource }) => resource).filter((one) => one !== examination.lead)
    trail?.contradict('screening with a lesion known before', examination.lead, ...others)
  }
  const particulars = readParticularReasons(examination, stated, isLastStopped, reading)
  return {
    reasonCount: distinct.length === 0 ? undefined : distinct.length,
    reasons: distinct.length === 0 ? undefined : distinct.map((reason) => ({ reason })),
    referralReason,
    referredForKnownLesion: referredForKnownLesion('referredForKnownLesion', stated, examination, reading),
    knownLesion: knownLesionSeen
      ? seenAgain(examination)
      : referredForKnownLesion('knownLesion', stated, examination, reading),
    chronicDiarrhoea: particulars.chronicDiarrhoea,
    afterIncompleteExamination: particulars.afterIncompleteExamination,
    daysFromPositiveTest: particulars.daysFromPositiveTest,
  }
}

/** The different reasons, the one that goes before the others first. */
function inPrecedence({ reasons }: StatedReasons): ReferralReason[] {
  if (reasons.length < 2) return reasons.map(({ reason }) => reason)
  return referralReasons.filter((reason) => reasons.some((one) => one.reason === reason))
}

/** The Procedure whose own code says screening. */
const screeningProcedure = ({ all }: Examination, { codes }: Reading) =>
  all.find(({ code }) => codes.in(code, 'screening-colonoscopy'))

/**
 * Whether a lesion known before is a reason. False only where every stated reason is known to us, and none of them is that.
 *
 * @param field the fact that this is told for
 */
function referredForKnownLesion(
  field: 'referredForKnownLesion' | 'knownLesion',
  { reasons, mentions, isOpen }: StatedReasons,
  { trail }: Examination,
  { source }: Reading,
): boolean | undefined {
  const coded = reasons.find(({ reason }) => reason === 'known-lesion')
  if (coded) {
    trail?.note(field, coded.resource, coded.rung, coded.element)
    return true
  }
  const [mention] = mentions
  if (mention !== undefined && source.readsText === true) {
    trail?.note(field, mention.resource, 'read from free text', `${mention.element}.text`)
    return true
  }
  const [first] = reasons
  if (first === undefined || isOpen) return undefined
  trail?.note(field, first.resource, first.rung, first.element)
  return false
}

/** A lesion that is seen again was known before, whatever the reason. */
function seenAgain({ trail }: Examination): true {
  const element = 'Observation.component (known-lesion-seen-again)'
  trail?.note('knownLesion', undefined, 'inferred from the findings', element)
  return true
}
