import { factSystem } from '../../fhir/canonical.ts'

/** The invented region of Harrowmere: its units and its endoscopists. No such place, hospital or person exists. */

export const systems = {
  facts: factSystem,
  snomed: 'http://snomed.info/sct',
  snomedOid: 'urn:oid:2.16.840.1.113883.6.96',
  loinc: 'http://loinc.org',
  ucum: 'http://unitsofmeasure.org',
  opcs: 'https://fhir.hl7.org.uk/CodeSystem/OPCS-4',
  icd10cm: 'http://hl7.org/fhir/sid/icd-10-cm',
  observationCategory: 'http://terminology.hl7.org/CodeSystem/observation-category',
  diagnosticService: 'http://terminology.hl7.org/CodeSystem/v2-0074',
  encounterClass: 'http://terminology.hl7.org/CodeSystem/v3-ActCode',
  participation: 'http://terminology.hl7.org/CodeSystem/v3-ParticipationType',
  seriousness: 'http://terminology.hl7.org/CodeSystem/adverse-event-seriousness',
  verification: 'http://terminology.hl7.org/CodeSystem/condition-ver-status',
  encounterPriority: 'http://terminology.hl7.org/CodeSystem/v3-ActPriority',
  admitSource: 'http://terminology.hl7.org/CodeSystem/admit-source',
  severity: 'http://terminology.hl7.org/CodeSystem/adverse-event-severity',
  clinicalStatus: 'http://terminology.hl7.org/CodeSystem/condition-clinical',
  atc: 'http://www.whocc.no/atc',
  localProcedures: 'https://codes.harrowmere.example/procedures',
  localTerms: 'https://codes.harrowmere.example/terms',
  localFormulary: 'https://codes.harrowmere.example/formulary',
  localVisits: 'https://codes.harrowmere.example/visits',
  localHistology: 'https://codes.harrowmere.example/histology',
  people: 'https://people.harrowmere.example/endoscopists',
} as const

export type UnitId = 'ellenby' | 'tarnhollow' | 'quernford'

/** What a unit is called, and how often it records what; chances are parts in 10,000. */
export interface DemoUnit {
  readonly id: UnitId
  readonly name: string
  /** Begins the id of every resource of the unit. */
  readonly prefix: string
  /** Share of the network's examinations. */
  readonly weight: number
  readonly extentRecorded: number
  readonly photographed: number
  readonly preparationRecorded: number
  readonly withdrawalRecorded: number
  readonly comfortRecorded: number
  readonly attachmentRecorded: number
  readonly reasonRecorded: number
  readonly reasons: readonly (readonly [DemoReason, number])[]
}

export type DemoReason =
  | 'known-lesion'
  | 'site-check'
  | 'positive-screening-test'
  | 'surveillance'
  | 'symptoms-positive-test'
  | 'symptoms'
  | 'screening'

export const units: readonly DemoUnit[] = [
  {
    id: 'ellenby',
    name: 'Ellenby Endoscopy Unit',
    prefix: 'ell',
    weight: 25,
    extentRecorded: 9850,
    photographed: 9500,
    preparationRecorded: 9800,
    withdrawalRecorded: 9600,
    comfortRecorded: 9300,
    attachmentRecorded: 9200,
    reasonRecorded: 9900,
    reasons: [
      ['known-lesion', 2],
      ['site-check', 2],
      ['positive-screening-test', 30],
      ['surveillance', 20],
      ['symptoms-positive-test', 12],
      ['symptoms', 24],
      ['screening', 10],
    ],
  },
  {
    id: 'tarnhollow',
    name: 'Tarnhollow Endoscopy Unit',
    prefix: 'tar',
    weight: 21,
    extentRecorded: 9750,
    photographed: 9200,
    preparationRecorded: 9650,
    withdrawalRecorded: 9300,
    comfortRecorded: 8800,
    attachmentRecorded: 8800,
    reasonRecorded: 9800,
    reasons: [
      ['known-lesion', 2],
      ['site-check', 2],
      ['positive-screening-test', 8],
      ['surveillance', 22],
      ['symptoms-positive-test', 12],
      ['symptoms', 29],
      ['screening', 25],
    ],
  },
  {
    id: 'quernford',
    name: 'Quernford Endoscopy Unit',
    prefix: 'que',
    weight: 14,
    extentRecorded: 9600,
    photographed: 8600,
    preparationRecorded: 9500,
    withdrawalRecorded: 8700,
    comfortRecorded: 7600,
    attachmentRecorded: 8200,
    reasonRecorded: 9650,
    reasons: [
      ['known-lesion', 2],
      ['site-check', 1],
      ['positive-screening-test', 5],
      ['surveillance', 18],
      ['symptoms-positive-test', 14],
      ['symptoms', 40],
      ['screening', 20],
    ],
  },
]

