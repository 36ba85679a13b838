import type { MeasureDefinition } from '../measures/measure.ts'
import type { MeasureResult } from '../tally/result.ts'
import { answerSentences } from './answer-sentences.ts'
import { ApartList } from './apart-list.tsx'
import { CaseList } from './case-list.tsx'
import { type ChartLayout, chartLayout } from './chart-layout.ts'
import { Facts } from './facts.tsx'
import { HowCounted } from './how-counted.tsx'
import { Notices } from './notices.tsx'
import { RateChart } from './rate-chart.tsx'
import { RateTable } from './rate-table.tsx'
import { rowsOf } from './rows.ts'
import { dateInWords, periodInWords, rate } from './wording.ts'

/** One measure's answer: the sentence, the chart, how to read it, the table, what stands apart. */
export function AnswerPage({ result }: { result: MeasureResult }) {
  const { measure, period, whole, settledThrough } = result
  const rows = rowsOf(result)
  const layout = chartLayout(rows, measure)
  const { answer, against } = answerSentences(measure, whole)
  const place = result.scope.unit ? result.scope.unit.name : 'All units together'
  return (
    <>
      <header class="answer">
        <h1>{measure.title}</h1>
        <p class="scope">
          {place}, {periodInWords(period)}
          {settledThrough !== undefined && settledThrough < period.end
            ? `; rates cover the days through ${dateInWords(settledThrough)}`
            : ''}
        </p>
        <p class="sentence">{answer}</p>
        {against === undefined ? null : <p class="against">{against}</p>}
        <Notices result={result} />
      </header>
      <div class="side-by-side">
        {measure.scoring === 'cohort' ? (
          <CaseList result={result} />
        ) : (
          <figure>
            {layout ? (
              <RateChart layout={layout} measure={measure} />
            ) : (
              <p class="no-chart">No row has a rate to draw yet.</p>
            )}
            <figcaption>
              {layout ? keyInWords(layout, measure) : null} Rows are ordered by examinations counted, never ranked by
              rate: with few examinations, rank is mostly chance.
            </figcaption>
          </figure>
        )}
        <section aria-labelledby="reading">
          <h2 id="reading">How to read it</h2>
          <Facts result={result} rows={rows} />
        </section>
      </div>
      <RateTable rows={rows} measure={measure} caption="The same figures, and what stands apart from them" />
      <p class="quiet note">
        Practitioners appear by their configured keys, never by name. This page is for the unit’s own office: where
        figures leave it, small counts must be hidden and peers made pseudonyms.
      </p>
      <section aria-labelledby="apart">
        <h2 id="apart">Apart from the rate</h2>
        <ApartList result={result} />
      </section>
      <HowCounted measure={measure} />
    </>
  )
}

/** What the marks mean; only those that are drawn. */
function keyInWords({ rows, scale }: ChartLayout, measure: MeasureDefinition): string {
  const marks = rows.map(({ mark }) => mark)
  const bars = marks.flatMap((mark) => (mark.kind === 'rate' && mark.interval ? [mark.interval] : []))
  return [
    'Dot: rate of a person or unit. Diamond: rate of the whole. Bar: 95\u00a0% interval.',
    ...(bars.some(({ beyondLow, beyondHigh }) => beyondLow || beyondHigh)
      ? ['Arrow: the interval of a small group runs on beyond the scale.']
      : []),
    ...(marks.some(({ kind }) => kind === 'bounds')
      ? ['Broken outline: bounds, where too much is not recorded for a rate.']
      : []),
    ...(scale.lowest > 0 ? [`The scale starts at ${rate(measure, scale.lowest)}, not at 0.`] : []),
  ].join(' ')
}
