import type { CodeableConcept } from 'fhir/r4'
import { systems, type UnitId } from '../region.ts'
import { concept, fact } from './codes.ts'

/**
 * Local codes of one unit for what has no code elsewhere, by the code of ours that a ConceptMap of the demo's source makes of
 * them.
 */
export const localTerms: Readonly<Record<string, string>> = {
  'anaesthetist-led': 'ANA',
  'ileal-intubation': 'TI',
  'rectal-retroflexion': 'RFX',
  insufflation: 'GAS',
  'instrument-exchanged': 'SCX',
  dye: 'DYE',
  'computer-aided-detection': 'CAD',
  'attachment-outcome': 'ATO',
  'attachment-removal-reason': 'ATR',
  'mucosal-injury': 'INJ',
  'advised-interval': 'INT',
  'polyp-shape': 'PSH',
  'polyp-tool': 'PTL',
  'polyp-resection': 'PRS',
  'polyp-tattooed': 'PTT',
  'known-lesion-seen-again': 'PKN',
  'polyp-suspected-cancer': 'PSC',
  'polyp-inaccessible': 'PIN',
  'polyp-removal-attempted': 'PRA',
  'polyp-sent-for-surgery': 'PSS',
  'polyp-clearance': 'PCL',
  'biopsies-right': 'BXR',
  'biopsies-left': 'BXL',
  'biopsies-rectum': 'BXT',
  'dysplasia-grade': 'DGR',
  'adult-colonoscope': 'SC-A',
  'paediatric-colonoscope': 'SC-P',
  'not-attempted': 'V-NA',
  attempted: 'V-AT',
  done: 'V-DO',
  air: 'V-AIR',
  'carbon-dioxide': 'V-CO2',
  water: 'V-WAT',
  kept: 'V-KPT',
  removed: 'V-REM',
  detached: 'V-DET',
  'narrowed-sigmoid': 'V-NSG',
  discomfort: 'V-DIS',
  looping: 'V-LOO',
  'poor-view': 'V-PVW',
  pedunculated: 'V-PED',
  sessile: 'V-SES',
  flat: 'V-FLA',
  depressed: 'V-DEP',
  'cold-snare': 'V-CSN',
  'hot-snare': 'V-HSN',
  'cold-forceps': 'V-CFO',
  'hot-forceps': 'V-HFO',
  'mucosal-resection': 'V-EMR',
  'submucosal-dissection': 'V-ESD',
  'en-bloc': 'V-ENB',
  piecemeal: 'V-PCM',
  complete: 'V-CPL',
  incomplete: 'V-INC',
  'low-grade': 'V-LGD',
  'high-grade': 'V-HGD',
  'repeat-colonoscopy': 'F-COL',
  'no-further-colonoscopy': 'F-NIL',
  'clinic-review': 'F-OPD',
}

/** Codes of the same list that nobody mapped, with what the unit calls them. */
export const unmappedTerms = {
  ultrathin: { system: systems.localTerms, code: 'SC-U', display: 'Colonoscope, ultrathin' },
  position: { system: systems.localTerms, code: 'POS', display: 'Changes of position' },
} as const

/** A code of ours as a unit writes it: in one unit by its own list. */
export function term(unit: UnitId, code: string): CodeableConcept {
  if (unit !== 'quernford') return fact(code)
  const local = localTerms[code]
  if (local === undefined) throw new RangeError(`The local list has no code for ${code}`)
  return concept('localTerms', local)
}
