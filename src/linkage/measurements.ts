import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { minutesOf, wholeNumberOf } from '../fhir/quantity.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Examination } from './examinations.ts'
import { fields } from './fields.ts'
import { isWord } from './polyps.ts'

type Measurements = Pick<
  Colonoscopy,
  'insertionMinutes' | 'withdrawalMinutes' | 'comfortScale' | 'comfortScore' | 'attachment' | 'attachmentKind'
>

/** Times, comfort and the distal attachment, each from the observation that states it. */
export function readMeasurements(examination: Examination, codes: Codes): Measurements {
  const facts: Measurements = {}
  for (const { resource, code } of examination.observations.measurement) {
    read(resource, code.fact, codes, facts)
    if (resource.component !== undefined)
      for (const component of asObjects(resource.component)) read(component, codes.fact(component.code), codes, facts)
  }
  if (facts.attachment !== 'none')
    for (const { usedCode } of examination.all)
      for (const device of asObjects(usedCode)) {
        const kind = codes.fact(device)
        if (isWord(kind, fields.attachmentKind.values)) facts.attachmentKind ??= kind
      }
  return facts
}

function read(holder: Json, fact: string | undefined, codes: Codes, facts: Measurements): void {
  if (fact === 'withdrawal-time' || fact === 'insertion-time') {
    const minutes = minutesOf(holder)
    if (minutes !== undefined) facts[fact === 'withdrawal-time' ? 'withdrawalMinutes' : 'insertionMinutes'] = minutes
  } else if (fact === 'comfort-one-to-five' || fact === 'comfort-zero-to-four') {
    const score = wholeNumberOf(holder)
    const [scale, least, most] =
      fact === 'comfort-one-to-five' ? (['one-to-five', 1, 5] as const) : (['zero-to-four', 0, 4] as const)
    if (score === undefined || score < least || score > most) return
    facts.comfortScale = scale
    facts.comfortScore = score
  } else if (fact === 'distal-attachment') {
    const word = codes.fact(holder.valueCodeableConcept)
    if (isWord(word, fields.attachment.values)) facts.attachment = word
  }
}
