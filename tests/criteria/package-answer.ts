import fhirpath from 'fhirpath'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'

/** The `fhirpath` package's answer in the form of our closures: undefined for empty. */
export function packageAnswer(expression: string): (record: Colonoscopy) => unknown {
  const evaluate = fhirpath.compile(expression, undefined, { async: false })
  return (record) => {
    const answer: unknown[] = evaluate(record)
    if (answer.length > 1) throw new Error(`${expression} yields ${answer.length} values`)
    return answer[0]
  }
}
