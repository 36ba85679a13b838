import type { WiringGuide } from '../wiring/guide/guide.ts'
import { GuideChapter } from './guide-chapter.tsx'
import { ExampleDetails, Json } from './guide-example.tsx'
import { GuideField } from './guide-field.tsx'
import { CodeListTable } from './guide-lists.tsx'

/** The wiring guide for people: what to send so that every fact is filled. */
export function GuidePage({ guide }: { guide: WiringGuide }) {
  const { chapters, base, groups, examples, lists } = guide
  const ofBase = examples.find(({ id }) => id === 'base')
  return (
    <div class="guide">
      <section class="answer">
        <h1>Wiring guide</h1>
        <p class="scope">
          What to send so that every fact of a colonoscopy is filled. The same as JSON: this address, asked for
          application/json.
        </p>
      </section>
      <nav class="contents" aria-label="Contents">
        <h2>Contents</h2>
        <ul>
          {chapters.map(({ id, title }) => (
            <li>
              <a href={`#${id}`}>{title}</a>
            </li>
          ))}
          <li>
            <a href="#example-base">The example</a>
          </li>
          {groups.map(({ name, fields }) => (
            <li>
              <a href={`#${anchorOf(name)}`}>{name}</a>
              <span class="facts-of">
                {fields.map(({ field }) => (
                  <a href={`#${field}`}>{field}</a>
                ))}
              </span>
            </li>
          ))}
          <li>
            <a href="#code-lists">Code lists</a>
          </li>
        </ul>
      </nav>
      {chapters.map((chapter) => (
        <GuideChapter chapter={chapter} />
      ))}
      <section aria-labelledby="example-base">
        <h2 id="example-base">The example</h2>
        <p>
          An invented patient of an invented hospital, with one colonoscopy and its final report. Every example below
          stands beside these resources and this source.
        </p>
        <Json caption="Source, an element of SOURCES" value={base.source} />
        {base.resources.map((resource) => (
          <Json value={resource} />
        ))}
        {ofBase ? <Json caption="What the record then says" value={ofBase.gives} /> : null}
      </section>
      {groups.map(({ name, fields }) => (
        <section aria-labelledby={anchorOf(name)}>
          <h2 id={anchorOf(name)}>{name}</h2>
          {fields.map((entry) => (
            <GuideField entry={entry}>
              <ExampleDetails example={examples.find(({ id }) => id === entry.example)} field={entry.field} />
            </GuideField>
          ))}
        </section>
      ))}
      <section aria-labelledby="code-lists">
        <h2 id="code-lists">Code lists</h2>
        {lists.map((list) => (
          <CodeListTable list={list} />
        ))}
      </section>
    </div>
  )
}

const anchorOf = (group: string): string => `group-${group.toLowerCase().replace(/[^a-z]+/g, '-')}`
