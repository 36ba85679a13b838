import type { FieldLine, SourceWiring } from '../wiring/report.ts'
import { Frame, HeadRow, References } from './wiring-tables.tsx'

/** Every fact of the record: how often it is there, by which ways it came, and what to do where it is not. */
export function FieldTable({ source: { source, fields } }: { source: SourceWiring }) {
  const groups = [...Map.groupBy(fields, ({ group }) => group)]
  return (
    <Frame id={`fields-${source}`} caption="Facts of the record">
      <HeadRow columns={['Fact', 'Recorded', 'Cannot be read', 'By which ways', 'What to do']} />
      {groups.map(([group, lines]) => (
        <tbody>
          <tr>
            <th scope="colgroup" colspan={5} class="who group">
              {group}
            </th>
          </tr>
          {lines.map((line) => (
            <FieldRow line={line} />
          ))}
        </tbody>
      ))}
    </Frame>
  )
}

function FieldRow({ line }: { line: FieldLine }) {
  const { field, recorded, of, share, unreadable, unreadableExamples, ways, toDo } = line
  return (
    <tr>
      <th scope="row" class="who">
        <a href={`/wiring/guide#${field}`}>{field}</a>
      </th>
      <td>
        {share === undefined ? '–' : <Share share={share} />}
        <span class="quiet">
          {' '}
          {recorded} of {of}
        </span>
      </td>
      <td class={unreadable === 0 ? 'zero' : undefined}>
        {unreadable}
        <References of={unreadableExamples} />
      </td>
      <td class="text">
        {ways.map(({ element, rung, count }) => (
          <span class="way">
            {count} {element}, {rung}
          </span>
        ))}
      </td>
      <td class="text">{toDo}</td>
    </tr>
  )
}

/** A share as a figure; the bar beside it only repeats it for the eye. */
function Share({ share }: { share: number }) {
  const percent = Math.round(share * 100)
  return (
    <strong>
      <span class="bar" style={`--share: ${percent}%`} aria-hidden="true" />
      {percent} %
    </strong>
  )
}
