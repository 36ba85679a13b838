import { accessory } from '../../record/accessory.ts'
import { bowelSites } from '../../record/words.ts'
import { answerIn, asObserved, wordIn } from './observed.ts'
import type { Way, WaysOf } from './way.ts'

const action = (...ours: string[]): Way => ({
  elements: ['Procedure.focalDevice.action'],
  rungs: ['own element'],
  codes: [
    { on: 'Procedure.focalDevice.action', ours },
    { on: 'Device.type of focalDevice.manipulated', ours: accessory.attachmentKind.values },
  ],
})
/** A component that is read with the observation of the attachment or of its outcome. */
const beside = (element: string, code: string, words?: readonly string[]): Way => ({
  elements: [`Observation.component.${element}`],
  rungs: asObserved,
  codes: [
    { on: 'Observation.code', ours: ['attachment-outcome', 'distal-attachment'] },
    { on: 'Observation.component.code', ours: [code] },
    ...(words ? [{ on: 'Observation.component.valueCodeableConcept', ours: words }] : []),
  ],
})
const injurySite = {
  elements: ['Observation.bodySite'],
  rungs: asObserved,
  codes: [
    { on: 'Observation.code', ours: ['mucosal-injury'] },
    { on: 'Observation.bodySite', conceptMaps: ['bowel-site'], ours: bowelSites },
  ],
} as const satisfies Way

export const accessoryAccepted: WaysOf<typeof accessory> = {
  attachment: [wordIn('distal-attachment', accessory.attachment.values), action('before-insertion', 'added-later')],
  attachmentKind: [
    {
      elements: ['Procedure.usedCode', 'Procedure.usedReference', 'Procedure.focalDevice'],
      rungs: ['own element'],
      codes: [{ on: 'Procedure.usedCode, or Device.type of a device used', ours: accessory.attachmentKind.values }],
    },
  ],
  attachmentOutcome: [wordIn('attachment-outcome', accessory.attachmentOutcome.values), action('removed', 'detached')],
  attachmentRemovedBeforeCaecum: [
    beside('valueBoolean', 'attachment-removed-before-caecum'),
    beside('valueCodeableConcept', 'attachment-removed-before-caecum', ['yes', 'no']),
    {
      elements: ['Observation.value[x]'],
      rungs: ['inferred from the findings'],
      note: 'False where it was kept or lost, or there was none.',
    },
  ],
  attachmentRemovalReason: [
    beside('valueCodeableConcept', 'attachment-removal-reason', accessory.attachmentRemovalReason.values),
  ],
  attachmentReinserted: [
    beside('valueBoolean', 'attachment-reinserted'),
    beside('valueCodeableConcept', 'attachment-reinserted', ['yes', 'no']),
  ],
  mucosalInjury: [
    answerIn('mucosal-injury'),
    { ...injurySite, note: 'A site without any other value tells of an injury there.' },
  ],
  mucosalInjurySite: [{ ...injurySite, note: 'Where every injury of the examination has the same site.' }],
  mucosalInjuryTreated: [
    {
      elements: ['Observation.component.valueBoolean', 'Observation.component.valueCodeableConcept'],
      rungs: asObserved,
      codes: [
        { on: 'Observation.code', ours: ['mucosal-injury'] },
        { on: 'Observation.component.code', ours: ['mucosal-injury-treated'] },
      ],
    },
  ],
}
