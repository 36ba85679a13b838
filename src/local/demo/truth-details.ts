import type { DemoReason } from './region.ts'
import type { Site } from './truth-words.ts'

export type Attempt = 'not-attempted' | 'attempted' | 'done'
export type Severity = 'mild' | 'moderate' | 'severe'
export type Advice = 'repeat-colonoscopy' | 'no-further-colonoscopy' | 'clinic-review'
export type RemovalReason = 'narrowed-sigmoid' | 'discomfort' | 'looping' | 'poor-view'

/** A visit to a hospital within 30 days after an examination. */
export interface TruthVisit {
  /** Days from the examination. */
  readonly day: number
  readonly planned?: boolean
}

interface Recorded {
  /** HH:MM in London; absent where only a date is written. */
  readonly startTime: string
  /** Help that a trainee was given. */
  readonly takeover: 'none' | 'verbal' | 'hands-on'
  readonly anaesthetistLed: boolean

  /** Every reason stated, each once. */
  readonly reasons: readonly DemoReason[]
  /** A stated reason, or a lesion seen again. */
  readonly knownLesion: boolean

  /** As recorded before the examination, like all that follows up to antithrombotics. */
  readonly inflammatoryBowelDiseaseActivity: 'quiescent' | 'active' | 'severe'
  /** First recorded on the day itself. */
  readonly inflammatoryBowelDiseaseSeen: boolean
  readonly resectedPart: 'right' | 'transverse' | 'left' | 'rectum'
  readonly strictureKnown: boolean
  readonly severeDiverticulosis: boolean
  readonly pelvicSurgeryOrRadiotherapy: boolean
  readonly earlierColorectalCancer: boolean
  readonly antithrombotics: boolean
  readonly serratedPolyposis: boolean
  readonly familyHistoryOfColorectalCancer: boolean
  readonly earlierAdenoma: boolean
  /** From the last colonoscopy of all that are known. */
  readonly monthsSinceLastColonoscopy: number
  readonly lastExaminationInadequate: boolean

  /** The symptom is chronic diarrhoea. */
  readonly chronicDiarrhoea: boolean
  readonly afterIncompleteExamination: boolean
  readonly daysFromPositiveTest: number

  readonly ileum: Attempt
  readonly retroflexion: Attempt
  /** The colonoscope with which it began. */
  readonly instrument: 'adult' | 'paediatric'
  readonly instrumentExchanged: boolean
  readonly insufflation: 'air' | 'carbon-dioxide' | 'water'
  readonly dye: boolean
  readonly computerAidedDetection: boolean
  readonly tattooPlaced: boolean

  /** Written by one unit where it has no Boston score. */
  readonly preparationGrade: 'excellent' | 'good' | 'fair' | 'poor'

  /** Whose score the comfort score is. */
  readonly comfortScorer: 'patient' | 'nurse' | 'endoscopist'
  readonly patientExperience: 'good' | 'acceptable' | 'poor'
  readonly sedated: boolean
  /** Sums of all doses; 0 where none was given. */
  readonly midazolamMilligrams: number
  readonly fentanylMicrograms: number
  readonly pethidineMilligrams: number
  readonly propofolMilligrams: number
  readonly nitrousOxide: boolean
  readonly antispasmodic: boolean
  readonly reversalAgent: boolean

  readonly attachmentOutcome: 'kept' | 'removed' | 'detached'
  readonly attachmentRemovedBeforeCaecum: boolean
  readonly attachmentRemovalReason: RemovalReason
  readonly attachmentReinserted: boolean
  readonly mucosalInjury: boolean
  readonly mucosalInjurySite: Site
  readonly mucosalInjuryTreated: boolean

  /** Lesions known before and seen again. */
  readonly knownLesionCount: number

  /** Biopsies that were not taken from a polyp: right of the splenic flexure, left of it, and of the rectum. */
  readonly biopsiesRight: number
  readonly biopsiesLeft: number
  readonly biopsiesRectum: number
  /** At least so many, where nobody counted them. */
  readonly biopsiesRightAtLeast: number
  readonly biopsiesLeftAtLeast: number
  readonly biopsiesRectumAtLeast: number

  /** Endoscopic size of the largest adenoma that a final report confirms, where its polyps can be told apart. */
  readonly largestAdenomaMillimetres: number
  readonly villousAdenomaFound: boolean
  readonly highGradeDysplasiaFound: boolean
  /** Dysplasia in biopsies that were not taken from a polyp. */
  readonly colitisDysplasiaFound: boolean

  readonly eventCount: number
  readonly bleedingSeverity: Severity
  readonly perforationSeverity: Severity
  readonly cardiopulmonaryEvent: boolean
  /** Days from the examination to it. */
  readonly cardiopulmonaryEventDay: number
  /** In order of day. */
  readonly visits: readonly TruthVisit[]
  readonly unplannedVisit: boolean
  /** Days from the examination to the first unplanned visit. */
  readonly unplannedVisitDay: number
  readonly death: boolean
  /** Days from the examination to the death, where its date is written. */
  readonly deathDay: number
  /** The latest signed advice. */
  readonly advice: Advice
  readonly advisedIntervalMonths: number
  /** It was signed when pathology was final, or none was sent. */
  readonly adviceAfterPathology: boolean
  /** Colorectal cancer diagnosed at the examination, or within 183 days. */
  readonly cancerWithinSixMonths: boolean
  readonly laterColorectalCancer: boolean
  /** Days from the examination to that diagnosis. */
  readonly laterColorectalCancerDay: number
}

/**
 * The rest of what was written down of one examination, as the record should hold it: `undefined` is not recorded, be it left
 * out, unreadable, or contradicted. Decided before any resource exists, like everything in a truth row.
 */
export type TruthDetails = { readonly [Name in keyof Recorded]?: Recorded[Name] | undefined }
