import { polypsInHeading } from './counts.ts'
import { diagnosisWordsIn } from './diagnosis-words.ts'
import { oneSite, organsIn } from './sites.ts'
import { sizesIn } from './sizes.ts'
import type { BowelSite } from './text-findings.ts'

/** What was sent, as a line such as "Ascending colon, polyps x 2, 6 mm:" tells before the diagnosis. */
export interface Heading {
  readonly organ?: 'bowel' | 'elsewhere'
  readonly site?: BowelSite
  readonly sizeMillimetres?: number
  readonly polyps?: number
  readonly random?: boolean
  /** Tissue of another day ("Previous biopsy:", "Polypectomy in 2019:"); what stands under it is history. */
  readonly earlier?: boolean
}

const sent =
  /\b(?:polyps?|polypectom(?:y|ies)|biops(?:y|ies|ied)|lesions?|excision|resection|mucosectomy|emr|esd|specimens?|snare|tissue|colonoscopy|mucosa)\b/
const taken = /\b(?:polypectom(?:y|ies)|biops(?:y|ies)|excision|resection|emr|esd|specimens?)\b/
const random = /\b(?:random(?:ly|ised|ized)?|mapping|non-?targeted|untargeted|quadrantic)\b/
const earlier =
  /\b(?:previous|prior|earlier|last) (?:[a-z]+ ){0,2}(?:colonoscopy|biops(?:y|ies)|polypectom(?:y|ies)|specimens?|resection)$|\b(?:in|of|from) (?:[a-z]+ )?(?:19|20)\d\d$/
const verb = /\b(?:shows?|showed|is|are|was|were|has|had|with|no|not|without|negative|see|identified|consists?)\b/

/**
 * Parts a statement into the heading before its colon (or spaced dash) and the rest. What holds a word of diagnosis is no heading, unless
 * it says how the tissue was taken: then it is the sender's own guess, and no diagnosis.
 *
 * @returns the heading's text where there is one; a statement that only names what was sent is a heading without a rest
 */
export function partHeading(statement: string): { heading?: string; rest: string } {
  const at = /:(?= |$)| - /.exec(statement)
  if (at) {
    const heading = statement.slice(0, at.index).trim()
    if (isHeading(heading)) return { heading, rest: statement.slice(at.index + at[0].length).trim() }
    return { rest: statement }
  }
  const isShort = statement.split(' ').length <= 14
  const names =
    organsIn(statement).length > 0 || random.test(statement) || /^(?:large |small )?polyps?\b/.test(statement)
  if (isShort && names && !verb.test(statement) && diagnosisWordsIn(statement).length === 0)
    return { heading: statement, rest: '' }
  return { rest: statement }
}

function isHeading(text: string): boolean {
  if (organsIn(text).length === 0 && !sent.test(text) && !random.test(text)) return false
  return diagnosisWordsIn(text).length === 0 || taken.test(text)
}

/** @returns what a heading tells of what was sent; of several sites or sizes none, or the largest */
export function readHeading(text: string): Heading {
  const organs = new Set(organsIn(text).map(({ what }) => what))
  const organ = organs.has('bowel') ? 'bowel' : organs.has('elsewhere') ? 'elsewhere' : undefined
  const site = oneSite(text)
  const sizes = sizesIn(text).map(({ what }) => what)
  const polyps = polypsInHeading(text)
  return {
    ...(organ === undefined ? {} : { organ }),
    ...(site === undefined ? {} : { site }),
    ...(sizes.length === 0 ? {} : { sizeMillimetres: Math.max(...sizes) }),
    ...(polyps === undefined ? {} : { polyps }),
    ...(random.test(text) ? { random: true } : {}),
    ...(earlier.test(text) ? { earlier: true } : {}),
  }
}
