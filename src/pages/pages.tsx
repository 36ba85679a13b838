import { type Context, Hono } from 'hono'
import type { Unit } from '../config.ts'
import { ReportableError } from '../errors.ts'
import type { EvaluateRequest } from '../evaluate-request.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import { toOutcome } from '../outcome.ts'
import type { MeasureResult } from '../tally/result.ts'
import { AnswerPage } from './answer-page.tsx'
import { type Choice, choiceOf, requestOf } from './choice.ts'
import { ChoiceForm } from './choice-form.tsx'
import { pageFrame } from './page-frame.tsx'
import { pageHeaders } from './page-headers.ts'
import { Problem } from './problem.tsx'

/** What the pages take from outside. */
export interface PageDependencies {
  readonly definitions: { readonly measures: readonly MeasureDefinition[] }
  /** @throws {ReportableError} for a source that fails */
  readonly evaluate: (request: EvaluateRequest) => Promise<MeasureResult>
  readonly units: readonly Unit[]
  /** Latest date or instant as of which records can be read; it decides the period that is shown first. */
  readonly latestAsOf: string
}

/** The first page: choose measure, unit and period, and read the answer. Faults are told in the page, with their status. */
export function pages({ definitions, evaluate, units, latestAsOf }: PageDependencies): Hono {
  const { measures } = definitions
  const app = new Hono()
  const formOf = (choice: Choice) => <ChoiceForm choice={choice} measures={measures} units={units} />
  const choose = (c: Context): Choice => choiceOf(c.req.queries(), measures, latestAsOf)

  app.use(pageHeaders)

  app.get('/', async (c) => {
    const choice = choose(c)
    const result = await evaluate(requestOf(choice, c.req.queries(), measures, units))
    return c.html(
      pageFrame({
        title: result.measure.title,
        place: '/',
        form: formOf(choice),
        content: <AnswerPage result={result} />,
      }),
    )
  })

  app.onError((error, c) => {
    const { outcome, status: found } = toOutcome(error)
    // An unknown word in the form is a bad question to this page; the page itself is there.
    const asked =
      error instanceof ReportableError && (error.code === 'unknown-measure' || error.code === 'unknown-unit')
    const content = <Problem>{outcome.issue[0]?.diagnostics}</Problem>
    return c.html(pageFrame({ title: 'No answer', place: '/', form: formOf(choose(c)), content }), asked ? 400 : found)
  })
  return app
}
