import type { SourceWiring } from '../wiring/report.ts'

interface Finding {
  readonly count: number
  readonly words: string
  /** Id of the table that tells more, without the source's id. */
  readonly table: string
}

/** What of the report asks for a look, counted, each a way to its table; what is not there is not said. */
export function WiringSummary({ source }: { source: SourceWiring }) {
  const found = findingsIn(source).filter(({ count }) => count > 0)
  if (found.length === 0) return <p>Nothing asks for a look.</p>
  return (
    <ul class="looks">
      {found.map(({ count, words, table }) => (
        <li>
          <a href={`#${table}-${source.source}`}>
            <strong>{count}</strong> {words}
          </a>
        </li>
      ))}
    </ul>
  )
}

function findingsIn({
  fields,
  feeds,
  unmatched,
  leftOut,
  deadEnds,
  malformed,
  contradictions,
  doubts,
}: SourceWiring): Finding[] {
  const sum = (lines: readonly { readonly count: number }[]) => lines.reduce((total, { count }) => total + count, 0)
  return [
    {
      count: fields.filter(({ recorded, of }) => of > 0 && recorded === 0).length,
      words: 'facts never recorded',
      table: 'fields',
    },
    {
      count: fields.reduce((total, { unreadable }) => total + unreadable, 0),
      words: 'values that cannot be read',
      table: 'fields',
    },
    {
      count: feeds.filter(({ proposal }) => proposal === 'declare' || proposal === 'withdraw').length,
      words: 'declarations to think over',
      table: 'feeds',
    },
    { count: unmatched.length, words: 'codes and texts that matched nothing', table: 'unmatched' },
    { count: sum(leftOut), words: 'records left out', table: 'leftOut' },
    { count: sum(deadEnds), words: 'references that led nowhere', table: 'deadEnds' },
    { count: sum(malformed), words: 'elements that cannot be read', table: 'malformed' },
    { count: sum(contradictions), words: 'contradictions', table: 'contradictions' },
    { count: sum(doubts), words: 'things to be looked at', table: 'doubts' },
  ]
}
