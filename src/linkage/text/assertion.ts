import { type Named, named } from './named.ts'

/** Why something named is not stated as present here and now. */
export type Reservation = 'denied' | 'doubtful' | 'planned' | 'earlier' | 'of-a-relative'

const forward: readonly (readonly [Reservation, RegExp])[] = [
  [
    'denied',
    /\b(?:no|not(?! (?:completely|entirely|fully|totally|excised|removed|assessable|evaluable|only|clear|certain)\b)|without|negative for|absence of|free (?:of|from)|devoid of|lack(?:s|ing)?(?: of)?|neither|nor|never|fails? to|failed to|rather than|favou?red over|instead of|as opposed to|excludes|excluding|unlike)\b/g,
  ],
  [
    'doubtful',
    /\b(?:rule out|r\/o|(?:to )?exclude|suspicious (?:for|of)|suspected|suspicion of|possib(?:le|ly|ility of)|probabl[ey]|presum(?:ed|ptive)|question of|questionable|query|cannot exclude|suggest(?:s|ive|ing|ed)?|concern(?:ing)? (?:for|of)|worrisome for|differential|if|unless|whether|should|would|could|may|might|risk of|indefinite for|equivocal|borderline|evaluate for|look for|screening for)\b|\?(?= ?[a-z])/g,
  ],
  [
    'planned',
    /\b(?:wish(?:es)? to|(?:to )?proceed with|schedul(?:e|ed)|will (?:be|need|require|have)|plan(?:s|ned)? (?:to|for)|recommend(?:s|ed)?|advise[ds]?|referr(?:al|ed) for|for (?:resection|removal|excision|polypectomy|emr|esd))\b/g,
  ],
  [
    'earlier',
    /\b(?:history of|h\/o|hx of|status[- ]post|s\/p|surveillance (?:of|for|after)|follow[- ]?up (?:of|for|after)|diagnosed (?:with|as) (?=[^,]{0,40}\b(?:19|20)\d\d\b))/g,
  ],
  [
    'earlier',
    /\b(?:previous|prior|earlier|past|last) (?:[a-z]+ ){0,2}(?:colonoscop(?:y|ies)|biops(?:y|ies)|examinations?|polypectom(?:y|ies)|specimens?|reports?|histology|pathology|resections?|slides?)\b(?! (?:site|scar))/g,
  ],
]

/** Adjectives of the past; they reach no further than a comma. */
const nearPast =
  /\b(?:known|previous(?:ly)?|prior|past|former(?:ly)?)(?! (?:[a-z]+ ){0,2}(?:site|scar|tattoo)\b| (?:biopsied|tattooed|treated|injected|identified)\b)\b/g

const backward: readonly (readonly [Reservation, RegExp])[] = [
  [
    'denied',
    /\bnot (?:[a-z]+ )?(?:identified|seen|present|found|detected|observed|demonstrated|evident|appreciated|noted|recogni[sz]ed|apparent|shown)\b|\b(?:is|are|was|were|has been|have been) (?:absent|excluded|ruled out|negative)\b|[:,-] ?(?:absent|negative|none|nil|no)\b(?! [a-z])|\babsent$/g,
  ],
  [
    'doubtful',
    /\b(?:cannot|can not|could not) be (?:[a-z]+ )?(?:excluded|ruled out|confirmed|assessed)\b|\bnot (?:been )?(?:excluded|ruled out)\b|\b(?:is|are) (?:suspected|possible|considered|unlikely|questioned)\b|\bshould be (?:considered|excluded)\b|\bpossible$|\?$/g,
  ],
]

