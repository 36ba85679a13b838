import type { Codes } from '../fhir/codes.ts'
import { asObjects, asText } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Resources } from './context.ts'
import { type Examination, note } from './examinations.ts'
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
const landmarks: Readonly<Record<string, Site>> = {
  'appendix-orifice': 'caecum',
  'ileocaecal-valve': 'caecum',
  caecum: 'caecum',
  ileum: 'ileum',
  anastomosis: 'anastomosis',
}
const openReport = new Set(['registered', 'partial', 'preliminary'])

/** How far the examination went, on what evidence, and whether and why it was stopped. Evidence of extent outranks status. */
export function readCourse(
  examination: Examination,
  resources: Resources,
  codes: Codes,
  photographsComplete: boolean,
): Course {
  const photographed = new Set<string>()
  let deepest = -1
  let limited = false
  for (const { resource, code } of examination.observations) {
    const { valueCodeableConcept } = resource
    const { fact } = code
    if (fact === 'landmark-photograph') {
      const landmark = codes.word(valueCodeableConcept, 'bowel-site')
      const site = landmark === undefined ? undefined : landmarks[landmark]
      if (landmark !== undefined) photographed.add(landmark)
      if (site !== undefined) deepest = Math.max(deepest, bowelSites.indexOf(site))
    } else if (fact === 'extent-reached' || code.sets.has('colonoscopy')) {
      const site = codes.word(valueCodeableConcept, 'bowel-site')
      if (isWord(site, bowelSites)) deepest = Math.max(deepest, bowelSites.indexOf(site))
    } else if (fact === 'intent') limited ||= codes.fact(valueCodeableConcept) === 'limited'
  }
  if (photographed.size > 0) examination.seen.add('photographs')

  const extent = bowelSites[deepest]
  const stopped = examination.all.some(({ status }) => status === 'stopped')
  const reached = extent !== undefined ? complete.includes(extent) : stopped ? false : undefined
  const reason = examination.all
    .map(({ statusReason }) => codes.word(statusReason, 'stop-reason'))
    .find((word) => word !== undefined)
  const stopReason = isWord(reason, fields.stopReason.values) ? reason : undefined
  // After the caecum a stopped examination is complete; so are its reasons for stopping no reasons for failing.
  const completion = reached === true || !stopped ? 'completed' : 'stopped'
  const impassable =
    completion === 'completed'
      ? false
      : stopReason === undefined
        ? undefined
        : stopReason === 'impassable-stricture' || stopReason === 'obstructing-lesion'
  const report = reportState(examination, resources)
  if (!limited) note(examination, 'intent', -1, 'default: no limitation stated')

  return {
    report,
    completion,
    intent: limited ? 'limited' : 'complete',
    stopReason: completion === 'stopped' ? stopReason : undefined,
    extent,
    caecumReached: reached,
    impassableStricture: impassable,
    completionPhotographed: [...photographed].some((landmark) => landmark in landmarks),
    landmarkPhotographCount: photographed.size > 0 || photographsComplete ? photographed.size : undefined,
  }
}

/** State of the examination's own report: the one the procedure names, else a colonoscopy report of its encounter. */
function reportState(examination: Examination, resources: Resources): Course['report'] {
  const direct = examination.all
    .flatMap(({ report }) => asObjects(report))
    .map((one) => resources.byKey.get(referenceKey(one) ?? ''))
    .filter((one) => one !== undefined)
  const reports = direct.length > 0 ? direct : examination.ownReports
  const states = reports
    .map(({ status }) => asText(status) ?? '')
    .filter((status) => status !== 'entered-in-error' && status !== 'cancelled')
  if (states.length === 0) return undefined
  return states.every((status) => openReport.has(status)) ? 'preliminary' : 'final'
}
