import { reservationOf, reservationsIn } from './assertion.ts'
import { named } from './named.ts'
import { organsIn } from './sites.ts'
import { statementsOf } from './statements.ts'
import { tidyText } from './tidy-text.ts'

const lesion =
  /\b(?:polyps?|lesions?|adenomas?|lst|mass(?:es)?|tumou?rs?|cancers?|carcinomas?|neoplasms?|growths?)\b(?! (?:screening|surveillance|pathway))/g
const treatment =
  '(?:emr|esd|endoscopic (?:mucosal |submucosal )?(?:resection|dissection|removal)|resection|removal|polypectomy|excision|biopsy|biopsies|treatment|tattoo(?:ing)?)'
const isFor = new RegExp(
  `\\b(?:for|awaiting|needs?|planned|elective) (?:[a-z-]+ ){0,3}${treatment}\\b|\\bto (?:remove|resect|excise)\\b`,
)
const isOf = new RegExp(`\\b${treatment} of\\b`)
const isKnown =
  /\bknown (?:(?!(?:and|with|history|previous|prior)\b)[a-z0-9.-]+ ){0,6}?$|\b(?:residual|remaining|recurrent|unresected|palpable|incompletely (?:removed|resected|excised)) (?:[a-z0-9.-]+ ){0,4}?$/
const isSeen =
  /^ (?:[a-z]+ ){0,4}?(?:seen|found|detected|identified|noted|left|known|reported) (?:[a-z]+ ){0,2}?(?:at|on|by|during|in)\b|^ on (?:ct|mri|imaging|barium|colonography)\b/
const standing = /\b(?:residual|remaining|recurrent|unresected|palpable|incompletely (?:removed|resected|excised))\b/
// What was there, and is gone or only watched for.
const past =
  /\b(?:history|h\/o|hx|surveillance|follow[- ]?up|status[- ]post|s\/p|site check|scar|ago|(?:in|since) (?:19|20)\d\d|(?:previous|prior|earlier) (?:[a-z]+ ){0,2}(?:polypectom(?:y|ies)|resections?|emr|esd|removal)|removed|resected|excised|(?:after|post) (?:[a-z]+ ){0,2}(?:emr|esd|polypectomy|resection|removal|excision)|if (?:needed|found|any)|screening for|polyposis)\b/

/**
 * Whether the free text of a reason says that a lesion is already known: one called known, one sent for removal or biopsy, or one that another
 * examination has shown. Not where it is denied or doubted, belongs to a relative or another organ, or is only history ("previous
 * polypectomy", "history of polyps", "removed in 2019"). Never throws.
 */
export function mentionsKnownLesion(text: string): boolean {
  return statementsOf(tidyText(text).text).some((statement) => {
    if (statement.search(lesion) < 0) return false
    const clauses = statement.split(/[,:]/).map((clause) => clause.trim())
    const sentFor = clauses.some((clause) => isFor.test(clause) && !isPast(clause))
    return clauses.some((clause) => !isPast(clause) && names(clause, sentFor))
  })
}

function isPast(clause: string): boolean {
  return past.test(clause) && !standing.test(clause)
}

/** A clause that names a lesion of the bowel, not denied, and says that it is known, or stands beside the treatment it is sent for. */
function names(clause: string, sentFor: boolean): boolean {
  const reservations = reservationsIn(clause).filter(({ what }) => what !== 'earlier' && what !== 'planned')
  const organs = organsIn(clause)
  if (organs.length > 0 && organs.every(({ what }) => what === 'elsewhere')) return false
  return named(clause, lesion, 'lesion').some((place) => {
    if (reservationOf(place, reservations) !== undefined) return false
    const before = clause.slice(0, place.from)
    return sentFor || isOf.test(before) || isKnown.test(before) || isSeen.test(clause.slice(place.to))
  })
}
