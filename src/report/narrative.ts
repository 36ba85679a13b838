import type { Narrative } from 'fhir/r4'
import type { MeasureResult, Stratum } from '../tally/result.ts'
import { stratumWords } from './codes.ts'
import {
  apartLines,
  attributionInWords,
  besideLines,
  boundsInWords,
  caution,
  countsInWords,
  eventsInWords,
  leftOutLines,
  scopeInWords,
  scoreInWords,
  settledInWords,
  standardInWords,
} from './in-words.ts'

/** The report in plain words. Only XHTML of R4's Narrative rules (txt-1); all text is escaped. */
export function narrative(result: MeasureResult): Narrative {
  const { measure, whole, units, practitioners, unitNames, incomplete } = result
  const blocks = [
    `<h1>${escaped(measure.title)}</h1>`,
    paragraph(scopeInWords(result)),
    paragraph(scoreInWords(measure, whole)),
    ...boundsInWords(measure, whole).map(paragraph),
    paragraph(settledInWords(result)),
    list('Apart from these figures:', [...apartLines(whole), ...besideLines(measure, whole), ...leftOutLines(result)]),
    list('The source could not deliver everything:', incomplete),
    ...eventsInWords(result).map(paragraph),
    paragraph(standardInWords(measure)),
    paragraph(attributionInWords(measure)),
    table(result, stratumWords.unit, units, (key) => unitNames[key] ?? key, stratumWords['unit-unassigned']),
    table(result, stratumWords.practitioner, practitioners, (key) => key, stratumWords.unattributed),
    paragraph(caution),
  ]
  return { status: 'generated', div: `<div xmlns="http://www.w3.org/1999/xhtml">${blocks.join('')}</div>` }
}

/** Characters that XML 1.0 cannot carry at all, even as references. Source: XML 1.0, production 2 (Char). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to remove
const notXml = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g

/** Escapes text for XHTML content and attributes. */
export function escaped(text: string): string {
  return text
    .toWellFormed()
    .replace(notXml, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
}

const paragraph = (sentence: string): string => `<p>${escaped(sentence)}</p>`

function list(heading: string, lines: readonly string[]): string {
  if (lines.length === 0) return ''
  return `${paragraph(heading)}<ul>${lines.map((line) => `<li>${escaped(line)}</li>`).join('')}</ul>`
}

function table(
  { measure }: MeasureResult,
  heading: string,
  strata: readonly Stratum[],
  nameOf: (key: string) => string,
  withoutKey: string,
): string {
  if (strata.length === 0) return ''
  const rows = strata.map((stratum) => {
    const cells = [
      stratum.key === undefined ? withoutKey : nameOf(stratum.key),
      scoreInWords(measure, stratum),
      stratum.score === undefined ? countsInWords(measure, stratum) : '',
      [...boundsInWords(measure, stratum), ...apartLines(stratum)].join('; '),
    ]
    return `<tr>${cells.map((cell) => `<td>${escaped(cell)}</td>`).join('')}</tr>`
  })
  const head = [heading, 'Figure', 'Settled counts where no figure is given', 'Bounds, and what stands apart']
  return `<table><thead><tr>${head.map((cell) => `<th>${cell}</th>`).join('')}</tr></thead><tbody>${rows.join('')}</tbody></table>`
}
