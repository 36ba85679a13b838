import type { Closure } from '../criteria/closure.ts'
import { compile, type Share } from '../criteria/compile.ts'
import type { Criterion } from '../criteria/criterion.ts'
import { partsOf } from '../criteria/parts-of.ts'
import { SameParts } from '../criteria/same-parts.ts'
import { type CompiledMeasure, compileMeasure } from './compiled-measure.ts'
import type { MeasureDefinition } from './measure.ts'

/**
 * Measures that are asked together. What several criteria state, whole or as a part, is one function, worked out once for each
 * record: every measure is asked of one record before the next record comes.
 */
export function compileMeasures(definitions: readonly MeasureDefinition[]): CompiledMeasure[] {
  const numbers = new SameParts()
  const uses = new Map<number, number>()
  for (const definition of definitions)
    for (const { ast } of criteriaOf(definition))
      for (const part of partsOf(ast)) {
        const number = numbers.of(part)
        uses.set(number, (uses.get(number) ?? 0) + 1)
      }
  const shared = new Map<number, Closure>()
  const share: Share = (part, make) => {
    const number = numbers.of(part)
    if ((uses.get(number) ?? 0) < 2) return make()
    const known = shared.get(number)
    if (known) return known
    const made = remembering(make())
    shared.set(number, made)
    return made
  }
  return definitions.map((definition) => compileMeasure(definition, (ast) => compile(ast, share)))
}

const criteriaOf = ({ criteria, besides }: MeasureDefinition): Criterion[] => [
  ...Object.values(criteria),
  ...besides.map(({ criterion }) => criterion),
]

/** A function that knows its answer to the record it was last asked of. */
function remembering(run: Closure): Closure {
  let last: unknown
  let answer: ReturnType<Closure>
  return (record) => {
    if (record !== last) {
      answer = run(record)
      last = record
    }
    return answer
  }
}
