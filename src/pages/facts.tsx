import type { Measure } from 'fhir/r4'
import { attributionInWords, eventsInWords, standardInWords } from '../report/in-words.ts'
import { spreadOf } from '../statistics/spread.ts'
import type { MeasureResult } from '../tally/result.ts'
import { counted, type Row } from './rows.ts'
import { dateInWords, instantInWords, number, unbroken } from './wording.ts'

/** How the figures are to be read: through when, as of when, against which standard, by which method. */
export function Facts({ result, rows }: { result: MeasureResult; rows: readonly Row[] }) {
  const { measure, settledThrough, period, asOf, whole } = result
  const volumes = rows.filter(({ kind }) => kind === 'practitioner').map(({ group }) => counted(group))
  return (
    <dl class="facts">
      <Fact name="Settled through">
        {settledThrough === undefined ? 'No day of the period yet' : dateInWords(settledThrough)}
        <small>{whySettled(settledThrough, period.end)}</small>
      </Fact>
      <Fact name="Read as of">{instantInWords(asOf)}</Fact>
      <Fact name="Standard">
        {unbrokenFigures(standardInWords(measure).replace(/^Standard: /, ''))}
        <Sources resource={measure.resource} />
      </Fact>
      {eventsInWords(result).map((sentence) => (
        <Fact name="Recorded events">{sentence}</Fact>
      ))}
      <Fact name="Interval">
        {whole.interval
          ? `95 %, ${whole.interval.method}`
          : 'None for the whole: no rate, or no spread between examinations'}
      </Fact>
      <Fact name="Attribution">{attributionInWords(measure)}</Fact>
      {volumes.length > 1 ? <Fact name="Examinations counted per practitioner">{volumeInWords(volumes)}</Fact> : null}
    </dl>
  )
}

function whySettled(settledThrough: string | undefined, end: string): string {
  if (settledThrough === undefined)
    return 'Histology or events may still arrive for all of it, so everything is counted apart.'
  return settledThrough >= end
    ? 'Every day of the period is settled.'
    : 'Rates stop there. Histology or events of later days may still arrive, so those days are counted apart.'
}

function Fact({ name, children }: { name: string; children?: unknown }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

function Sources({ resource }: { resource: Measure }) {
  const citations = (resource.relatedArtifact ?? []).filter(({ citation }) => citation !== undefined)
  return citations.map(({ citation, url }) => (
    <small>
      {citation} {url?.startsWith('https://') ? <a href={url}>{url.replace('https://', '')}</a> : null}
    </small>
  ))
}

function volumeInWords(volumes: readonly number[]): string {
  const { least, median, most } = spreadOf(volumes)
  return `Median ${number.format(median)}, from ${number.format(least)} to ${number.format(most)}`
}

/** Keeps each figure of a sentence with the unit after it. */
const unbrokenFigures = (sentence: string): string => sentence.replace(/\d+\.\d+ \S+/g, unbroken)
