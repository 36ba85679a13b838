import { asOfDay, dayOf } from '../calendar.ts'
import type { HistoryItem, HistoryKind, PatientPlan, Plan, ResectedPart } from '../plan.ts'
import { createStream, type Random } from '../random.ts'
import { streams } from './streams.ts'

/** Share of patients, in parts of 10,000, of whom a thing was known. */
const shares: readonly (readonly [HistoryKind, number])[] = [
  ['antithrombotic-use', 900],
  ['severe-diverticulosis', 380],
  ['stricture', 80],
  ['pelvic-surgery-or-radiotherapy', 170],
  ['colorectal-cancer', 190],
]

/**
 * Adds to a patient what else was known, what was diagnosed later, and the death of a few. What decides an answer of the first
 * measures stays as it was: no colitis, syndrome or resection is added, only more said of them.
 *
 * @param plans all the patient's examinations
 */
export function detailPatient(patient: PatientPlan, plans: readonly Plan[]): PatientPlan {
  const random = createStream(streams.patients, Number(patient.id.replace(/\D/g, '')))
  const days = plans.map(({ day }) => day)
  const [first, last] = [Math.min(...days), Math.max(...days)]
  const history = patient.history.map((item) => describe(random, item, plans))
  for (const [kind, share] of shares) if (random.chance(share)) history.push(known(random, kind, first))
  history.push(...cancersFound(random, plans))
  history.push(...laterCancer(random, plans, history))
  const death = dies(random, patient, plans, last)
  history.push(
    ...knownOfFamilyAndBefore(createStream(streams.before, Number(patient.id.replace(/\D/g, ''))), plans, first),
  )
  return { ...patient, history, ...(death && { death }) }
}

function describe(random: Random, item: HistoryItem, plans: readonly Plan[]): HistoryItem {
  const activity = random.weighted([
    ['quiescent', 55],
    ['active', 35],
    ['severe', 10],
  ] as const)
  const isSaid = random.chance(6500)
  const part = random.weighted<ResectedPart>([
    ['right', 40],
    ['transverse', 5],
    ['left', 35],
    ['rectum', 20],
  ])
  if (!isSaid || !item.stands) return item
  if (item.kind === 'inflammatory-bowel-disease') return { ...item, activity }
  // A part that takes a Boston segment with it stands beside no score of that segment.
  const isScored = plans.some(({ row }) => row.preparation !== undefined && row.preparation.kind !== 'level')
  if (item.kind !== 'earlier-resection' || (isScored && part !== 'rectum' && part !== 'left')) return item
  return { ...item, part }
}

/** Known long before, now and then written down only afterwards; a few treatments had ended, a few diagnoses are suspicions. */
function known(random: Random, kind: HistoryKind, first: number): HistoryItem {
  const recordedDay = random.chance(9300) ? first - random.between(20, 2600) : first + random.between(3, 25)
  const hasEnded = random.chance(1500)
  const isSuspected = random.chance(900)
  const isPast = random.chance(1200)
  return {
    kind,
    recordedDay,
    stands: true,
    ...(kind === 'antithrombotic-use' &&
      hasEnded &&
      recordedDay < first && { endedDay: first - random.between(1, 19) }),
    ...((kind === 'stricture' || kind === 'severe-diverticulosis') && isSuspected && { suspected: true as const }),
    ...(kind === 'colorectal-cancer' && isPast && { past: true as const }),
  }
}

/** A family history, now and then written down only afterwards, and an adenoma of before in most who are followed up. */
function knownOfFamilyAndBefore(random: Random, plans: readonly Plan[], first: number): HistoryItem[] {
  const [hasFamily, isEarly, before, after] = [
    random.chance(800),
    random.chance(9000),
    random.between(20, 2600),
    random.between(0, 20),
  ]
  const [hadAdenoma, since] = [random.chance(6500), random.between(200, 1900)]
  const isFollowedUp = plans.some(({ form }) => form.reasons.includes('surveillance'))
  const item = (kind: HistoryKind, recordedDay: number): HistoryItem => ({
    kind,
    recordedDay,
    stands: true,
    past: true,
  })
  return [
    ...(hasFamily ? [item('family-history-of-colorectal-cancer', isEarly ? first - before : first + after)] : []),
    ...(isFollowedUp && hadAdenoma ? [item('earlier-adenoma', first - since)] : []),
  ]
}

/** A cancer that histology confirms becomes a diagnosis, dated back to the examination. */
function cancersFound(random: Random, plans: readonly Plan[]): HistoryItem[] {
  return plans.flatMap(({ row, day, pathology }): HistoryItem[] => {
    const isConfirmed = row.pathology === 'final' && row.polyps.some(({ nature }) => nature === 'cancer')
    if (!random.chance(8000) || !isConfirmed) return []
    return [{ kind: 'colorectal-cancer', recordedDay: pathology.issuedDay + 3, onsetDay: day, stands: true }]
  })
}

/** More than half a year after an examination that found none, in a patient who had none before. */
function laterCancer(random: Random, plans: readonly Plan[], history: readonly HistoryItem[]): HistoryItem[] {
  const isChosen = random.chance(16)
  const after = random.between(200, 460)
  const [only, ...more] = plans
  if (!isChosen || only === undefined || more.length > 0 || only.day + after > asOfDay - 10) return []
  const hadOne =
    history.some(({ kind }) => kind === 'colorectal-cancer') ||
    only.row.polyps.some(({ nature }) => nature === 'cancer')
  if (hadOne) return []
  return [{ kind: 'colorectal-cancer', recordedDay: only.day + after, onsetDay: only.day + after - 9, stands: true }]
}

/** Patients with an event stay alive, so that nothing after it is cut short. One date in some thousands is a slip of the pen. */
function dies(
  random: Random,
  patient: PatientPlan,
  plans: readonly Plan[],
  last: number,
): PatientPlan['death'] | undefined {
  const age = (last - dayOf(patient.birthDate)) / 365.25
  const hadCancer = plans.some(({ row }) => row.polyps.some(({ nature }) => nature === 'cancer'))
  const isChosen = random.chance(hadCancer ? 900 : age >= 75 ? 260 : 40)
  const after = random.chance(1200) ? random.between(3, 30) : random.between(31, 420)
  const dated = random.chance(9000)
  if (random.chance(4)) return { day: last - 45, dated: true }
  const day = last + after
  return isChosen && day < asOfDay - 2 && plans.every(({ events }) => events.length === 0) ? { day, dated } : undefined
}
