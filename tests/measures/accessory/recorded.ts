import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'

/** A complete colonoscopy with a cuff from start to end, in a patient with nothing against it: all of it recorded. */
export const withCuff = {
  procedure: 'Procedure/1',
  source: 'northmoor',
  operator: 'operator-1',
  age: 60,
  report: 'final',
  completion: 'completed',
  impassableStricture: false,
  attachment: 'before-insertion',
  attachmentKind: 'cuff',
  attachmentOutcome: 'kept',
  attachmentRemovedBeforeCaecum: false,
  mucosalInjury: false,
  inflammatoryBowelDisease: false,
  inflammatoryBowelDiseaseSeen: false,
  hereditarySyndrome: false,
  antithrombotics: false,
  earlierResection: false,
  strictureKnown: false,
  severeDiverticulosis: false,
} as const satisfies Colonoscopy

/** Facts that differ from those; undefined takes one away. */
export type Facts = Partial<Colonoscopy>

export const recorded = (facts: Facts): Colonoscopy => ({ ...withCuff, ...facts })

/** What a record without an attachment says. */
export const without = {
  attachment: 'none',
  attachmentKind: undefined,
  attachmentOutcome: undefined,
} as const satisfies Facts

/** Colitis known beforehand, of some activity. */
export const colitis = (activity: Facts['inflammatoryBowelDiseaseActivity']): Facts => ({
  inflammatoryBowelDisease: true,
  inflammatoryBowelDiseaseActivity: activity,
})
