import type { FhirResource } from 'fhir/r4'
import { type FaultStatus, toOutcome } from '../outcome.ts'
import { type WiringGuide, wiringGuide } from '../wiring/guide/guide.ts'
import type { WiringReport } from '../wiring/report.ts'
import { GuidePage } from './guide-page.tsx'
import { firstDay, lastDay, monthsLater } from './months.ts'
import { pageFrame } from './page-frame.tsx'
import { Problem } from './problem.tsx'
import { type WiringChoice, WiringForm } from './wiring-form.tsx'
import { WiringPage } from './wiring-page.tsx'

type Page = ReturnType<typeof pageFrame>

/** As much of the configuration as the pages show. */
interface Shown {
  readonly sources: readonly { readonly id: string }[]
  /** Latest date or instant as of which records can be read, where it is not the present. */
  readonly asOf?: string
}

/**
 * The pages of the wiring report and of the wiring guide.
 *
 * @param published the value sets, concept maps and code systems of `measures/`
 */
export function wiringPages(published: readonly FhirResource[], now: () => Date) {
  let guide: WiringGuide | undefined
  let guideFrame: Page | undefined
  const readGuide = (): WiringGuide => {
    guide ??= wiringGuide(published)
    return guide
  }
  const usual = ({ sources, asOf }: Shown): WiringChoice =>
    usualWiringChoice(asOf ?? now().toISOString(), idsOf(sources))
  return {
    guide: readGuide,
    guidePage: (): Page => {
      guideFrame ??= guidePage(readGuide())
      return guideFrame
    },
    reportPage: (report: WiringReport, { sources }: Shown): Page => reportPage(report, idsOf(sources)),
    askPage: (shown: Shown): Page => askPage(usual(shown), idsOf(shown.sources)),
    problemPage: (error: unknown, query: ReadonlyMap<string, string>, shown: Shown) =>
      problemPage(error, query, usual(shown), idsOf(shown.sources)),
  }
}

const idsOf = (sources: Shown['sources']): readonly string[] => sources.map(({ id }) => id)

/** The last whole month before the last readable day, of the first source. */
export function usualWiringChoice(latestAsOf: string, sources: readonly string[]): WiringChoice {
  const month = monthsLater(latestAsOf.slice(0, 7), -1)
  return { periodStart: firstDay(month), periodEnd: lastDay(month), source: sources[0] ?? '' }
}

const formOf = (choice: WiringChoice, sources: readonly string[]) => <WiringForm choice={choice} sources={sources} />

/** @param sources ids of all that could be asked for, not only of those that were */
export function reportPage(report: WiringReport, sources: readonly string[]): Page {
  const { periodStart, periodEnd } = report
  return pageFrame({
    title: 'Wiring',
    place: '/wiring',
    form: formOf({ periodStart, periodEnd, source: report.sources[0]?.source ?? '' }, sources),
    content: <WiringPage report={report} />,
  })
}

/** The form alone, before anything is asked: a survey reads a whole period, so none is started unasked. */
export function askPage(choice: WiringChoice, sources: readonly string[]): Page {
  const content = (
    <section class="answer">
      <h1>How the records fit</h1>
      <p class="scope">
        Choose a period. Every examination of it is read, so a month takes a while.{' '}
        <a href="/wiring/guide">The wiring guide</a> shows what to send.
      </p>
    </section>
  )
  return pageFrame({ title: 'Wiring', place: '/wiring', form: formOf(choice, sources), content })
}

export const guidePage = (guide: WiringGuide): Page =>
  pageFrame({ title: 'Wiring guide', place: '/wiring/guide', content: <GuidePage guide={guide} /> })

/** A fault, with the form as it was filled in. */
export function problemPage(
  error: unknown,
  query: ReadonlyMap<string, string>,
  usual: WiringChoice,
  sources: readonly string[],
): { page: Page; status: FaultStatus } {
  const { outcome, status } = toOutcome(error)
  const choice: WiringChoice = {
    periodStart: query.get('periodStart') ?? usual.periodStart,
    periodEnd: query.get('periodEnd') ?? usual.periodEnd,
    source: query.get('source') ?? usual.source,
  }
  const content = <Problem>{outcome.issue[0]?.diagnostics}</Problem>
  return { page: pageFrame({ title: 'No answer', place: '/wiring', form: formOf(choice, sources), content }), status }
}
