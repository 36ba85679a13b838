import type { Advice, Attempt, RemovalReason, Severity, TruthDetails } from '../truth-details.ts'
import type { Site } from '../truth-words.ts'

export type Drug =
  | 'midazolam'
  | 'fentanyl'
  | 'pethidine'
  | 'propofol'
  | 'nitrous-oxide'
  | 'antispasmodic'
  | 'flumazenil'
  | 'naloxone'

/** One administration of a drug. */
export interface Dose {
  readonly drug: Drug
  /** Micrograms of fentanyl, milligrams of the others; nitrous oxide is inhaled and has none. */
  readonly amount?: number
  /** Minutes after the start of the examination. */
  readonly after: number
  /** Written as millilitres of an ampoule, or with a code of the formulary that nobody mapped. */
  readonly spoilt?: 'volume' | 'unmapped'
}

export interface WrittenAdvice {
  readonly advice: Advice
  readonly months?: number
}

export type VisitClass = 'EMER' | 'IMP' | 'SS' | 'OBSENC' | 'AMB' | 'unmapped'

export interface VisitPlan {
  readonly day: number
  /** Minutes after midnight. */
  readonly minute: number
  readonly class: VisitClass
  readonly status: 'finished' | 'cancelled'
  readonly priority?: 'EL' | 'R' | 'EM'
  readonly fromEmergency?: true
}

interface Written {
  /** Number of the anaesthetist who stands among the performers. */
  readonly anaesthetist: string
  readonly doses: readonly Dose[]

  readonly ileumSaid: Attempt
  readonly retroflexionSaid: Attempt
  /** Colonoscopes used; one of a kind that no map knows. */
  readonly instruments: readonly ('adult' | 'paediatric' | 'unmapped')[]
  readonly exchangeSaid: boolean
  /** A time that nobody can read, or of zero. */
  readonly insertionText: string
  readonly withdrawalZero: true
  /** A code of the unit that no map knows, within its panel. */
  readonly unmappedTerm: true

  /** A second score, by the endoscopist; or one outside the scale where there is no other. */
  readonly endoscopistComfort: number
  readonly comfortOutOfScale: number

  readonly outcome: {
    readonly outcome: 'kept' | 'removed' | 'detached'
    readonly beforeCaecum?: boolean
    readonly reason?: RemovalReason
    readonly reinserted?: boolean
  }
  readonly injury: { readonly seen: boolean; readonly site?: Site; readonly treated?: boolean }

  /** Lesions known before and seen again: left for another day, or not found. */
  readonly knownLesions: readonly { readonly site: Site; readonly handling: 'left' | 'not-found-again' }[]
  /** Sizes said in words, by position of the polyp. */
  readonly sizeWords: Readonly<Record<number, string>>
  /** Pieces in each jar, where they were counted. */
  readonly pieces: readonly (number | undefined)[]
  /** Jars of biopsies of no polyp that do not say from where they are. */
  readonly unsitedJars: readonly number[]
  /** Biopsies that were not taken from a polyp, as counted in the report. */
  readonly biopsies: readonly { readonly part: 'right' | 'left' | 'rectum'; readonly number: number }[]
  /** Details of what lies in each jar. */
  readonly tissue: readonly Tissue[]
  /** The report calls the bowel normal. */
  readonly calledNormal: true

  /** Answer to a question of the list before the examination: takes antithrombotics or not. */
  readonly antithromboticsSaid: boolean
  /** Answers to questions before it: whether the symptom is diarrhoea, and whether an incomplete examination is repeated. */
  readonly diarrhoeaSaid: boolean
  /** Stands among the reasons, beside symptoms. */
  readonly diarrhoeaCoded: true
  readonly repeatSaid: boolean
  /** Day of the positive test, and of the last examination elsewhere; or the years since that. */
  readonly testDay: number
  readonly lastDay: number
  readonly lastYears: number
  /** Reasons in words, where none is coded. */
  readonly reasonText: string

  readonly severity: Severity
  readonly cardiopulmonary: { readonly severity?: Severity }
  readonly advice: {
    readonly first: WrittenAdvice
    /** After pathology. */
    readonly amended?: WrittenAdvice & { readonly day: number }
    readonly how: 'observation' | 'order' | 'follow-up' | 'text'
    /** Interval in words, or beside advice against it. */
    readonly spoilt?: 'range' | 'contradiction'
  }
  readonly visits: readonly VisitPlan[]
}

/** How the rest of one examination was written down, where the truth row does not say it already. */
export type Details = { readonly [Name in keyof Written]?: Written[Name] | undefined }

export interface Tissue {
  readonly villous: boolean
  /** Grade, where one is written. */
  readonly dysplasia?: 'low-grade' | 'high-grade'
  /** Dysplasia of the flat mucosa, or of a sessile serrated lesion, in the code of the class itself. */
  readonly dysplastic: boolean
}

/** What one part of the examination adds: facts of the truth, and how they were written. */
export interface Added {
  readonly truth: TruthDetails
  readonly written: Details
}
