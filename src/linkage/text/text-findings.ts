import type { bowelSites, histologyClasses } from '../../record/words.ts'

export type HistologyClass = (typeof histologyClasses)[number]
export type BowelSite = (typeof bowelSites)[number]
export type Dysplasia = 'low-grade' | 'high-grade'

/** One diagnosis that a pathology text states as present in the bowel. What is absent was not stated. */
export interface TextFinding {
  readonly histology: HistologyClass
  /** How many lesions the text says there are of it; fragments are not lesions. */
  readonly count?: number
  readonly site?: BowelSite
  /** Largest diameter stated, in millimetres; a bound such as "<5 mm" is not a size. */
  readonly sizeMillimetres?: number
  /** Of a conventional adenoma: true where a villous part is stated, false where it is called tubular or denied one. */
  readonly villous?: boolean
  /** Highest grade stated; "no high-grade dysplasia" of a conventional adenoma is low-grade, since every adenoma has dysplasia. */
  readonly dysplasia?: Dysplasia
  /** Found in biopsies taken at random, not from a lesion. */
  readonly inRandomBiopsy?: boolean
  /** Letter or number of the specimen, as the text labels it ("A", "2"). */
  readonly specimenLabel?: string
}

/** What a text says. */
export interface TextFindings {
  readonly findings: readonly TextFinding[]
  /** The text neither states a bowel diagnosis that the reader knows nor says that there is no adenoma, dysplasia or neoplasia. */
  readonly unread: boolean
  /** Present where the text was longer than the reader reads: what stands behind the cut is not in `findings`. */
  readonly cut?: true
  /** Present where something is left open beside what `findings` hold. */
  readonly open?: OpenInText
}

/** What a text leaves open beside the diagnoses that it states. */
export interface OpenInText {
  /** Specimens that the text labels, those of other organs among them. */
  readonly labels: number
  /** Labels of which nothing is said that the reader knows. */
  readonly unreadLabels: number
  /** Labels that the text itself places in another organ. */
  readonly labelsElsewhere: number
  /** Parts in which a lesion is not stated but doubted. */
  readonly doubted: number
  /** More than one is said of some diagnosis, and not how many. */
  readonly isUncounted: boolean
}
