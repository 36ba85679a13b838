import type { Field } from './field.ts'
import { bowelSites } from './words.ts'

export const accessory = {
  attachment: {
    type: 'code',
    values: ['before-insertion', 'added-later', 'none'],
    short: 'Distal attachment on the scope tip: there from the start, put on later, or none.',
    filledBy:
      'Attachment observation, or a focal device whose action says that it was attached. A device merely used does not say when: absent, and listed; so is a statement of none beside one that was used.',
  },
  attachmentKind: {
    type: 'code',
    values: ['cuff', 'cap'],
    short: 'Kind of distal attachment.',
    filledBy:
      'Procedure.usedCode, or the type of the device used or handled. Absent where nothing says, or two kinds are told.',
  },
  attachmentOutcome: {
    type: 'code',
    values: ['kept', 'removed', 'detached'],
    short: 'What became of it: kept on to the end, taken off on purpose, or lost from the tip.',
    filledBy: 'Observation of its outcome, or the action of a focal device. Absent where nothing says.',
  },
  attachmentRemovedBeforeCaecum: {
    type: 'boolean',
    short: 'It was taken off before the caecum was reached.',
    filledBy:
      'Yes/no component of the observation of its outcome, or observation of its own. False where it was kept, was lost and not taken off, or there was none.',
  },
  attachmentRemovalReason: {
    type: 'code',
    values: ['narrowed-sigmoid', 'discomfort', 'looping', 'poor-view', 'severe-inflammation', 'other'],
    short: 'Why it was taken off.',
    filledBy:
      'Reason component of the observation of its outcome, or observation of its own. Absent where none is coded.',
  },
  attachmentReinserted: {
    type: 'boolean',
    short: 'The scope was inserted again with an attachment after it had been taken off or lost.',
    filledBy:
      'Yes/no component of the observation of its outcome, or observation of its own. Absent where nothing says.',
  },
  mucosalInjury: {
    type: 'boolean',
    short: 'Tear, abrasion or other injury of the mucosa seen.',
    filledBy:
      'Observation of mucosal injury: as yes/no, with a site alone, or told as treated. Absent where nothing says.',
  },
  mucosalInjurySite: {
    type: 'code',
    values: bowelSites,
    short: 'Where the mucosa was injured.',
    filledBy:
      'bodySite of the observation of mucosal injury. Absent where none is coded, or there are several injuries at different sites.',
  },
  mucosalInjuryTreated: {
    type: 'boolean',
    short: 'The mucosal injury was treated.',
    filledBy:
      'Yes/no component of the observation of mucosal injury, or observation of its own; of several injuries, true with one that was treated. Absent where nothing says, or nothing tells of an injury.',
  },
} as const satisfies Record<string, Field>
