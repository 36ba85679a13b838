import type { Examination } from './examinations.ts'
import { type Lesion, restsOn } from './polyp.ts'
import { elementOf } from './reading.ts'

/**
 * What follows for the removal of a lesion, and for the suspicion of cancer, from what else is said of it: what was removed was
 * attempted, and what was predicted to be cancer was suspected to be it. Where a statement denies that, neither stands; nor does one
 * that cannot be so beside the way in which the lesion was handled.
 */
export function judgeOutcome(lesion: Lesion, examination: Examination): void {
  const { polyp, named } = lesion
  const isRemoved = polyp.handling === 'removed'
  if (isRemoved || named) conclude(lesion, 'removalAttempted', examination)
  if (polyp.predictedHistology === 'cancer') conclude(lesion, 'suspectedCancer', examination)
  if (polyp.inaccessible && isRemoved && polyp.clearance !== 'incomplete') {
    polyp.inaccessible = undefined
    examination.trail?.contradict('polyp said not to be removable, but removed', lesion.resource)
  }
  if (polyp.clearance === 'complete' && polyp.handling !== undefined && !isRemoved) {
    polyp.clearance = undefined
    examination.trail?.contradict('removal judged complete of a polyp that was not removed', lesion.resource)
  }
}

/** True, unless it is denied. */
function conclude(lesion: Lesion, name: 'removalAttempted' | 'suspectedCancer', { trail }: Examination): void {
  const { polyp, disputed, told, evidence } = lesion
  if (disputed.includes(name) || polyp[name] === true) return
  if (polyp[name] === false) {
    polyp[name] = undefined
    lesion.disputed = [...disputed, name]
    trail?.contradict('two different values of one measurement', lesion.resource)
    return
  }
  polyp[name] = true
  if (evidence) restsOn(lesion, name, { ...told, rung: 'inferred from the findings' }, elementOf(told, 'component'))
}
