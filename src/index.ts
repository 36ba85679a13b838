import built from '../build/definitions.json'
import { createApp } from './app.ts'
import { completenessOf } from './completeness.ts'
import { type EvaluateDependencies, evaluate } from './evaluate.ts'
import type { Definitions } from './measures/definitions.ts'
import { surveyWiring } from './survey-wiring.ts'

// Made and checked by the build step from `measures/`, so the shape is known; JSON imports lose their literal types.
const definitions = built as unknown as Definitions
const now = (): Date => new Date()
const outside: EvaluateDependencies = { definitions, now, fetchSource: (input, init) => fetch(input, init) }

export default createApp({
  definitions,
  now,
  evaluate: (request, configuration) => evaluate(request, configuration, outside),
  completenessOf: (fields, period, configuration) => completenessOf(fields, period, configuration, outside),
  surveyWiring: (request, configuration) => surveyWiring(request, configuration, outside),
})
