import { fewestPatientsForText, type SourceWiring, type WiringReport } from '../wiring/report.ts'
import { FeedTable } from './wiring-feeds.tsx'
import { FieldTable } from './wiring-fields.tsx'
import { WiringSummary } from './wiring-summary.tsx'
import { Frame, HeadRow, References } from './wiring-tables.tsx'

/** The wiring report for people: what fits, what does not, and what to do about each line. */
export function WiringPage({ report }: { report: WiringReport }) {
  const { periodStart, periodEnd, asOf, sources } = report
  return (
    <>
      <section class="answer">
        <h1>How the records fit</h1>
        <p class="scope">
          {periodStart} to {periodEnd}, read as of {asOf.slice(0, 10)}. <a href="/wiring/guide">The wiring guide</a>{' '}
          shows what fills each fact.
        </p>
      </section>
      {sources.map((source) => (
        <SourcePart source={source} />
      ))}
    </>
  )
}

function SourcePart({ source }: { source: SourceWiring }) {
  const { examinations, reasons, incomplete, notes } = source
  const several = reasons.shareWithSeveral === undefined ? undefined : percent(reasons.shareWithSeveral)
  return (
    <section aria-labelledby={`source-${source.source}`}>
      <h2 id={`source-${source.source}`}>Source {source.source}</h2>
      <p class="sentence">
        {examinations} examinations.{' '}
        {several === undefined
          ? 'No reason is stated that is known here.'
          : `${several} of those with a reason state more than one.`}
      </p>
      {[...incomplete, ...notes].map((sentence) => (
        <p class="notice">{sentence}</p>
      ))}
      <WiringSummary source={source} />
      <FieldTable source={source} />
      <FeedTable source={source} />
      <UnmatchedTable source={source} />
      <LineTable source={source} name="leftOut" caption="Records left out" what="Why" />
      <LineTable source={source} name="unlinked" caption="Records that belong to no examination" what="Kind" />
      <LineTable source={source} name="deadEnds" caption="References that led nowhere" what="Element" />
      <LineTable
        source={source}
        name="malformed"
        caption="Elements that cannot be read"
        what="Element, and what is wrong"
      />
      <LineTable source={source} name="contradictions" caption="Contradictions" what="What cannot both be so" />
      <LineTable source={source} name="doubts" caption="To be looked at" what="What" />
    </section>
  )
}

function UnmatchedTable({ source: { source, unmatched, textsWithheld } }: { source: SourceWiring }) {
  return (
    <Frame id={`unmatched-${source}`} caption="Codes and texts that matched nothing">
      <HeadRow columns={['Where it stood', 'Code', 'Times', 'Closest here', 'What to do']} />
      <tbody>
        {unmatched.map((line) => (
          <tr>
            <th scope="row" class="who">
              {line.where}
            </th>
            <td class="text">
              {line.code === undefined ? 'text alone' : `${line.system ?? 'no system'} | ${line.code}`}
              {line.words === undefined ? null : <span class="quiet"> {line.words}</span>}
            </td>
            <td>{line.count}</td>
            <td class="text">{line.closest ? `${line.closest.display} (${lastPart(line.closest.within)})` : '–'}</td>
            <td class="text">{line.toDo}</td>
          </tr>
        ))}
        {unmatched.length === 0 ? <Nothing columns={5} /> : null}
      </tbody>
      {textsWithheld > 0 ? (
        <tfoot>
          <tr>
            <td class="text" colspan={5}>
              {textsWithheld} texts, or codes that look like texts, of fewer than {fewestPatientsForText} patients each
              are counted and not shown: a rare text may be about its patient.
            </td>
          </tr>
        </tfoot>
      ) : null}
    </Frame>
  )
}

type LineList = 'leftOut' | 'unlinked' | 'deadEnds' | 'malformed' | 'contradictions' | 'doubts'

function LineTable({
  source,
  name,
  caption,
  what,
}: {
  source: SourceWiring
  name: LineList
  caption: string
  what: string
}) {
  const lines = source[name]
  return (
    <Frame id={`${name}-${source.source}`} caption={caption}>
      <HeadRow columns={[what, 'Times', 'For example', 'What to do']} />
      <tbody>
        {lines.map((line) => (
          <tr>
            <th scope="row" class="who">
              {line.what}
            </th>
            <td>{line.count}</td>
            <td class="text">
              <References of={line.examples} />
            </td>
            <td class="text">{line.toDo}</td>
          </tr>
        ))}
        {lines.length === 0 ? <Nothing columns={4} /> : null}
      </tbody>
    </Frame>
  )
}

const Nothing = ({ columns }: { columns: number }) => (
  <tr>
    <td class="text quiet" colspan={columns}>
      None.
    </td>
  </tr>
)

const lastPart = (url: string): string => url.slice(url.lastIndexOf('/') + 1)

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`
