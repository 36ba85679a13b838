import type { CodeableConcept, Coding, Quantity, Reference } from 'fhir/r4'
import type { Tissue } from '../details/details.ts'
import { systems } from '../region.ts'
import type { Nature, Site } from '../truth-words.ts'
import { displayOf } from './displays.ts'

/** One code of a system named in `systems`, as a CodeableConcept. */
export function concept(system: keyof typeof systems, code: string): CodeableConcept {
  const one = coding(system, code)
  return { coding: [one], ...(one.display !== undefined && { text: one.display }) }
}

export function coding(system: keyof typeof systems, code: string): Coding {
  const display = displayOf(systems[system], code)
  return { system: systems[system], code, ...(display !== undefined && { display }) }
}

export const fact = (code: string): CodeableConcept => concept('facts', code)

export const refer = (type: string, id: string): Reference => ({ reference: `${type}/${id}` })

export function quantity(value: number, unit: string): Quantity {
  return { value, unit, system: systems.ucum, code: unit }
}

/** SNOMED CT body structures; what has none here is said in words of the fact code system. */
const siteCodes: Readonly<Partial<Record<Site, string>>> = {
  rectum: '34402009',
  sigmoid: '60184004',
  descending: '32622004',
  'splenic-flexure': '72592005',
  transverse: '485005',
  'hepatic-flexure': '48338005',
  ascending: '9040008',
  caecum: '32713005',
  ileum: '85774003',
}

export function siteConcept(site: Site, inWords: boolean): CodeableConcept {
  const code = siteCodes[site]
  return code === undefined || inWords ? fact(site) : concept('snomed', code)
}

/** Several SNOMED CT codes mean the same class; laboratories use them all. */
const histologyCodes: Readonly<Record<HistologyWord, readonly string[]>> = {
  'conventional-adenoma': ['444408007', '1156654007'],
  'villous-adenoma': ['61722000', '128859003'],
  'traditional-serrated-adenoma': ['443734007'],
  'sessile-serrated-lesion': ['443157008'],
  'dysplastic-serrated-lesion': ['783210009'],
  hyperplastic: ['89452002', '62047007', '721691004'],
  cancer: ['1187332001', '72495009', '363510005'],
  other: ['30389008'],
  'dysplastic-mucosa': ['43185009'],
}

/** A class, told apart where a code says more. */
export type HistologyWord = Nature | 'villous-adenoma' | 'dysplastic-serrated-lesion' | 'dysplastic-mucosa'

/** Codes of one unit's own laboratory; a ConceptMap of the demo's source translates them. */
export const localHistologyCodes: Readonly<Record<HistologyWord, string>> = {
  'conventional-adenoma': 'AD',
  'villous-adenoma': 'AV',
  'traditional-serrated-adenoma': 'TS',
  'sessile-serrated-lesion': 'SS',
  'dysplastic-serrated-lesion': 'SD',
  hyperplastic: 'HP',
  cancer: 'CA',
  other: 'OT',
  'dysplastic-mucosa': 'DY',
}

export function histologyConcept(nature: Nature, local: boolean, variant: number, tissue?: Tissue): CodeableConcept {
  const word = wordFor(nature, tissue)
  if (local) return concept('localHistology', localHistologyCodes[word])
  const codes = histologyCodes[word]
  return concept('snomed', codes[variant % codes.length] ?? '')
}

function wordFor(nature: Nature, tissue: Tissue | undefined): HistologyWord {
  if (nature === 'conventional-adenoma' && tissue?.villous) return 'villous-adenoma'
  if (nature === 'sessile-serrated-lesion' && tissue?.dysplastic) return 'dysplastic-serrated-lesion'
  return nature === 'other' && tissue?.dysplastic ? 'dysplastic-mucosa' : nature
}

/** A code that nobody has a meaning for. */
export const unreadableHistology = concept('localHistology', 'X17')
