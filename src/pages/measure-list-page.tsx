import type { MeasureDefinition } from '../measures/measure.ts'
import { standardsInWords } from '../report/in-words.ts'
import { measuresByTopic } from './topics.ts'

/** Indicators of the guidelines that no measure here answers, and why. */
const notCovered = [
  'US 2024 indicators of colonoscopy in inflammatory bowel disease: dysplasia surveillance, chromoendoscopy and targeted biopsies need findings of the mucosa that the record does not hold.',
]

/** Every measure by topic, each with its standard in one line. */
export function MeasureListPage({ measures }: { measures: readonly MeasureDefinition[] }) {
  const topics = measuresByTopic(measures)
  return (
    <div class="guide">
      <section class="answer">
        <h1>Measures</h1>
        <p class="scope">
          One measure per indicator and published standard: the same name means different things by guideline. A
          descriptive measure has no standard.
        </p>
      </section>
      <nav class="contents" aria-label="Contents">
        <h2>Contents</h2>
        <ul>
          {topics.map(([topic, listed]) => (
            <li>
              <a href={`#${anchorOf(topic)}`}>{topic}</a> <span class="quiet">{listed.length}</span>
            </li>
          ))}
          <li>
            <a href="#not-covered">Not covered</a>
          </li>
        </ul>
      </nav>
      {topics.map(([topic, listed]) => (
        <section aria-labelledby={anchorOf(topic)}>
          <h2 id={anchorOf(topic)}>{topic}</h2>
          <dl class="measures">
            {listed.map((measure) => (
              <div>
                <dt>
                  <a href={`/measures/${measure.id}`}>{measure.title}</a>
                </dt>
                <dd>
                  {measure.resource.description}
                  {standardsInWords(measure).map((sentence) => (
                    <small>{sentence}</small>
                  ))}
                </dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
      <section aria-labelledby="not-covered">
        <h2 id="not-covered">Not covered</h2>
        <ul>
          {notCovered.map((line) => (
            <li>{line}</li>
          ))}
        </ul>
      </section>
    </div>
  )
}

const anchorOf = (topic: string): string => `topic-${topic.toLowerCase().replace(/[^a-z]+/g, '-')}`
