import { daysBetween } from '../fhir/dates.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Examination } from './examinations.ts'
import type { Histology, HistologyClass, Reading } from './histology.ts'
import { canHaveHistology, type FoundPolyp, type PolypFindings } from './polyps.ts'

type PathologyFacts = Pick<
  Colonoscopy,
  | 'pathology'
  | 'adenomaFound'
  | 'adenomaCount'
  | 'adenomaCountLower'
  | 'adenomaCountUpper'
  | 'traditionalSerratedCount'
  | 'sessileSerratedCount'
  | 'hyperplasticCount'
  | 'cancerCount'
  | 'otherHistologyCount'
>

export interface PathologyContext {
  /** Civil date of the as-of instant in the unit's zone. */
  readonly asOfDate: string
  readonly lagDays: number
  /** The source sends every pathology report and specimen. */
  readonly feedComplete: boolean
  /** Polyps newly found, where that is recorded. */
  readonly polypCount: number | undefined
}

/** Fewest and most of each class. */
type Range = Record<HistologyClass, { least: number; most: number }>

const polypClasses: readonly HistologyClass[] = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
]

/** Worst first: a polyp with two diagnoses is what its worst one says. */
const bySeverity: readonly HistologyClass[] = [
  'cancer',
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
  'other',
]

/** Polyps that pathology alone tells of, where nothing at endoscopy did. Pots of known lesions tell of no new one. */
export const polypsInPathology = ({ readings }: Histology, knownPots: readonly string[]): number =>
  withoutKnown(readings, knownPots)
    .flatMap(({ classes }) => classes)
    .filter((one) => polypClasses.includes(one)).length

/**
 * State of all pathology of an examination, and its counts. *Pending* while anything sent may still come within the lag,
 * *missing* after it. Every piece of tissue is a slot: a pot, or a polyp that was taken without one. A count is given only
 * when every slot is read and the diagnoses leave no doubt; the bounds hold always. Each polyp's class is filled in on the way.
 */
export function pathologyFacts(
  examination: Examination,
  findings: PolypFindings,
  { readings, openReports }: Histology,
  context: PathologyContext,
): PathologyFacts {
  const { polyps, unnamedRemovals, knownPots } = findings
  const range = emptyRange()
  const counted = withoutKnown(readings, knownPots)
  const inPots = groupsOf(counted)
  const potless = counted.filter(({ pots }) => pots.length === 0)

  // Pots that are read.
  let unreadablePots = 0
  let unreadableRoom = 0
  let spareDiagnoses = 0
  for (const { pots, classes } of inPots) {
    const inside = polyps.filter(({ specimen }) => specimen !== undefined && pots.includes(specimen))
    const room = pots.reduce(
      (sum, pot) => sum + Math.max(1, inside.filter(({ specimen }) => specimen === pot).length),
      0,
    )
    if (classes.length === 0) {
      unreadablePots++
      unreadableRoom += room
      continue
    }
    addDiagnoses(range, classes, room, inside.length > 0)
    nameHistology(inside, classes)
    // A lesion in a pot that no polyp names may be of a polyp told without a pot; normal tissue is a random biopsy.
    if (inside.length === 0) spareDiagnoses += classes.filter((one) => one !== 'other').length
  }

  // Slots that are not: silent pots, and polyps taken without a pot.
  const pots = [...examination.specimens.filter((pot) => !knownPots.includes(pot))]
  for (const { specimen, polyp } of polyps)
    if (specimen !== undefined && canHaveHistology(polyp) && !pots.includes(specimen)) pots.push(specimen)
  const silent = pots.filter((pot) => !inPots.some((group) => group.pots.includes(pot)))
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
  const told = potless.filter(({ classes }) => classes.length > 0).flatMap(({ classes }) => classes)
  if (told.length > 0) {
    const room = slots === 0 ? told.length : silentRoom + takenOpen
    addLoose(range, told, slots, room)
  }
  // What nobody can read has come all the same: it is not waited for.
  const unreadableLoose = potless.filter(({ classes }) => classes.length === 0).length
  const come = told.length + unreadableLoose
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
    if (unreadablePots + unreadableLoose > 0) return 'unreadable'
    if (counted.length > 0) return 'final'
    const nothingSent =
      context.polypCount !== undefined && slots === 0 && unknown === 0 && (context.feedComplete || polyps.length > 0)
    return nothingSent ? 'not-sent' : undefined
  })()

  const adenomas = range['conventional-adenoma']
  // Tissue and polyps that could still turn out to be an adenoma.
  const undecided = openRoom + unknown + unreadableRoom + unreadableLoose + openReports
  const somethingKnown = context.polypCount !== undefined || counted.length > 0
  const noneLeft = somethingKnown && undecided === 0
  const found = adenomas.least > 0 ? true : noneLeft && adenomas.most === 0 ? false : undefined
  const only = ({ least, most }: { least: number; most: number }) => (noneLeft && least === most ? least : undefined)
  const unobtainable = polyps.filter(({ polyp }) => !canHaveHistology(polyp)).length
  // An open or unreadable report of which no slot is known may hold anything.
  const bounded = context.polypCount !== undefined && (openReports === 0 || slots > 0) && unreadableLoose === 0
  return {
    pathology: state,
    adenomaFound: found,
    adenomaCount: only(adenomas),
    traditionalSerratedCount: only(range['traditional-serrated-adenoma']),
    sessileSerratedCount: only(range['sessile-serrated-lesion']),
    hyperplasticCount: only(range.hyperplastic),
    cancerCount: only(range.cancer),
    otherHistologyCount: only(range.other),
    adenomaCountLower: bounded ? adenomas.least : undefined,
    adenomaCountUpper: bounded ? adenomas.most + openRoom + unknown + unreadableRoom + unobtainable : undefined,
  }
}

