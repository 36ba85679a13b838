import { unknownMeaning } from '../fhir/codes.ts'
import { holdsValue } from '../fhir/holds-value.ts'
import { asObjects } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { bowelSites, isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { componentOf, yesOrNo } from './told-value.ts'

type Injury = Pick<Colonoscopy, 'mucosalInjury' | 'mucosalInjurySite' | 'mucosalInjuryTreated'>
type Site = (typeof bowelSites)[number]

/**
 * Injuries of the mucosa. A site alone tells of one; several injuries at different sites have no one site. One that was treated
 * makes the examination's injuries treated.
 */
export function readMucosalInjury(observations: readonly Told[], examination: Examination, reading: Reading): Injury {
  if (observations.length === 0)
    return { mucosalInjury: undefined, mucosalInjurySite: undefined, mucosalInjuryTreated: undefined }
  const { trail } = examination
  let injured: Statement<boolean>[] | undefined
  let treated: Statement<boolean>[] | undefined
  const sites: Statement<Site>[] = []
  let open = false
  for (const told of observations) {
    const { resource, holder } = told
    const site = siteOf(told, examination, reading)
    const answer = yesOrNo('mucosalInjury', told, examination, reading)
    const isSited = site !== undefined && holder.dataAbsentReason === undefined
    const isInjury = answer ?? (isSited && !holdsValue(holder) ? true : undefined)
    injured = stated(injured, isInjury, told, answer === undefined ? 'Observation.bodySite' : undefined)
    if (isInjury !== true) continue
    if (site !== undefined) sites.push({ value: site, told, element: 'Observation.bodySite' })
    else open = true
    for (const component of asObjects(resource.component)) {
      const code = reading.codes.of(component.code)
      if (code === unknownMeaning)
        reading.survey?.missed('Observation.component.code (mucosal-injury)', component.code, examination.patient)
      if (code.fact !== 'mucosal-injury-treated') continue
      const part = componentOf(told, component, code)
      treated = stated(treated, yesOrNo('mucosalInjuryTreated', part, examination, reading), part)
    }
  }
  const mucosalInjury = settle('mucosalInjury', injured, examination)
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
