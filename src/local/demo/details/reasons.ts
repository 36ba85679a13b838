import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { Added } from './details.ts'

const inWords = ['Anaemia, cause?', 'Change of bowel habit', 'As discussed in clinic', 'Family history']

/** All stated reasons; where none is coded, a sentence stands there now and then. One in a hundred reports of polyps says normal. */
export function detailReasons(random: Random, { row, form, unit }: Plan, isSeenAgain: boolean): Added {
  const text = random.chance(6000) ? random.pick(inWords) : undefined
  const isMistaken = random.chance(80)
  const { reasons } = form
  const isCoded = reasons.length > 0 && form.reasonBy !== 'procedure-code'
  const calledNormal = row.report === 'final' && unit.id === 'ellenby' && row.polyps.length > 0 && isMistaken
  return {
    truth: {
      reasons: reasons.length > 0 ? reasons : undefined,
      knownLesion: isSeenAgain || reasons.includes('known-lesion') ? true : isCoded ? false : undefined,
    },
    written: { reasonText: reasons.length === 0 ? text : undefined, calledNormal: calledNormal || undefined },
  }
}
