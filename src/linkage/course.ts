import type { Codes } from '../fhir/codes.ts'
import { isKnownBy } from '../fhir/dates.ts'
import { asText, type Json } from '../fhir/json.ts'
import { keysAt } from '../fhir/references.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Resources } from './context.ts'
import { type Examination, note, sawFeed } from './examinations.ts'
import { bowelSites, fields } from './fields.ts'
import { isWord } from './polyps.ts'

type Course = Pick<
  Colonoscopy,
  | 'report'
  | 'completion'
  | 'stopReason'
  | 'extent'
  | 'caecumReached'
  | 'landmarkPhotographCount'
  | 'impassableStricture'
  | 'intent'
> & { completionPhotographed: boolean }

type Site = (typeof bowelSites)[number]

const complete: readonly string[] = ['caecum', 'ileum', 'anastomosis'] satisfies Site[]
/** Landmarks whose photograph proves a complete examination, and the site it proves. */
const landmarks: ReadonlyMap<string, Site> = new Map([
  ['appendix-orifice', 'caecum'],
  ['ileocaecal-valve', 'caecum'],
  ['caecum', 'caecum'],
  ['ileum', 'ileum'],
  ['anastomosis', 'anastomosis'],
])
const openReport = new Set(['registered', 'partial', 'preliminary'])

/** How far the examination went, on what evidence, and whether and why it was stopped. Evidence of extent outranks status. */
export function readCourse(
  examination: Examination,
  resources: Resources,
  codes: Codes,
  photographsComplete: boolean,
  asOf: number,
): Course {
  const photographed: string[] = []
  let deepest = -1
  let limited = false
  for (const { resource, code } of examination.observations.course) {
    const { valueCodeableConcept } = resource
    const { fact } = code
    if (fact === 'landmark-photograph') {
      const landmark = codes.word(valueCodeableConcept, 'bowel-site')
      const site = landmark === undefined ? undefined : landmarks.get(landmark)
      if (landmark !== undefined && !photographed.includes(landmark)) photographed.push(landmark)
      if (site !== undefined && site !== 'anastomosis') deepest = Math.max(deepest, bowelSites.indexOf(site))
    } else if (fact !== 'intent') {
      const site = codes.word(valueCodeableConcept, 'bowel-site')
      if (isWord(site, bowelSites)) deepest = Math.max(deepest, bowelSites.indexOf(site))
    } else limited ||= codes.fact(valueCodeableConcept) === 'limited'
  }
  // An anastomosis may lie anywhere: its photograph is the end of the bowel only where no other extent is stated.
  if (deepest < 0 && photographed.includes('anastomosis')) deepest = bowelSites.indexOf('anastomosis')
  if (photographed.length > 0) sawFeed(examination, 'photographs')

  const extent = bowelSites[deepest]
  const stopped = examination.all.some(({ status }) => status === 'stopped')
  const reached = extent !== undefined ? complete.includes(extent) : stopped ? false : undefined
  const stopReason = stopped ? stopReasonOf(examination, codes) : undefined
  // After the caecum a stopped examination is complete; so are its reasons for stopping no reasons for failing.
  const completion = reached === true || !stopped ? 'completed' : 'stopped'
  const impassable =
    completion === 'completed'
      ? false
      : stopReason === undefined
        ? undefined
        : stopReason === 'impassable-stricture' || stopReason === 'obstructing-lesion'
  const report = reportState(examination, resources, asOf)
  if (!limited) note(examination, 'intent', -1, 'default: no limitation stated')

  return {
    report,
    completion,
    intent: limited ? 'limited' : 'complete',
    stopReason: completion === 'stopped' ? stopReason : undefined,
    extent,
    caecumReached: reached,
    impassableStricture: impassable,
    completionPhotographed: photographed.some((landmark) => landmarks.has(landmark)),
    landmarkPhotographCount: photographed.length > 0 || photographsComplete ? photographed.length : undefined,
  }
}

/** State of the examination's own report: the one the procedure names, else a colonoscopy report of its encounter. */
function reportState(examination: Examination, resources: Resources, asOf: number): Course['report'] {
  const direct: Json[] = []
  for (const key of keysAt(examination.all, 'report')) {
    const report = resources.at(key)
    if (report) direct.push(report)
  }
  let state: Course['report']
  for (const { status, issued } of direct.length > 0 ? direct : examination.ownReports) {
    const word = asText(status) ?? ''
    if (word === 'entered-in-error' || word === 'cancelled') continue
    // One report that is signed is enough; one signed after the as-of instant is still open.
    if (!openReport.has(word) && isKnownBy(issued, asOf, examination.zone)) return 'final'
    state = 'preliminary'
  }
  return state
}

function stopReasonOf(examination: Examination, codes: Codes): Course['stopReason'] {
  for (const { statusReason } of examination.all) {
    const word = codes.word(statusReason, 'stop-reason')
    if (isWord(word, fields.stopReason.values)) return word
  }
  return undefined
}
