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
const besideOutcome = 'Component of the observation of the attachment or of its outcome, or an observation of its own.'
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
    answerIn('attachment-removed-before-caecum', besideOutcome),
    {
      elements: ['Observation.value[x]'],
      rungs: ['inferred from the findings'],
      note: 'False where it was kept or lost, or there was none.',
    },
  ],
  attachmentRemovalReason: [
    wordIn('attachment-removal-reason', accessory.attachmentRemovalReason.values, besideOutcome),
  ],
  attachmentReinserted: [answerIn('attachment-reinserted', besideOutcome)],
  mucosalInjury: [
    answerIn('mucosal-injury'),
    { ...injurySite, note: 'A site without any other value tells of an injury there.' },
    answerIn('mucosal-injury-treated', 'A treatment tells of an injury.'),
  ],
  mucosalInjurySite: [{ ...injurySite, note: 'Where every injury of the examination has the same site.' }],
  mucosalInjuryTreated: [
    answerIn('mucosal-injury-treated', 'Component of the observation of the injury, or an observation of its own.'),
  ],
}
