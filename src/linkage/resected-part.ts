import type { Codes } from '../fhir/codes.ts'
import { asObjects } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { history } from '../record/history.ts'
import { isWord } from '../record/words.ts'
import type { Belief, Evidence } from './beliefs.ts'
import type { Examination } from './examinations.ts'
import type { Reading } from './reading.ts'

type Part = NonNullable<Colonoscopy['resectedPart']>
const parts = history.resectedPart.values

/**
 * Which part the resections before an examination took, by their codes or else their sites: several where more than one is named;
 * the total colon takes all others with it.
 */
export function resectedPart(
  known: Belief,
  { trail, patient }: Examination,
  { codes, survey }: Reading,
): Part | undefined {
  const named = new Set<Part>()
  for (const evidence of known.yes) {
    const { resource, holder, rung } = evidence
    const told = partsOf(evidence, codes)
    if (survey && told.length === 0)
      for (const site of asObjects(resource.bodySite))
        survey.missed(`${String(resource.resourceType)}.bodySite (earlier-resection)`, site, patient)
    for (const [part, element] of told) {
      named.add(part)
      trail?.note(
        'resectedPart',
        resource,
        rung,
        holder === resource || element === 'bodySite'
          ? `${String(resource.resourceType)}.${element}`
          : `Observation.component.${element}`,
      )
    }
  }
  if (named.has('total')) return 'total'
  const [only, ...more] = named
  return more.length > 0 ? 'several' : only
}

function partsOf({ resource, holder }: Evidence, codes: Codes): [Part, string][] {
  for (const element of ['code', 'valueCodeableConcept']) {
    const part = codes.word(holder[element], 'resected-part')
    if (isWord(part, parts)) return [[part, element]]
  }
  return asObjects(resource.bodySite).flatMap((site): [Part, string][] => {
    const part = codes.word(site, 'resected-part')
    return isWord(part, parts) ? [[part, 'bodySite']] : []
  })
}
