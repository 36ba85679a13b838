import { holdsValue } from '../fhir/holds-value.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { bowelSites, isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import { type Reading, type Told, valueElementOf } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { yesOrNo } from './told-value.ts'

type Injury = Pick<Colonoscopy, 'mucosalInjury' | 'mucosalInjurySite' | 'mucosalInjuryTreated'>
type Site = (typeof bowelSites)[number]

/**
 * Injuries of the mucosa. A site alone tells of one, and so does a treatment; several injuries at different sites have no one
 * site. One that was treated makes the examination's injuries treated.
 *
 * @param injuries observations and components that tell of an injury
 * @param treatments observations and components that tell whether one was treated
 */
export function readMucosalInjury(
  injuries: readonly Told[],
  treatments: readonly Told[],
  examination: Examination,
  reading: Reading,
): Injury {
  if (injuries.length === 0 && treatments.length === 0)
    return { mucosalInjury: undefined, mucosalInjurySite: undefined, mucosalInjuryTreated: undefined }
  const { trail } = examination
  let injured: Statement<boolean>[] | undefined
  let treated: Statement<boolean>[] | undefined
  const sites: Statement<Site>[] = []
  let open = false
  for (const told of injuries) {
    const { holder } = told
    const site = siteOf(told, examination, reading)
    const answer = yesOrNo('mucosalInjury', told, examination, reading)
    const isSited = site !== undefined && holder.dataAbsentReason === undefined
    const isInjury = answer ?? (isSited && !holdsValue(holder) ? true : undefined)
    injured = stated(injured, isInjury, told, answer === undefined ? 'Observation.bodySite' : undefined)
    if (isInjury === true) {
      if (site !== undefined) sites.push({ value: site, told, element: 'Observation.bodySite' })
      else open = true
    }
  }
  for (const told of treatments) {
    const answer = yesOrNo('mucosalInjuryTreated', told, examination, reading)
    treated = stated(treated, answer, told)
    // What was treated was there.
    if (answer === true) injured = stated(injured, true, told)
  }
  const mucosalInjury = settle('mucosalInjury', injured, examination)
  if (mucosalInjury === undefined)
    for (const { told } of treated ?? []) trail?.cannotRead('mucosalInjuryTreated', told.resource, valueElementOf(told))
  const [first] = sites
  const isOne = mucosalInjury === true && !open && sites.every(({ value }) => value === first?.value)
  if (isOne && first) trail?.note('mucosalInjurySite', first.told.resource, first.told.rung, 'Observation.bodySite')
  const anyTreated = treated?.filter(({ value }) => value)
  return {
    mucosalInjury,
    mucosalInjurySite: isOne ? first?.value : undefined,
    mucosalInjuryTreated:
      mucosalInjury === true
        ? settle('mucosalInjuryTreated', anyTreated && anyTreated.length > 0 ? anyTreated : treated, examination)
        : undefined,
  }
}

function siteOf({ resource }: Told, { trail, patient }: Examination, { codes, survey }: Reading): Site | undefined {
  const { bodySite } = resource
  if (bodySite === undefined) return undefined
  const site = codes.word(bodySite, 'bowel-site')
  if (isWord(site, bowelSites)) return site
  trail?.cannotRead('mucosalInjurySite', resource, 'Observation.bodySite')
  survey?.missed('Observation.bodySite (mucosal-injury)', bodySite, patient)
  return undefined
}
