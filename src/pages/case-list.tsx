import type { MeasureResult } from '../tally/result.ts'
import { number } from './wording.ts'

/**
 * The examinations that a unit reviews one by one, as references into its source. They are shown to the unit that reviews them, and
 * not where several are read together.
 */
export function CaseList({ result: { measure, cases, scope } }: { result: MeasureResult }) {
  if (!measure.reviewList) return <p class="note">A count, over the settled days; the table divides it.</p>
  if (scope.unit === undefined)
    return <p class="note">The cases are listed for the unit that reviews them: choose a unit.</p>
  return (
    <section aria-labelledby="cases">
      <h2 id="cases">Cases to review</h2>
      <p class="note">
        {cases.length === 0
          ? 'None is recorded.'
          : `${number.format(cases.length)} recorded, those of days that are not settled yet among them. Every one is for review, and says nothing by itself about anybody.`}
      </p>
      <ul>
        {cases.map((reference) => (
          <li>{reference}</li>
        ))}
      </ul>
    </section>
  )
}
