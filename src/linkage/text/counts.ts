const words = ['one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve']
const number = `(${words.join('|')}|single|pair of|\\d{1,2})`
const most = 50

// The number stands before the lesion, with at most three adjectives between; neither "two fragments of" nor "at least two" is a number of lesions.
const before = new RegExp(
  `(?:^|[ (])(?<!\\b(?:specimen|part|jar|pot|grade|level|block|type|stage|no\\.|at least|more than|over|about|up to|approximately) )${number}(?: ?\\(\\d{1,2}\\))?(?: (?:is|was) an?)?(?: (?!fragments?|pieces?|polyps?|biops|cores?|lymph|of\\b|and\\b|with\\b|cm\\b|mm\\b)[a-z-]{3,16}){0,3} $`,
)
const times = new RegExp(
  `^[^.;:]{0,30}?(?<!\\d ?|mm |cm )\\b(?:x|times) ?${number}\\b(?! ?(?:x|mm|cm|\\.\\d|fragment|piece|level))|^, ${number} in number`,
)
const bracketed = new RegExp(`^ ?\\((?:n ?= ?)?${number}(?: of (?:the )?\\d{1,2})?(?: polyps)?\\)`)
// A bare "both" may mean two fragments, so it counts only with the polyps beside it.
const ofPolyps = new RegExp(
  `(?<![a-z0-9])(${words.join('|')}|both|\\d{1,2}) (?:of (?:the )?(?:${words.join('|')}|\\d{1,2}) )?(?:[a-z-]+ )?polyps?,? (?:are|is|were|was|show|represent|prove|all|both)`,
)
const polypsOf = new RegExp(`(?<![a-z0-9])${number} (?:[a-z-]{3,16} )?polyp(?:s|ectom(?:y|ies))?\\b`)
const polypsTimes = new RegExp(
  `\\bpolyp(?:s|ectom(?:y|ies))?,? ?(?:\\((?:x ?)?${number}\\)|x ?${number}\\b(?! ?(?:mm|cm|\\.\\d)))`,
)

/**
 * How many lesions a statement says there are of the diagnosis that stands between two places.
 *
 * @param gapBefore text before the diagnosis, from the end of the one before it
 * @param gapAfter text behind it, up to the next one
 */
export function countBeside(gapBefore: string, gapAfter: string): number | undefined {
  const behind = times.exec(gapAfter)
  const said = before.exec(gapBefore.slice(-80))?.[1] ?? behind?.[1] ?? behind?.[2] ?? bracketed.exec(gapAfter)?.[1]
  return said === undefined ? undefined : numberOf(said)
}

/** "All three polyps are", "two of 4 polyps show": how many a statement says its diagnosis holds for. */
export function countOfPolyps(gapBefore: string): number | undefined {
  const said = ofPolyps.exec(gapBefore)?.[1]
  return said === undefined ? undefined : numberOf(said)
}

/** How many polyps a heading speaks of ("Polyps x 3", "two polyps", "polypectomies (2)"). */
export function polypsInHeading(heading: string): number | undefined {
  const match = polypsTimes.exec(heading)
  const said = match?.[1] ?? match?.[2] ?? polypsOf.exec(heading)?.[1]
  return said === undefined ? undefined : numberOf(said)
}

function numberOf(said: string): number | undefined {
  if (said === 'single') return 1
  if (said === 'both' || said === 'pair of') return 2
  const value = /\d/.test(said) ? Number(said) : words.indexOf(said) + 1
  return value >= 1 && value <= most ? value : undefined
}
