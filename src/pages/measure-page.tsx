import type { Extension } from 'fhir/r4'
import { structure } from '../fhir/canonical.ts'
import { fieldsOf } from '../measures/fields-of.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import { fields } from '../record/fields.ts'
import { attributionInWords, dividedInWords, standardsInWords } from '../report/in-words.ts'
import { dateInWords, number } from './wording.ts'

/** How complete the facts of a measure are, or why that could not be read. */
export type Filled =
  | {
      readonly period: { readonly start: string; readonly end: string }
      readonly examinations: number
      readonly fields: readonly { readonly field: string; readonly recorded: number; readonly of: number }[]
    }
  | { readonly problem: string }

/** One measure in plain words, all of it made from its published JSON. */
export function MeasurePage({ measure, filled }: { measure: MeasureDefinition; filled: Filled }) {
  const { resource, id } = measure
  return (
    <div class="guide">
      <section class="answer">
        <h1>{measure.title}</h1>
        <p class="scope">{resource.description}</p>
        <p>
          <a href={`/?measure=${id}`}>Ask this measure</a>, or <a href={`/fhir/Measure/${id}`}>read it as FHIR</a>.
        </p>
      </section>
      <Section id="why" title="Why it is asked">
        {resource.rationale ? <p>{resource.rationale}</p> : null}
        {standardsInWords(measure).map((sentence) => (
          <p>{sentence}</p>
        ))}
        <ul>
          {(resource.relatedArtifact ?? []).map(({ citation, url }) => (
            <li>
              {citation} {url?.startsWith('https://') ? <a href={url}>{url.replace('https://', '')}</a> : null}
            </li>
          ))}
        </ul>
      </Section>
      <Section id="who" title="Who is in, and who is out">
        <Populations measure={measure} />
        <p>{attributionInWords(measure)}</p>
        <p>{settlingInWords(measure)}</p>
        <p>Divided by: {dividedInWords(measure)}.</p>
      </Section>
      <Choices measure={measure} />
      <Section id="facts" title="Facts it needs">
        <Facts measure={measure} filled={filled} />
      </Section>
      <Section id="care" title="Read with care">
        <p>{resource.disclaimer}</p>
        <p class="quiet">
          {measure.url}, version {measure.version}
        </p>
      </Section>
    </div>
  )
}

function Section({ id, title, children }: { id: string; title: string; children?: unknown }) {
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {children}
    </section>
  )
}

function Populations({ measure: { resource, besides } }: { measure: MeasureDefinition }) {
  const populations = resource.group?.flatMap(({ population }) => population ?? []) ?? []
  return (
    <dl class="populations">
      {populations.map(({ code, description, criteria }) => (
        <div>
          <dt>{code?.coding?.[0]?.display ?? code?.text ?? 'Population'}</dt>
          <dd>
            {description}
            {criteria.expression ? <code>{criteria.expression}</code> : null}
          </dd>
        </div>
      ))}
      {besides.map(({ description, criterion }) => (
        <div>
          <dt>Counted beside</dt>
          <dd>
            {description}
            <code>{criterion.expression}</code>
          </dd>
        </div>
      ))}
    </dl>
  )
}

/** What the guideline leaves open, how it is decided here, and where it is decided otherwise. */
function Choices({ measure: { resource } }: { measure: MeasureDefinition }) {
  const choices = (resource.extension ?? []).filter(({ url }) => url === structure('measure-choice'))
  if (choices.length === 0) return null
  return (
    <Section id="choices" title="Choices made">
      <dl class="populations">
        {choices.map((choice) => {
          const alternative = partOf(choice, 'alternative')?.valueCanonical?.split('/').at(-1)
          return (
            <div>
              <dt>{partOf(choice, 'question')?.valueString}</dt>
              <dd>
                {partOf(choice, 'decision')?.valueString}{' '}
                <span class="quiet">{partOf(choice, 'source')?.valueString}</span>
                {alternative ? (
                  <small>
                    Decided otherwise: <a href={`/measures/${alternative}`}>{alternative}</a>
                  </small>
                ) : null}
              </dd>
            </div>
          )
        })}
      </dl>
    </Section>
  )
}

const partOf = ({ extension }: Extension, name: string): Extension | undefined =>
  extension?.find(({ url }) => url === name)

/** Every fact that the criteria read, what it means, and how often it is recorded. */
function Facts({ measure, filled }: { measure: MeasureDefinition; filled: Filled }) {
  const counts = 'problem' in filled ? new Map() : new Map(filled.fields.map((one) => [one.field, one]))
  return (
    <>
      <p>
        {'problem' in filled
          ? `How complete they are could not be read. ${filled.problem}`
          : `Recorded in the ${number.format(filled.examinations)} examinations from ${dateInWords(filled.period.start)} to ${dateInWords(filled.period.end)}.`}
      </p>
      <section class="frame wiring" tabindex={0} aria-label="Facts it needs">
        <table>
          <thead>
            <tr>
              <th scope="col" class="who">
                Fact
              </th>
              <th scope="col">Recorded</th>
              <th scope="col">Meaning</th>
            </tr>
          </thead>
          <tbody>
            {fieldsOf(measure).map((field) => (
              <tr>
                <th scope="row" class="who">
                  <a href={`/wiring/guide#${field}`}>{field}</a>
                </th>
                <td>{recordedInWords(counts.get(field))}</td>
                <td class="text">{meaningOf(field)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  )
}

const recordedInWords = (count: { recorded: number; of: number } | undefined): string =>
  count === undefined || count.of === 0
    ? '–'
    : `${number.format(count.recorded)} of ${number.format(count.of)}, ${((100 * count.recorded) / count.of).toFixed(0)} %`

function meaningOf(field: string): string {
  const [name = '', part] = field.split('.')
  const whole = fields[name as keyof typeof fields]
  if (part === undefined || !('of' in whole)) return whole.short
  return (whole.of as Readonly<Record<string, { readonly short: string }>>)[part]?.short ?? whole.short
}

function settlingInWords({ waitsForHistology, eventWindowDays, needs }: MeasureDefinition): string {
  const waits = [
    ...(waitsForHistology ? ['until histology has come, or the source’s lag has passed'] : []),
    ...(eventWindowDays === undefined
      ? []
      : [`until ${eventWindowDays} days and the source’s lag have passed, the last day included`]),
  ]
  const waiting = waits.length === 0 ? 'An examination is settled at once.' : `It waits ${waits.join('; and ')}.`
  return needs.length === 0
    ? waiting
    : `${waiting} A source that does not send these makes it not available: ${needs.join(', ')}.`
}
