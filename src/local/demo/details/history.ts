import type { HistoryItem, HistoryKind, Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthDetails } from '../truth-details.ts'
import type { Added } from './details.ts'

/** More than this many days after an examination a cancer is a later one. */
const presentWithin = 183

/** What the patient's history says of one examination, with the answer to a question asked in one unit. */
export function detailHistory(random: Random, plan: Plan): Added {
  const taking = knownOf(plan, 'antithrombotic-use')
  const isAsked = plan.unit.id === 'ellenby' && random.chance(1200)
  const isWrong = random.chance(taking ? 2000 : 150)
  const said = isAsked ? taking !== isWrong : undefined
  // A no beside a diagnosis is a contradiction; so is nothing beside a yes, which is the only word of it.
  const antithrombotics = taking === true && said === false ? undefined : said === true ? true : taking
  return {
    truth: {
      ...colitis(plan),
      resectedPart: knownItems(plan, 'earlier-resection').find(({ part }) => part)?.part,
      strictureKnown: knownOf(plan, 'stricture'),
      severeDiverticulosis: knownOf(plan, 'severe-diverticulosis'),
      pelvicSurgeryOrRadiotherapy: knownOf(plan, 'pelvic-surgery-or-radiotherapy'),
      earlierColorectalCancer: knownOf(plan, 'colorectal-cancer'),
      antithrombotics,
      serratedPolyposis: false,
      familyHistoryOfColorectalCancer: knownOf(plan, 'family-history-of-colorectal-cancer'),
      earlierAdenoma: knownOf(plan, 'earlier-adenoma'),
      ...laterCancer(plan),
    },
    written: { antithromboticsSaid: said },
  }
}

const began = ({ onsetDay, recordedDay }: HistoryItem): number => Math.min(onsetDay ?? recordedDay, recordedDay)

const itemsOf = ({ patient }: Plan, kind: HistoryKind): HistoryItem[] =>
  patient.history.filter((item) => item.kind === kind && item.stands)

const knownItems = (plan: Plan, kind: HistoryKind): HistoryItem[] =>
  itemsOf(plan, kind).filter((item) => began(item) < plan.day)

/** In a complete feed silence is no; a suspicion is enough of a stricture alone; a past disease written afterwards was there, or not. */
function knownOf(plan: Plan, kind: HistoryKind): boolean | undefined {
  const items = knownItems(plan, kind)
  const isOver = ({ endedDay }: HistoryItem) => endedDay !== undefined && endedDay < plan.day
  if (items.some((item) => (!item.suspected || kind === 'stricture') && !isOver(item))) return true
  const isOpen = items.some(({ suspected }) => suspected) || itemsOf(plan, kind).some(({ past }) => past)
  return isOpen ? undefined : false
}

function colitis(plan: Plan): TruthDetails {
  const kind = 'inflammatory-bowel-disease'
  return {
    inflammatoryBowelDiseaseActivity: knownItems(plan, kind)[0]?.activity,
    inflammatoryBowelDiseaseSeen: itemsOf(plan, kind).some((item) => began(item) === plan.day),
  }
}

/** That there was none is not known: nobody sends every cancer. A cancer of before may be the same. */
function laterCancer(plan: Plan): TruthDetails {
  const cancers = itemsOf(plan, 'colorectal-cancer')
  const days = cancers.map(({ onsetDay, recordedDay }) => (onsetDay ?? recordedDay) - plan.day)
  if (days.length === 0 || cancers.some(({ past }) => past) || days.some((day) => day <= presentWithin)) return {}
  return { laterColorectalCancer: true, laterColorectalCancerDay: Math.min(...days) }
}