export interface Endoscopist {
  /** Number within the region's identifier system. */
  readonly number: string
  readonly family: string
  readonly given: string
  /** Where the person works, with the share of the unit's lists. */
  readonly lists: Readonly<Partial<Record<UnitId, number>>>
  /** Finds this many thousandths of the adenomas that an average endoscopist finds. */
  readonly finding: number
  /** Stops this many thousandths of the examinations that an average endoscopist stops. */
  readonly stopping: number
  /** Does the lists after a positive screening test. */
  readonly screeningLists: boolean
  readonly trainee: boolean
}

const person = (
  number: string,
  given: string,
  family: string,
  lists: Endoscopist['lists'],
  finding: number,
  stopping: number,
  screeningLists = false,
  trainee = false,
): Endoscopist => ({ number, given, family, lists, finding, stopping, screeningLists, trainee })

export const endoscopists: readonly Endoscopist[] = [
  person('HM-1101', 'Isolde', 'Farrowby', { ellenby: 24 }, 1180, 700, true),
  person('HM-1102', 'Osric', 'Penhale', { ellenby: 22 }, 1060, 800, true),
  person('HM-1103', 'Maud', 'Tillerson', { ellenby: 16 }, 820, 1300),
  person('HM-1104', 'Ansel', 'Wraithby', { ellenby: 12, quernford: 18 }, 1000, 1000),
  person('HM-1105', 'Perdita', 'Coldstone', { ellenby: 9, tarnhollow: 14 }, 1120, 850, true),
  person('HM-1106', 'Lorcan', 'Ashgrove', { tarnhollow: 26 }, 980, 1000, true),
  person('HM-1107', 'Beatrix', 'Quillfeather', { tarnhollow: 22 }, 700, 1500),
  person('HM-1108', 'Idris', 'Marrowmere', { tarnhollow: 18 }, 1100, 900),
  person('HM-1109', 'Sunniva', 'Brackenthwaite', { tarnhollow: 4 }, 950, 1100),
  person('HM-1110', 'Emrys', 'Dunnoch', { quernford: 34 }, 900, 1150),
  person('HM-1111', 'Coralie', 'Stavemoor', { quernford: 30 }, 1080, 950),
  person('HM-1112', 'Tobiah', 'Greyling', { quernford: 3 }, 1000, 1000),
  person('HM-1201', 'Wenna', 'Larkspere', { ellenby: 8 }, 930, 1250, false, true),
  person('HM-1202', 'Fergal', 'Oxenholt', { tarnhollow: 9 }, 880, 1350, false, true),
]

/** Who leads deep sedation in the one unit that names them as performers. */
export const anaesthetists: readonly { readonly number: string; readonly given: string; readonly family: string }[] = [
  { number: 'HM-1301', given: 'Rosamund', family: 'Tetherwick' },
  { number: 'HM-1302', given: 'Caspian', family: 'Underhay' },
]

/** Who supervises the trainees of a unit. */
export const supervisors: Readonly<Partial<Record<UnitId, readonly string[]>>> = {
  ellenby: ['HM-1101', 'HM-1102'],
  tarnhollow: ['HM-1106'],
}

/** @returns the key under which the service knows a person */
export const practitionerKey = (number: string): string => `${systems.people}|${number}`
