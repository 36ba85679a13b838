import type { Named } from './named.ts'

const amount = '\\d{1,3}(?:\\.\\d{1,2})?'
const measure = new RegExp(
  `(?<![\\d.])(${amount}(?: ?(?:mm|cm))?(?: ?(?:x|by|-|to) ?${amount}(?: ?(?:mm|cm))?){0,2}) ?(?<= |\\d|m)(mm|cm|millimet(?:er|re)s?|centimet(?:er|re)s?)\\b`,
  'g',
)
const bound =
  /(?:[<>≤≥] ?|\b(?:less|more|smaller|larger|greater|fewer) than |\b(?:under|over|below|above|up to|at least|at|within|from) (?:about |approximately )?)$/
const elsewhere = /\b(?:margins?|clearance|depth|invasion|distance|verge|deep|thick(?:ness)?)\b[^,(]{0,25}$/
const awayFrom =
  /^,? ?(?:from|to (?:the )?(?:nearest|deep|margin)|above|below|proximal|distal|away|ab ano|of (?:the )?margin|clear)/
/** Beyond this, in millimetres, a length in a report about a polyp is a distance from the anus. */
const largest = 150

/**
 * Diameters that a statement gives, in millimetres, the largest of "12 x 8 mm". A bound ("<5 mm"), a depth or a distance ("at 12 cm",
 * "2 mm from the margin") is none; a bare length of 10 cm or more is taken for a distance.
 */
export function sizesIn(statement: string): Named<number>[] {
  const found: Named<number>[] = []
  for (const match of statement.matchAll(measure)) {
    const [whole, amounts = '', unit = ''] = match
    const before = statement.slice(Math.max(0, match.index - 60), match.index)
    const after = statement.slice(match.index + whole.length, match.index + whole.length + 30)
    if (bound.test(before) || elsewhere.test(before) || awayFrom.test(after)) continue
    const factor = unit.startsWith('c') ? 10 : 1
    const what = Math.max(...Array.from(amounts.matchAll(/\d+(?:\.\d+)?/g), ([said]) => Number(said))) * factor
    if (what > 0 && what <= largest && !(factor === 10 && what >= 100))
      found.push({ what: Math.round(what * 1000) / 1000, from: match.index, to: match.index + whole.length })
  }
  return found
}
