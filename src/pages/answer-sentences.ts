import type { MeasureDefinition } from '../measures/measure.ts'
import { absentInWords } from '../report/apart-in-words.ts'
import type { GroupResult } from '../tally/result.ts'
import { number, range, rate } from './wording.ts'

/** The answer in one plain sentence, and what may be said of it against the standard. */
export interface AnswerSentences {
  readonly answer: string
  readonly against?: string
}

export function answerSentences(measure: MeasureDefinition, whole: GroupResult): AnswerSentences {
  if (whole.score === undefined)
    return { answer: `There is no rate to read. ${absentInWords[whole.absentBecause ?? 'nothing-settled']}` }
  const spread = whole.interval ? ` (95\u00a0% interval ${range(measure, whole.interval)})` : ''
  const standing = against(measure, whole)
  if (whole.readBounds && whole.bounds) {
    const answer = `The rate lies somewhere from ${range(measure, whole.bounds)}. ${counts(measure, whole)}, but too much is not recorded to read a single figure.`
    return { answer, ...(standing !== undefined && { against: standing }) }
  }
  return {
    answer: `${counts(measure, whole)}: ${rate(measure, whole.score)}${spread}.`,
    ...(standing !== undefined && { against: standing }),
  }
}

function counts({ scoring, scoreUnit, eventWindowDays }: MeasureDefinition, { settled }: GroupResult): string {
  const all = settled.met + settled.notMet
  const examinations = `${number.format(all)} ${all === 1 ? 'examination' : 'examinations'}`
  if (scoring === 'proportion') {
    const outcome = eventWindowDays === undefined ? 'met the measure' : `were followed by the recorded event`
    return `${number.format(settled.met)} of ${examinations} ${outcome}`
  }
  if (scoring === 'ratio') return `${number.format(settled.valueSum ?? 0)} found in ${examinations}`
  return `The mean over ${examinations}${scoreUnit === 'min' ? ' with a recorded time' : ''}`
}

/** Where the interval lies against the minimum; said of the interval, never of the bare rate. */
function against(measure: MeasureDefinition, { interval, readBounds, bounds }: GroupResult): string | undefined {
  const minimum = measure.standard?.minimum
  if (minimum === undefined) return undefined
  const ends = readBounds ? bounds : interval
  if (!ends) return undefined
  const subject = readBounds ? 'bounds' : 'interval'
  const line = `the ${minimumName(measure)} of ${rate(measure, minimum)}`
  if (ends.lower > minimum) return `The whole ${subject} ${verb(readBounds, 'lie')} above ${line}.`
  if (ends.upper < minimum) return `The whole ${subject} ${verb(readBounds, 'lie')} below ${line}.`
  return `The ${subject} ${verb(readBounds, 'include')} ${line}: these numbers do not say on which side the rate lies.`
}

const verb = (plural: boolean, stem: string): string => (plural ? stem : `${stem}s`)

/** What the standard's first line is called: a floor where more is better, a ceiling where less is. */
export const minimumName = ({ improvement }: MeasureDefinition): string =>
  improvement === 'increase' ? 'minimum standard' : 'highest acceptable'
