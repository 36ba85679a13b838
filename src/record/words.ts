/** Words that several fields of the record share. */

/** In order of precedence: of several stated reasons the first in this list is the referral reason. */
export const referralReasons = [
  'known-lesion',
  'site-check',
  'positive-screening-test',
  'surveillance',
  'symptoms-positive-test',
  'symptoms',
  'screening',
] as const

/** From the anus inwards; an anastomosis, which may lie anywhere, is last. */
export const bowelSites = [
  'anal-canal',
  'rectum',
  'rectosigmoid',
  'sigmoid',
  'descending',
  'splenic-flexure',
  'transverse',
  'hepatic-flexure',
  'ascending',
  'caecum',
  'ileum',
  'anastomosis',
] as const

export const histologyClasses = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
  'cancer',
  'other',
] as const

export const attempts = ['not-attempted', 'attempted', 'done'] as const

export const severities = ['mild', 'moderate', 'severe', 'fatal'] as const

/** Whether a text is one of some words. */
export function isWord<Word extends string>(value: string | undefined, words: readonly Word[]): value is Word {
  return value !== undefined && (words as readonly string[]).includes(value)
}
