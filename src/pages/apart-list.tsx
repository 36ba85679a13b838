import { apartInWords } from '../report/apart-in-words.ts'
import { apartReasons, type MeasureResult } from '../tally/result.ts'
import { besideLetter } from './table-columns.ts'
import { number } from './wording.ts'

/** What is in none of the counts above, reason by reason, for the whole of the report. */
export function ApartList({ result }: { result: MeasureResult }) {
  const { measure } = result
  const { settled, apart, besides } = result.whole
  const lines: [count: number, words: string][] = [
    [settled.excluded, 'excluded by the measure'],
    [settled.excepted, 'excepted by the measure'],
    ...measure.besides.map(({ description }, place): [number, string] => [
      besides[place] ?? 0,
      `${besideLetter(place)}, counted beside: ${description}`,
    ]),
    [settled.itemsNotRecorded ?? 0, 'belong to it, but their outcome is not recorded'],
    [settled.itemsUndecided ?? 0, 'of which it is not recorded whether they belong to it'],
    ...apartReasons.map((reason): [number, string] => [apart[reason] ?? 0, apartInWords[reason]]),
    ...Object.entries(result.leftOut).map(([reason, count]): [number, string] => [count, `left out: ${reason}`]),
  ]
  const shown = lines.filter(([count]) => count > 0)
  if (shown.length === 0) return <p>Nothing: every examination that was read is in the rate.</p>
  return (
    <ul class="apart">
      {shown.map(([count, words]) => (
        <li>
          <span class="count">{number.format(count)}</span> <span>{words}</span>
        </li>
      ))}
    </ul>
  )
}