/** Of the whole statement, or of the brackets they stand in. */
const whole: readonly (readonly [Reservation, RegExp])[] = [
  [
    'of-a-relative',
    /\b(?:mother|father|brother|sister|sibling|parent|grand(?:mother|father|parent)|uncle|aunt|cousin|son|daughter|first-degree relative)(?:s|'s)?\b|\bfamily (?:history|hx)\b|\bfhx?\b/g,
  ],
  [
    'earlier',
    /\b(?:in|since|of|excised|removed|resected) (?:[a-z]{3,9} )?(?:19|20)\d\d\b(?! (?:who|classification))|\b(?:years?|months?|weeks?) (?:ago|earlier)\b|\bat that time\b|\blast year\b|\bmedical history\b/g,
  ],
  ['doubtful', /\bversus\b|\bvs\b|\bdifferential diagnosis\b/g],
]

// A denial or doubt ends where the statement turns, comes to what it is about, or begins to count.
const turn =
  /\b(?:but|however|although|though|except|in|within|now|current(?:ly)?|present(?:ly)? (?:tissue|biopsy|specimen|polyp)|today|this time)\b|[:)]|(?:,|\band) (?:an?|one|two|three|four|five|six|\d{1,2}|fragments? of)\b/g
const comma = /[,:)]|\b(?:but|now)\b/g

/**
 * What a statement says with reserve, and from where to where. A denial, doubt or plan reaches forward to the next turn; "not identified"
 * and its like reach back to a comma; what tells of relatives or of another year covers all of the statement or its brackets.
 */
export function reservationsIn(statement: string): Named<Reservation>[] {
  const turns = named(statement, turn, 'turn')
  const commas = named(statement, comma, 'comma')
  const next = (marks: readonly Named<string>[], from: number) =>
    marks.find((mark) => mark.from >= from)?.from ?? statement.length
  const found: Named<Reservation>[] = []
  for (const [what, pattern] of forward)
    for (const { to } of named(statement, pattern, what)) found.push({ what, from: to, to: next(turns, to) })
  for (const { to } of named(statement, nearPast, 'earlier'))
    found.push({ what: 'earlier', from: to, to: next(commas, to) })
  for (const [what, pattern] of backward)
    for (const { from } of named(statement, pattern, what))
      found.push({ what, from: backTo(statement, from), to: from })
  for (const [what, pattern] of whole)
    for (const { from } of named(statement, pattern, what))
      found.push({ what, ...around(statement, from, what === 'earlier') })
  return found
}

/** Why the thing at this place is reserved; the first reason of the list where there are several. */
export function reservationOf(
  place: Named<unknown>,
  reservations: readonly Named<Reservation>[],
): Reservation | undefined {
  const covering = reservations.filter(({ from, to }) => place.from >= from && place.to <= to)
  const order: readonly Reservation[] = ['of-a-relative', 'earlier', 'planned', 'doubtful', 'denied']
  return order.find((reason) => covering.some(({ what }) => what === reason))
}

/** "Adenoma, dysplasia and malignancy are not identified": a list that opens with a bare word, so no diagnosis followed by a denial. */
const bareList = /^(?:adenoma|dysplasia|malignancy|carcinoma)s?(?:, [a-z -]{3,30}){1,4},? (?:and|or) /

/** A statement of two clauses: what denies at its end denies its last clause. */
function backTo(statement: string, from: number): number {
  const before = statement.slice(0, from).replace(/(?:[:,-]| but)? ?$/, '')
  if (bareList.test(before)) return 0
  const part = before.search(/ with (?:an? |the )?(?:stalk|margins?|base|muscularis|submucosa|invasion)\b[^,]*$/)
  return Math.max(before.lastIndexOf(','), before.lastIndexOf(' but '), before.lastIndexOf('('), part, -1) + 1
}

/** The brackets that the place stands in, else the statement; what is told of the past ends where the present begins. */
function around(statement: string, from: number, isPast: boolean): { from: number; to: number } {
  const open = statement.lastIndexOf('(', from)
  const close = open < 0 ? -1 : statement.indexOf(')', open)
  if (close > from) return { from: open, to: close }
  const present = isPast ? statement.slice(from).search(/\b(?:now|currently|today|this time|the present)\b/) : -1
  return { from: 0, to: present < 0 ? statement.length : from + present }
}
