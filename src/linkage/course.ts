import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { readAttempts } from './attempts.ts'
import type { Examination } from './examinations.ts'
import { provesCompletion, type Reach, readReach, type Site } from './extent.ts'
import { isKnownYet } from './known.ts'
import { reportState } from './own-report.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { readStop } from './stop.ts'
import { wordOf } from './told-value.ts'

type Course = Pick<
  Colonoscopy,
  | 'report'
  | 'completion'
  | 'stopReason'
  | 'extent'
  | 'extentEvidence'
  | 'caecumReached'
  | 'completionPhotographed'
  | 'landmarkPhotographCount'
  | 'impassableStricture'
  | 'ileum'
  | 'retroflexion'
  | 'intent'
> & {
  /** The instrument is said never to have been inserted, and nothing contradicts it: there was no examination. */
  neverInserted: boolean
}

const complete: readonly string[] = ['caecum', 'ileum', 'anastomosis'] satisfies Site[]
const intents = ['complete', 'limited'] as const

/** How far the examination went, on what evidence, and whether and why it was stopped. Evidence of extent outranks status. */
export function readCourse(examination: Examination, reading: Reading): Course {
  const { trail, zone, observations } = examination
  const known = observations.course.filter(({ resource }) => isKnownYet(resource, reading.asOf, zone))
  const reach = readReach(known, examination, reading)
  const { extent, landmarks } = reach
  const report = reportState(examination, reading)
  const { stoppedBy, reason, notInserted } = readStop(examination, reading)
  const stopped = stoppedBy !== undefined
  const reached = caecumReached(reach, stopped)
  // After the caecum a stopped examination is complete; so are its reasons for stopping no reasons for failing.
  const completion = reached === true || !stopped ? 'completed' : 'stopped'
  const stopReason = completion === 'stopped' ? reason : undefined
  if (trail) noteReach(examination, reach, stoppedBy, completion, reason)
  const { ileum, retroflexion } = readAttempts(known, reach.ileum, examination, reading)
  return {
    report,
    completion,
    stopReason,
    extent,
    extentEvidence: reach.evidence,
    caecumReached: reached,
    completionPhotographed: landmarks.some(provesCompletion) || (reach.landmarkUnread ? undefined : false),
    landmarkPhotographCount: photographCount(reach, report, examination, reading),
    impassableStricture: isImpassable(completion, stopReason),
    ileum,
    retroflexion,
    intent: intentOf(known, examination, reading),
    neverInserted: isNeverInserted(reach, notInserted, examination),
  }
}

/**
 * An extent short of the end is no only where nothing shows more: a stated extent that cannot be read may, and so may an
 * anastomosis. A stopped examination without any of these did not get there.
 */
function caecumReached({ extent, unread, anastomosis }: Reach, stopped: boolean): boolean | undefined {
  if (extent !== undefined && complete.includes(extent)) return true
  if (unread) return undefined
  if (stopped) return false
  return extent === undefined || anastomosis ? undefined : false
}

/** Different landmarks; none is a fact only in a complete feed once the report is not open. One that cannot be read leaves it open. */
function photographCount(
  { landmarks, landmarkUnread }: Reach,
  report: Course['report'],
  { trail }: Examination,
  reading: Reading,
): number | undefined {
  if (landmarkUnread) return undefined
  if (landmarks.length > 0) return landmarks.length
  if (!reading.complete('photographs') || report === 'preliminary') return undefined
  trail?.note('landmarkPhotographCount', undefined, 'nothing found in a complete feed', 'Observation.code')
  return 0
}

const isImpassable = (completion: Course['completion'], reason: Course['stopReason']): boolean | undefined =>
  completion === 'completed'
    ? false
    : reason === undefined
      ? undefined
      : reason === 'impassable-stricture' || reason === 'obstructing-lesion'

/** A colonoscopy without a stated limitation was meant to be complete; a statement that cannot be read leaves it open. */
function intentOf(known: readonly Told[], examination: Examination, reading: Reading): Course['intent'] {
  let statements: Statement<(typeof intents)[number]>[] | undefined
  let open = false
  for (const told of known) {
    if (told.code.fact !== 'intent') continue
    const word = wordOf('intent', told, intents, examination, reading)
    open ||= word === undefined && told.holder.dataAbsentReason === undefined
    statements = stated(statements, word, told)
  }
  if (statements !== undefined || open) return settle('intent', statements, examination)
  examination.trail?.note('intent', examination.lead, 'default: no limitation stated', 'Procedure.code')
  return 'complete'
}

/** Said never to have been inserted, and nothing else tells of an insertion. */
function isNeverInserted(reach: Reach, reason: Json | undefined, examination: Examination): boolean {
  const said = reach.notInserted ?? reason
  if (said === undefined) return false
  const { observations, children, conditions, specimens, trail } = examination
  const signs = [...observations.polyp, ...observations.time, ...children, ...conditions]
  const contradicted = reach.extent !== undefined || reach.landmarks.length > 0 || specimens.length > 0
  if (!contradicted && signs.length === 0) return true
  const others = reach.told === undefined ? signs : [reach.told, ...signs]
  trail?.contradict('never inserted, but something was seen or done', said, ...others.map(({ resource }) => resource))
  return false
}

const isPicture = ({ resource }: Told): boolean => resource.resourceType === 'Media'

/** Element that holds the site of an extent or a landmark. */
const siteElement = (told: Told): string => (isPicture(told) ? 'Media.bodySite' : 'Observation.valueCodeableConcept')

function noteReach(
  { trail, lead, all }: Examination,
  { extent, told, stated: extents, landmarks }: Reach,
  stoppedBy: Json | undefined,
  completion: Course['completion'],
  reason: Course['stopReason'],
): void {
  if (extent !== undefined && told !== undefined) {
    trail?.note('extent', told.resource, told.rung, siteElement(told))
    trail?.note('extentEvidence', told.resource, told.rung, isPicture(told) ? 'Media.bodySite' : 'Observation.code')
    trail?.note('caecumReached', told.resource, 'inferred from the extent', siteElement(told))
  } else if (stoppedBy !== undefined)
    trail?.note('caecumReached', stoppedBy, 'inferred from the status', 'Procedure.status')
  const outranked = stoppedBy !== undefined && completion === 'completed'
  if (outranked && told !== undefined)
    trail?.note('completion', told.resource, 'inferred from the extent', siteElement(told))
  else for (const one of all) trail?.note('completion', one, 'own element', 'Procedure.status')
  if (landmarks.some(provesCompletion) && told !== undefined)
    trail?.note('completionPhotographed', told.resource, told.rung, siteElement(told))
  else trail?.note('completionPhotographed', undefined, 'inferred from the findings', 'Observation.code')
  if (completion === 'completed')
    trail?.note('impassableStricture', stoppedBy ?? lead, 'inferred from the status', 'Procedure.status')
  else if (reason !== undefined)
    trail?.note('impassableStricture', stoppedBy ?? lead, 'own element', 'Procedure.statusReason')
  const barred = reason === 'impassable-stricture' || reason === 'obstructing-lesion'
  if (outranked && (barred || extents.some((site) => !complete.includes(site))))
    trail?.contradict('caecum reached, but stopped before it', stoppedBy, ...(told ? [told.resource] : []))
}
