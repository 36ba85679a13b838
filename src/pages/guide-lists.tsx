import type { CodeList, GuideCode } from '../wiring/guide/code-lists.ts'
import { Frame, HeadRow } from './wiring-tables.tsx'

interface Column {
  readonly name: string
  readonly value: (code: GuideCode) => string | undefined
}

const columns: readonly Column[] = [
  { name: 'Display', value: ({ display }) => display },
  { name: 'Definition', value: ({ definition }) => definition },
  { name: 'Means', value: ({ means }) => means },
  { name: 'Known from', value: ({ source }) => source },
]

/** A published list, whole, system by system. A display is shown for people: it decides nothing. */
export function CodeListTable({ list: { id, title, url, description, codes } }: { list: CodeList }) {
  const filled = columns.filter(({ value }) => codes.some((code) => value(code) !== undefined))
  return (
    <section class="list" id={id}>
      <Frame id={`caption-${id}`} caption={title}>
        <HeadRow columns={['Code', ...filled.map(({ name }) => name)]} />
        {[...Map.groupBy(codes, ({ system }) => system)].map(([system, ofSystem]) => (
          <tbody>
            <tr>
              <th scope="colgroup" colspan={filled.length + 1} class="who group">
                {system}
              </th>
            </tr>
            {ofSystem.map((code) => (
              <tr>
                <th scope="row" class="who">
                  {code.code}
                </th>
                {filled.map(({ value }) => (
                  <td class="text">{value(code)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        ))}
      </Frame>
      <p class="quiet note">
        {description} {url}
      </p>
    </section>
  )
}
