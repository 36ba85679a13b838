import type { MeasureDefinition } from '../measures/measure.ts'
import { countsRareEvents } from '../measures/rare-events.ts'
import { absentInWords } from '../report/apart-in-words.ts'
import type { GroupResult } from '../tally/result.ts'
import { number, range, rate } from './wording.ts'

/** The answer in one plain sentence, and what may be said of it against the standard. */
export interface AnswerSentences {
  readonly answer: string
  readonly against?: string
}

export function answerSentences(measure: MeasureDefinition, whole: GroupResult): AnswerSentences {
  if (measure.scoring === 'cohort') return { answer: `${capital(examinationsInWords(whole.settled.met))} counted.` }
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

function counts(measure: MeasureDefinition, { settled }: GroupResult): string {
  const { scoring, scoreUnit, criteria, aggregate = 'mean' } = measure
  const all = settled.met + settled.notMet
  const examinations = examinationsInWords(all)
  if (scoring === 'proportion') {
    const outcome = countsRareEvents(measure) ? 'were followed by the recorded event' : 'met the measure'
    return `${number.format(settled.met)} of ${examinations} ${outcome}`
  }
  if (criteria.denominatorObservation)
    return `${number.format(settled.valueSum ?? 0)} of ${number.format(settled.overSum ?? 0)} in ${examinations}`
  if (scoring === 'ratio') return `${number.format(settled.valueSum ?? 0)} found in ${examinations}`
  return `The ${aggregate} over ${examinations}${scoreUnit === 'min' ? ' with a recorded time' : ''}`
}

const examinationsInWords = (count: number): string =>
  `${count === 0 ? 'no' : number.format(count)} ${count === 1 ? 'examination' : 'examinations'}`

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

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
  improvement === 'decrease' ? 'highest acceptable' : 'minimum standard'
