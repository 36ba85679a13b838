import { daysBetween } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { advancedFindings, flatDysplasia } from './advanced-findings.ts'
import { addDiagnoses, addLoose, allowForKnown, noCounts } from './class-counts.ts'
import type { Diagnosis } from './diagnoses.ts'
import type { Examination } from './examinations.ts'
import type { Histology, PathologyReading } from './histology.ts'
import { nameHistology } from './name-histology.ts'
import { isUntouched, nothingSent } from './no-pathology.ts'
import type { PathologyContext, PathologyFacts } from './pathology-facts.ts'
import { notePathology } from './pathology-trail.ts'
import type { FoundPolyp } from './polyp.ts'
import { canHaveHistology, type PolypFindings } from './polyps.ts'
import { looseDiagnoses, newReadings, type PotGroup, potGroups, withoutKnown } from './pots.ts'
import type { HistologyClass } from './remark.ts'

const polypClasses: readonly HistologyClass[] = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
]

/**
 * Polyps that pathology alone tells of, where nothing at endoscopy did. Pots of known lesions tell of no new one.
 *
 * @param knownWithoutPot known lesions whose tissue may lie in any pot: so many of the diagnoses are theirs
 */
export function polypsInPathology({ readings }: Histology, knownPots: readonly string[], knownWithoutPot = 0): number {
  if (readings.length === 0) return 0
  const counted = withoutKnown(readings, knownPots)
  const inPots = potGroups(counted).flatMap(({ diagnoses }) => diagnoses)
  const polyps = [...inPots, ...looseDiagnoses(counted)].filter(({ histology }) => polypClasses.includes(histology))
  return Math.max(0, polyps.length - knownWithoutPot)
}

/**
 * Whether pathology, where it alone tells of polyps, leaves their number open: something is still to come, cannot be read, or is
 * told in the plural.
 */
export function isPolypNumberOpen(
  { specimens }: Examination,
  { readings, openReports }: Histology,
  knownPots: readonly string[],
): boolean {
  const counted = withoutKnown(readings, knownPots)
  const silent = specimens.filter((pot) => !knownPots.includes(pot) && !readings.some(({ pots }) => pots.includes(pot)))
  return (
    openReports > 0 ||
    counted.some(({ isUnreadable, unread, isUncounted }) => isUnreadable || unread.length > 0 || isUncounted) ||
    // Diagnoses that name no pot are of the silent ones.
    silent.length > looseDiagnoses(counted).length
  )
}

/**
 * State of all pathology of an examination, and its counts. *Pending* while anything sent may still come within the lag,
 * *missing* after it. Every piece of tissue is a slot: a pot, or a polyp that was taken without one. A count is given only
 * when every slot is read and the diagnoses leave no doubt; the bounds hold always. Each polyp's class, with its grade and its
 * architecture, is filled in on the way.
 */
