import type { MeasureResult } from '../tally/result.ts'
import { range } from './wording.ts'

/** What must be known before the figures are read; nothing where nothing is amiss. */
export function Notices({ result }: { result: MeasureResult }) {
  const { measure, whole, incomplete } = result
  const { bounds, wholePeriodBounds, readBounds, score } = whole
  return (
    <>
      {incomplete.length > 0 ? (
        <Notice name="The source could not deliver everything">
          {incomplete.join(' ')} Figures may be short of examinations or results.
        </Notice>
      ) : null}
      {readBounds ? (
        <Notice name={bounds ? 'Read the bounds, not the rate' : 'Read this figure with doubt'}>
          {bounds
            ? `Had everything been recorded, the rate would lie somewhere from ${range(measure, bounds)}.`
            : 'Too much is not recorded for the figure to speak for all examinations.'}
        </Notice>
      ) : null}
      {!readBounds && bounds && bounds.lower !== bounds.upper ? (
        <Notice name="Something is not recorded">
          Had it been, the rate would lie somewhere from {range(measure, bounds)}.
        </Notice>
      ) : null}
      {wholePeriodBounds && score === undefined ? (
        <Notice name="What can be said already">
          With everything still open, the rate of the period will lie somewhere from {range(measure, wholePeriodBounds)}
          .
        </Notice>
      ) : null}
      {measure.standard?.fromMemory ? (
        <Notice name="The standard’s figures are from memory">
          They have not been checked against the publication. Check them before anyone is held to them.
        </Notice>
      ) : null}
    </>
  )
}

function Notice({ name, children }: { name: string; children?: unknown }) {
  return (
    <p class="notice">
      <strong>{name}.</strong> {children}
    </p>
  )
}
