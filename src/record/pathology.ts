import type { Field } from './field.ts'

const found = (short: string): Field & { readonly type: 'boolean' } => ({
  type: 'boolean',
  feed: 'pathology',
  short,
  filledBy: 'As adenomaFound, for that class.',
})

const count = (what: string): Field & { readonly type: 'integer' } => ({
  type: 'integer',
  feed: 'pathology',
  short: `${what} confirmed by histology.`,
  filledBy:
    'Results of final reports, each counted for the specimens it covers; of versions of one report the latest. Absent while a specimen is without a result, or the results leave the number open.',
})

export const pathology = {
  pathology: {
    type: 'code',
    values: ['not-sent', 'pending', 'final', 'unreadable', 'missing'],
    feed: 'pathology',
    short:
      'State of all pathology of the examination: pending while any report may still come within the source’s lag, missing after it, unreadable when a final report, or a result in it, carries no class we know.',
    filledBy:
      'Specimens and pathology reports, by the linkage ladder. Absent where nothing was sent, and nothing says that this means none.',
  },
  histologySource: {
    type: 'code',
    values: ['coded', 'text'],
    feed: 'pathology',
    short: 'Whether histology came as codes, or any of it was read from free text.',
    filledBy: 'The reports that were read. Absent without a reading.',
  },
  adenomaFound: {
    type: 'boolean',
    feed: 'pathology',
    short: 'At least one conventional adenoma (tubular, tubulovillous or villous) confirmed by histology.',
    filledBy:
      'True with one in a final report. False when every specimen is final without one, or when no polyp could yield histology; else not recorded.',
  },
  traditionalSerratedFound: found('At least one traditional serrated adenoma confirmed by histology.'),
  sessileSerratedFound: found('At least one sessile serrated lesion confirmed by histology.'),
  cancerFound: found('At least one cancer confirmed by histology.'),
  adenomaCount: count('Conventional adenomas'),
  adenomaCountLower: {
    type: 'integer',
    feed: 'pathology',
    short: 'Fewest adenomas that the record allows.',
    filledBy: 'Confirmed adenomas. Absent when the number of polyps is not recorded.',
  },
  adenomaCountUpper: {
    type: 'integer',
    feed: 'pathology',
    short: 'Most adenomas that the record allows: confirmed ones and every polyp without histology.',
    filledBy:
      'Confirmed adenomas and polyps without a histology class. Absent when the number of polyps is not recorded.',
  },
  traditionalSerratedCount: count('Traditional serrated adenomas'),
  sessileSerratedCount: count('Sessile serrated lesions'),
  hyperplasticCount: count('Hyperplastic polyps'),
  cancerCount: count('Cancers'),
  otherHistologyCount: count('Specimens of any other histology class'),
  largestAdenomaMillimetres: {
    type: 'decimal',
    unit: 'mm',
    feed: 'pathology',
    short: 'Size of the largest confirmed adenoma.',
    filledBy:
      'Endoscopic size of the polyps whose histology is adenoma. Absent where there is none, where a specimen may still hold one, or where any adenoma is without a size and not known to be smaller.',
  },
  villousAdenomaFound: {
    type: 'boolean',
    feed: 'pathology',
    short: 'At least one confirmed adenoma with a villous part.',
    filledBy:
      'True with one. False where there is no adenoma, or the codes of every adenoma say that it is tubular. Absent otherwise.',
  },
  highGradeDysplasiaFound: {
    type: 'boolean',
    feed: 'pathology',
    short: 'At least one confirmed adenoma with high-grade dysplasia.',
    filledBy: 'True with one. False where there is no adenoma, or every adenoma is graded low. Absent otherwise.',
  },
  colitisDysplasiaFound: {
    type: 'boolean',
    feed: 'pathology',
    short: 'Dysplasia in biopsies of flat mucosa that no polyp accounts for: its own class, never an adenoma.',
    filledBy:
      'A grade of dysplasia as the only diagnosis of a pot that no polyp names. False where all pathology is final without. Absent otherwise.',
  },
} as const satisfies Record<string, Field>
