import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Closure, Row } from './closure.ts'
import type { Scalar } from './criterion.ts'

/**
 * The fields that measures read most, each by a property access of its own: the engine then remembers where that field
 * lies, which halves the time of a read. One function for all names would have it looked up anew each time. Fields that
 * are not here are read all the same, only more slowly.
 */
const own = {
  adenomaCount: (record) => record.adenomaCount,
  adenomaCountLower: (record) => record.adenomaCountLower,
  adenomaCountUpper: (record) => record.adenomaCountUpper,
  adenomaFound: (record) => record.adenomaFound,
  age: (record) => record.age,
  attachment: (record) => record.attachment,
  bleeding: (record) => record.bleeding,
  bleedingDay: (record) => record.bleedingDay,
  caecumReached: (record) => record.caecumReached,
  completionPhotographed: (record) => record.completionPhotographed,
  earlierResection: (record) => record.earlierResection,
  hereditarySyndrome: (record) => record.hereditarySyndrome,
  impassableStricture: (record) => record.impassableStricture,
  inflammatoryBowelDisease: (record) => record.inflammatoryBowelDisease,
  intent: (record) => record.intent,
  perforation: (record) => record.perforation,
  perforationDay: (record) => record.perforationDay,
  polypCount: (record) => record.polypCount,
  polypRemoved: (record) => record.polypRemoved,
  polypsWithoutObtainableHistology: (record) => record.polypsWithoutObtainableHistology,
  preparationLevel: (record) => record.preparationLevel,
  preparationScale: (record) => record.preparationScale,
  referralReason: (record) => record.referralReason,
  segmentsAllAtLeast2: (record) => record.segmentsAllAtLeast2,
  setting: (record) => record.setting,
  stoppedForPreparation: (record) => record.stoppedForPreparation,
  tissueTakenOrTreated: (record) => record.tissueTakenOrTreated,
  withdrawalMinutes: (record) => record.withdrawalMinutes,
} as const satisfies { [Name in keyof Colonoscopy]?: (record: Colonoscopy) => Colonoscopy[Name] }

/** @returns a function that reads a field of the record, or of the list's element in focus */
export function reader(name: string): Closure {
  if (Object.hasOwn(own, name)) return own[name as keyof typeof own] as Closure
  return (focus) => (focus as Row)[name] as Scalar | undefined
}
