import { readFileSync } from 'node:fs'
import type { Source } from '../../src/config.ts'
import { Codes } from '../../src/fhir/codes.ts'
import { civilDate, readMoment } from '../../src/fhir/dates.ts'
import type { Colonoscopy } from '../../src/linkage/colonoscopy.ts'
import { feedKinds } from '../../src/linkage/fields.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { compileMeasure } from '../../src/measures/compiled-measure.ts'
import type { Definitions } from '../../src/measures/definitions.ts'
import type { Answer } from '../../src/tally/answer.ts'
import { type AnswerRow, answerRow } from '../../src/tally/answer-row.ts'
import type { MeasureResult } from '../../src/tally/result.ts'
import { tally } from '../../src/tally/tally.ts'

export const definitions = JSON.parse(readFileSync('build/definitions.json', 'utf8')) as Definitions
const measures = definitions.measures.map(compileMeasure)

/** The invented unit of the stories: it feeds every kind of fact completely. */
export const northmoor: Source = {
  id: 'northmoor',
  baseUrl: 'https://fhir.northmoor.example/fhir',
  zone: 'Europe/London',
  units: [],
  completeFeeds: [...feedKinds],
  pathologyLagDays: 60,
  eventLagDays: 0,
  eventsKnownBy: 'own-hospital',
  conceptMaps: [],
}

export interface Asked {
  readonly records: Colonoscopy[]
  readonly rows: AnswerRow[]
  readonly leftOut: readonly { reference: string; reason: string }[]
  /** Answer of the only examination to a measure. */
  answer(measure: string): Answer
  report(measure: string, period: { start: string; end: string }): Omit<MeasureResult, 'leftOut' | 'incomplete'>
}

/** Sends a story's resources through linkage and every measure, as of a civil date or an instant. */
export function ask(resources: readonly unknown[], asOf = '2027-01-01', source: Source = northmoor): Asked {
  const moment = readMoment(asOf, source.zone)
  const instant = moment?.instant ?? Date.parse(`${asOf}T20:00:00Z`)
  const linked = linkWindow(resources, {
    source,
    codes: new Codes(definitions.resources, source.conceptMaps),
    window: { start: '2020-01-01', end: '2030-12-31' },
    asOf: instant,
  })
  const rows = linked.colonoscopies.map((one) => answerRow(one, measures, source, instant))
  const indexOf = (id: string) => {
    const index = definitions.measures.findIndex((measure) => measure.id === id)
    if (index < 0) throw new Error(`no measure ${id}`)
    return index
  }
  return {
    records: linked.colonoscopies.map(({ record }) => record),
    rows,
    leftOut: linked.leftOut,
    answer(id) {
      const [row, ...more] = rows
      const answer = row?.answers[indexOf(id)]
      if (answer === undefined || more.length > 0) throw new Error(`one examination expected, ${rows.length} linked`)
      return answer
    },
    report(id, period) {
      const index = indexOf(id)
      const measure = definitions.measures[index]
      if (measure === undefined) throw new Error(`no measure ${id}`)
      return tally(
        { measure, index, period, asOf: new Date(instant).toISOString(), asOfDate: civilDate(instant, source.zone) },
        rows,
        [source],
      )
    },
  }
}
