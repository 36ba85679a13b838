import { decodeEntities } from './html-text.ts'

/** Characters of a text that are read; a pathology report has a few thousand. The bound keeps any text's cost small. */
export const longestRead = 50_000

/** A line that ends in one of these goes on in the next. */
const openEnd =
  /(?:,|\b(?:of|for|or|and|with|without|no|not|the|an?|in|at|from|to|by|is|are|shows?|showing|negative|evidence|low|high|grade|tubular|villous|tubulovillous|serrated|sessile|traditional|hyperplastic|invasive|residual|focal|any|mild|moderate|severe|chronic|active|poorly|well|moderately|differentiated|malignant|adenomatous|inflammatory|normal|colonic|rectal))$/
/** A line that begins like this stands for itself: a bullet, a label, or a heading with its colon. */
const ownStart = /^(?:- |(?:[a-z]|\d{1,2})[.):] |[a-z][a-z ,/&-]{0,60}:)/
const wrapWidth = 58

/**
 * A text made even: lower case, entities read, layout codes and rulings gone, one blank between words, wrapped lines joined.
 *
 * @returns the text, and whether it was longer than `longestRead` and therefore cut
 */
export function tidyText(raw: string): { readonly text: string; readonly cut: boolean } {
  const even = decodeEntities(raw.slice(0, longestRead))
    .replace(/\|[A-Z]{1,12}\|/g, ' ')
    .replace(/\r\n?|[\u2028\u2029\f\v]/g, '\n')
    .replace(/[•·●▪]/g, '\n- ')
    .replace(/[‘’]/g, "'")
    .replace(/[‐‑–—−]/g, '-')
    .replace(/×/g, 'x')
    .replace(/[*_=#~"“”]+/g, ' ')
    .replace(/[^\S\n]+/g, ' ')
    .replace(/ ?\n ?/g, '\n')
    .replace(/\n+/g, '\n')
    .toLowerCase()
    .trim()
  return { text: joinWrapped(even), cut: raw.length > longestRead }
}

function joinWrapped(text: string): string {
  const lines: string[] = []
  let before = ''
  for (const line of text.split('\n')) {
    const goesOn = before !== '' && !ownStart.test(line) && (openEnd.test(before) || isWrapped(before))
    if (goesOn) lines.push(` ${line}`)
    else lines.push(lines.length === 0 ? line : `\n${line}`)
    before = line
  }
  return lines.join('')
}

/** Long enough to have met the edge of the page, and not at the end of a sentence. */
function isWrapped(line: string): boolean {
  return line.length >= wrapWidth && !/[.:;]$/.test(line)
}