function emptyRange(): Range {
  const nothing = () => ({ least: 0, most: 0 })
  return {
    'conventional-adenoma': nothing(),
    'traditional-serrated-adenoma': nothing(),
    'sessile-serrated-lesion': nothing(),
    hyperplastic: nothing(),
    cancer: nothing(),
    other: nothing(),
  }
}

/** Readings of pots that hold new findings; a pot with nothing but a lesion known before tells of nothing new. */
function withoutKnown(readings: readonly Reading[], knownPots: readonly string[]): readonly Reading[] {
  if (knownPots.length === 0) return readings
  return readings.flatMap(({ pots, classes }): Reading[] => {
    const left = pots.filter((pot) => !knownPots.includes(pot))
    return pots.length > 0 && left.length === 0 ? [] : [{ pots: left, classes }]
  })
}

/** Readings joined where they speak of the same pot: several results of one pot are diagnoses of that pot. */
function groupsOf(readings: readonly Reading[]): { pots: string[]; classes: HistologyClass[] }[] {
  const groups: { pots: string[]; classes: HistologyClass[] }[] = []
  for (const { pots, classes } of readings) {
    if (pots.length === 0) continue
    const group = groups.find((one) => one.pots.some((pot) => pots.includes(pot)))
    if (group) {
      for (const pot of pots) if (!group.pots.includes(pot)) group.pots.push(pot)
      group.classes.push(...classes)
    } else groups.push({ pots: [...pots], classes: [...classes] })
  }
  return groups
}

/**
 * Adds the diagnoses of some pots that have room for so many lesions. One diagnosis speaks for all of them. As many diagnoses
 * as lesions are one each. Fewer leave some lesions open; more than there are polyps describe some polyp twice, and its
 * worst one stands.
 */
function addDiagnoses(range: Range, classes: readonly HistologyClass[], room: number, holdsPolyps: boolean): void {
  const [only] = classes
  if (only !== undefined && classes.length === 1) {
    range[only].least += room
    range[only].most += room
    return
  }
  const tally = (one: HistologyClass) => classes.filter((other) => other === one).length
  if (classes.length <= room) {
    const open = room - classes.length
    for (const one of bySeverity) {
      const count = tally(one)
      range[one].least += count
      range[one].most += count > 0 ? count + open : 0
    }
    return
  }
  let left = room
  for (const one of bySeverity) {
    const count = tally(one)
    const fits = Math.min(count, left)
    left -= fits
    range[one].least += fits
    // In a pot of which no polyp is told, two diagnoses may well be two lesions.
    range[one].most += holdsPolyps ? fits : count
  }
}

/** Diagnoses without a pot, over slots that none names: each of one slot; more than there are slots may repeat themselves. */
function addLoose(range: Range, classes: readonly HistologyClass[], slots: number, room: number): void {
  const more = slots > 0 && classes.length > slots
  const open = Math.max(0, room - Math.max(slots, classes.length))
  for (const one of bySeverity) {
    const count = classes.filter((other) => other === one).length
    if (count === 0) continue
    range[one].least += more ? Math.min(count, slots) : count
    range[one].most += count + (more ? 0 : open)
  }
}

function nameHistology(inside: readonly FoundPolyp[], classes: readonly HistologyClass[]): void {
  const [only] = classes
  const sure =
    classes.length === 1 ? only : inside.length === 1 ? bySeverity.find((one) => classes.includes(one)) : undefined
  if (sure !== undefined) for (const { polyp } of inside) polyp.histology = sure
}
