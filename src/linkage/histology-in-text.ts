import { asObjects, asText, type Json } from '../fhir/json.ts'
import type { Examination } from './examinations.ts'
import { nothingOfOurs, type Remark } from './remark.ts'
import { plainText } from './text/plain-text.ts'
import { readPathologyText } from './text/read-pathology-text.ts'
import type { OpenInText, TextFinding } from './text/text-findings.ts'

/** More lesions than this in one statement is a slip of the pen. */
const mostOfOne = 50

/** What a report's free text says, and the element it stands in. */
export interface TextRemarks {
  readonly remarks: readonly Remark[]
  readonly element: string
  /** Specimens of which it says nothing that is read, and lesions that it doubts. */
  readonly unread: number
  /** More than one is said of some diagnosis, and not how many. */
  readonly isUncounted: boolean
}

/** Specimens of a report, and how many of them are of another organ. */
export interface Held {
  readonly pots: number
  readonly elsewhere: number
}

/**
 * Histology from the free text of a report: its conclusion, else the first attachment that says anything. One remark for each
 * lesion; a text that says no more than that there is no adenoma is one remark of class "other". A specimen that the text labels
 * and says nothing of is not spoken for by its neighbours.
 */
export function remarksInText(report: Json, held: Held, { trail }: Examination): TextRemarks | undefined {
  const read = (text: string | undefined, element: string): TextRemarks | undefined => {
    if (text === undefined) return undefined
    const { findings, unread, cut, open } = readPathologyText(text)
    if (cut) trail?.doubt('pathology text longer than is read', report)
    // Behind the cut the text may say something else than that there is nothing.
    if (unread || (cut && findings.length === 0)) return undefined
    return {
      remarks: findings.length === 0 ? [nothingOfOurs] : findings.flatMap(remarksOf),
      element,
      unread: (open === undefined ? 0 : unreadIn(open, held)) + (cut ? 1 : 0),
      isUncounted: open?.isUncounted === true,
    }
  }
  const concluded = read(asText(report.conclusion), 'DiagnosticReport.conclusion')
  if (concluded) return concluded
  for (const { data, contentType } of asObjects(report.presentedForm)) {
    const presented = read(plainText(data, contentType), 'DiagnosticReport.presentedForm')
    if (presented) return presented
  }
  return undefined
}

/** Specimens that no label speaks of are as silent as labels that say nothing; so is one that is told of another organ. */
function unreadIn({ labels, unreadLabels, labelsElsewhere, doubted }: OpenInText, { pots, elsewhere }: Held): number {
  if (labels === 0) return doubted
  return unreadLabels + Math.max(0, labelsElsewhere - elsewhere) + Math.max(0, pots - labels) + doubted
}

function remarksOf({ histology, villous, dysplasia, inRandomBiopsy, count = 1 }: TextFinding): Remark[] {
  const remark: Remark = {
    histology,
    villous,
    dysplasia,
    isGrade: histology === 'other' && dysplasia !== undefined,
    isRandomBiopsy: inRandomBiopsy === true,
  }
  return Array.from({ length: Math.min(Math.max(1, count), mostOfOne) }, () => remark)
}
