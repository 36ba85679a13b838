import type { FeedLine, SourceWiring } from '../wiring/report.ts'
import { Frame, HeadRow } from './wiring-tables.tsx'

/** Changes shown of each kind; the whole list is in the JSON. */
const mostChanges = 4

/** What each feed shows, what is proposed, and what the other declaration would change. */
export function FeedTable({ source: { source, feeds } }: { source: SourceWiring }) {
  return (
    <Frame id={`feeds-${source}`} caption="Is absence a fact? What is declared, and what it changes">
      <HeadRow columns={['Kind', 'Declared', 'Seen in', 'Proposal', 'What would change', 'What to do']} />
      <tbody>
        {feeds.map((feed) => (
          <tr>
            <th scope="row" class="who">
              {feed.kind}
            </th>
            <td>{feed.declared ? 'complete' : 'no'}</td>
            <td>
              {feed.seenIn} of {feed.examinations}
            </td>
            <td class="text">{feed.proposal}</td>
            <td class="text">
              <Changes feed={feed} />
            </td>
            <td class="text">{feed.toDo}</td>
          </tr>
        ))}
      </tbody>
    </Frame>
  )
}

function Changes({ feed: { declared, factsThatChange, answersThatChange } }: { feed: FeedLine }) {
  if (factsThatChange.length === 0 && answersThatChange.length === 0) return <span class="quiet">Nothing.</span>
  const facts = factsThatChange.slice(0, mostChanges)
  const answers = answersThatChange.slice(0, mostChanges)
  return (
    <>
      <span class="way quiet">{declared ? 'Were it withdrawn:' : 'Were it declared:'}</span>
      {facts.map(({ field, gained, lost, changed }) => (
        <span class="way">
          {field}:{' '}
          {[
            gained > 0 ? `${gained} recorded` : '',
            lost > 0 ? `${lost} no longer recorded` : '',
            changed > 0 ? `${changed} with another value` : '',
          ]
            .filter(Boolean)
            .join(', ')}
        </span>
      ))}
      {answers.map(({ change, examinations }) => (
        <span class="way">
          {change}: {examinations}
        </span>
      ))}
      {factsThatChange.length > mostChanges || answersThatChange.length > mostChanges ? (
        <span class="way quiet">and more, in the JSON</span>
      ) : null}
    </>
  )
}
