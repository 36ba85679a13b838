import type { MeasureDefinition } from '../measures/measure.ts'

/** The measure's own words for each population, with the expression that decides it, as published. */
export function HowCounted({ measure }: { measure: MeasureDefinition }) {
  const populations = measure.resource.group?.flatMap(({ population }) => population ?? []) ?? []
  return (
    <details>
      <summary>How this is counted</summary>
      {measure.resource.description ? <p>{measure.resource.description}</p> : null}
      <dl class="populations">
        {populations.map(({ code, description, criteria }) => (
          <div>
            <dt>{code?.coding?.[0]?.display ?? code?.text ?? 'Population'}</dt>
            <dd>
              {description}
              {criteria?.expression ? <code>{criteria.expression}</code> : null}
            </dd>
          </div>
        ))}
      </dl>
      <p class="quiet">
        {measure.url}, version {measure.version}
      </p>
    </details>
  )
}