export function pathologyFacts(
  examination: Examination,
  findings: PolypFindings,
  { readings, openReports }: Histology,
  context: PathologyContext,
): PathologyFacts {
  const { polyps, unnamedRemovals } = findings
  if (isUntouched(examination, findings) && readings.length === 0 && openReports === 0)
    return nothingSent(examination, context)
  const counts = noCounts()
  const { counted, knownPots } = newReadings(readings, findings, context.inPathology)
  const groups = potGroups(counted)
  const read: (PotGroup & { readonly inside: readonly FoundPolyp[]; readonly room: number })[] = []

  // Pots that are read.
  let unreadablePots = 0
  let unreadableRoom = 0
  let spareDiagnoses = 0
  const unreadBeside: Json[] = []
  let isNumberOpen = false
  for (const group of groups) {
    const { pots } = group
    const inside = polyps.filter(({ specimen }) => specimen !== undefined && pots.includes(specimen))
    const room = pots.reduce(
      (sum, pot) => sum + Math.max(1, inside.filter(({ specimen }) => specimen === pot).length),
      0,
    )
    // A polyp with dysplasia is an adenoma or a serrated lesion, and a grade alone does not say which.
    const diagnoses = inside.length > 0 ? group.diagnoses.filter(isFinding) : group.diagnoses
    if (diagnoses.length === 0) {
      unreadablePots++
      unreadableRoom += room
      continue
    }
    // Words beside the diagnosis of the only polyp describe it; where there are two, they may be the diagnosis of the other.
    const unread = inside.length > 1 ? [...group.unread, ...group.notes] : group.unread
    unreadBeside.push(...unread)
    isNumberOpen ||= inside.length === 0 && group.isUncounted
    read.push({ ...group, diagnoses, inside, room })
    const { isMixed } = group
    addDiagnoses(counts, { diagnoses, unread: unread.length, isMixed, room, holdsPolyps: inside.length > 0 })
    if (unread.length === 0) nameHistology(inside, diagnoses, isMixed)
    // A lesion in a pot that no polyp names may be of a polyp told without a pot; normal tissue is a random biopsy.
    if (inside.length === 0) spareDiagnoses += diagnoses.filter(({ histology }) => histology !== 'other').length
  }

  // Slots that are not: silent pots, and polyps taken without a pot.
  const pots = [...examination.specimens.filter((pot) => !knownPots.includes(pot))]
  for (const { specimen, polyp } of polyps)
    if (specimen !== undefined && canHaveHistology(polyp) && !pots.includes(specimen)) pots.push(specimen)
  const silent = pots.filter((pot) => !groups.some((group) => group.pots.includes(pot)))
  const silentRoom = silent.reduce(
    (sum, pot) => sum + Math.max(1, polyps.filter(({ specimen }) => specimen === pot).length),
    0,
  )
  const without = polyps.filter(({ specimen, polyp }) => specimen === undefined && canHaveHistology(polyp))
  const taken =
    without.filter(({ polyp }) => polyp.handling !== undefined).length + unnamedRemovals + findings.impliedRemovals
  const takenOpen = Math.max(0, taken - spareDiagnoses)
  const untold = without.filter(({ polyp }) => polyp.handling === undefined).length

  // Diagnoses without a pot are of the silent slots, one each.
  const slots = silent.length + takenOpen
  const loose = looseDiagnoses(counted)
  const mayBeOfPolyp = taken + untold + findings.knownWithoutPot > 0
  const told = mayBeOfPolyp ? loose.filter(isFinding) : loose
  // What nobody can read has come all the same: it is not waited for.
  const potless = counted.filter(({ pots }) => pots.length === 0)
  const unreadLoose = potless.reduce((sum, one) => sum + unreadIn(one), loose.length - told.length)
  for (const { isUnreadable, unread } of potless) if (!isUnreadable) unreadBeside.push(...unread)
  isNumberOpen ||= slots === 0 && potless.some(({ isUncounted }) => isUncounted)
  const isBoundedLoose = slots > 0 || unreadLoose === 0
  if (told.length > 0 || unreadLoose > 0) {
    const room = slots === 0 ? told.length : silentRoom + takenOpen
    addLoose(counts, told, slots > 0 ? unreadLoose : 0, slots, room)
  }
  const unnamed = read.filter(({ inside }) => inside.length === 0).flatMap(({ diagnoses }) => diagnoses)
  allowForKnown(counts, [...unnamed, ...told], findings.knownWithoutPot)
  const come = told.length + unreadLoose
  const readSlots = Math.min(slots, come)
  // Diagnoses beyond the tissue we know of are of polyps of which nobody said that they were taken.
  const unknown = Math.max(0, untold - Math.max(0, told.length - slots) - Math.max(0, spareDiagnoses - taken))
  const openSlots = slots - readSlots
  const openRoom = openSlots === 0 ? 0 : Math.max(openSlots, silentRoom + takenOpen - readSlots)
  // A polyp taken without a pot is waited for only where the source sends every report.
  const outstanding = context.feedComplete ? openSlots : Math.max(0, silent.length - come)

  const state = ((): Colonoscopy['pathology'] => {
    if (outstanding > 0 || openReports > 0)
      return daysBetween(examination.date, context.asOfDate) <= context.lagDays ? 'pending' : 'missing'
    if (unreadablePots + unreadLoose + unreadBeside.length > 0) return 'unreadable'
    if (counted.length > 0) return 'final'
    const isNothingSent =
      context.polypCount !== undefined && slots === 0 && unknown === 0 && (context.feedComplete || polyps.length > 0)
    return isNothingSent ? 'not-sent' : undefined
  })()

  const adenomas = counts['conventional-adenoma']
  // Tissue and polyps that could still turn out to be an adenoma.
  const undecided =
    openRoom + unknown + unreadableRoom + (isBoundedLoose ? 0 : unreadLoose) + openReports + findings.unreadSightings
  const somethingKnown = context.polypCount !== undefined || counted.length > 0
  const noneLeft = somethingKnown && undecided === 0
  const isFound = ({ least, most }: { least: number; most: number }) =>
    least > 0 ? true : noneLeft && most === 0 ? false : undefined
  const adenomaFound = isFound(adenomas)
  const only = ({ least, most }: { least: number; most: number }) =>
    noneLeft && least === most && !(isNumberOpen && least > 0) ? least : undefined
  const adenomaCount = only(adenomas)
  // A polyp said to be lost, and read all the same, is counted among the confirmed ones.
  const unobtainable = polyps.filter(({ polyp }) => !canHaveHistology(polyp) && polyp.histology === undefined).length
  // An open or unreadable report of which no slot is known may hold anything.
  const bounded = context.polypCount !== undefined && (openReports === 0 || slots > 0) && isBoundedLoose
  const isUnlimited = isNumberOpen && adenomas.least > 0
  const advanced = advancedFindings({
    diagnoses: [...read.flatMap(({ diagnoses }) => diagnoses), ...told],
    polyps: polyps.map(({ polyp }) => polyp),
    adenomaFound,
    adenomaCount,
    isAllTold: noneLeft && unreadBeside.length === 0 && unreadLoose === 0 && !isNumberOpen,
    colitisDysplasia: flatDysplasia(
      [...read.filter(({ inside }) => inside.length === 0).map(({ diagnoses }) => diagnoses), told],
      mayBeOfPolyp,
      state === 'final' && noneLeft,
    ),
  })
  const facts: PathologyFacts = {
    pathology: state,
    histologySource: sourceOf(counted),
    adenomaFound,
    traditionalSerratedFound: isFound(counts['traditional-serrated-adenoma']),
    sessileSerratedFound: isFound(counts['sessile-serrated-lesion']),
    cancerFound: isFound(counts.cancer),
    adenomaCount,
    adenomaCountLower: bounded ? adenomas.least : undefined,
    adenomaCountUpper:
      bounded && !isUnlimited ? adenomas.most + openRoom + unknown + unreadableRoom + unobtainable : undefined,
    traditionalSerratedCount: only(counts['traditional-serrated-adenoma']),
    sessileSerratedCount: only(counts['sessile-serrated-lesion']),
    hyperplasticCount: only(counts.hyperplastic),
    cancerCount: only(counts.cancer),
    otherHistologyCount: only(counts.other),
    largestAdenomaMillimetres: advanced.largestAdenomaMillimetres,
    villousAdenomaFound: advanced.villousAdenomaFound,
    highGradeDysplasiaFound: advanced.highGradeDysplasiaFound,
    colitisDysplasiaFound: advanced.colitisDysplasiaFound,
  }
  if (examination.trail) notePathology(examination, facts, { counted, read, loose: told, slots, unread: unreadBeside })
  return facts
}

/** How many diagnoses a reading without a pot may hold that nobody can read: one at least, where it says nothing else. */
const unreadIn = ({ isUnreadable, unread }: PathologyReading): number =>
  isUnreadable ? Math.max(1, unread.length) : unread.length

/** Whether a diagnosis tells what tissue is, and not only of what grade. */
const isFinding = ({ isGrade, isRandomBiopsy }: Diagnosis): boolean => !isGrade || isRandomBiopsy

function sourceOf(readings: Histology['readings']): Colonoscopy['histologySource'] {
  let source: Colonoscopy['histologySource']
  for (const { isUnreadable, isText } of readings) {
    if (isUnreadable) continue
    if (isText) return 'text'
    source = 'coded'
  }
  return source
}
