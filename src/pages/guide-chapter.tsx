import type { Chapter } from '../wiring/guide/chapters.ts'
import { Json } from './guide-example.tsx'

export function GuideChapter({ chapter: { id, title, sentences, terms, json } }: { chapter: Chapter }) {
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {sentences.map((sentence) => (
        <p>{sentence}</p>
      ))}
      {terms ? (
        <dl class="terms">
          {terms.map(({ term, text }) => (
            <div>
              <dt>{term}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
      ) : null}
      {json ? <Json caption={json.caption} value={json.value} /> : null}
    </section>
  )
}
