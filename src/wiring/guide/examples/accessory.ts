import type { Example } from './example.ts'
import { answer, observation, ours, snomed, word } from './resources.ts'

export const accessory: readonly Example[] = [
  {
    id: 'attachment',
    title: 'A cuff that was taken off before the caecum and put on again',
    changes: { procedure: { usedCode: [ours('cuff')] } },
    resources: [
      observation('attachment', ours('distal-attachment'), { valueCodeableConcept: ours('before-insertion') }),
      observation('attachment-outcome', ours('attachment-outcome'), {
        valueCodeableConcept: ours('removed'),
        component: [
          answer('attachment-removed-before-caecum', true),
          word('attachment-removal-reason', 'narrowed-sigmoid'),
          answer('attachment-reinserted', true),
        ],
      }),
    ],
    gives: {
      attachment: 'before-insertion',
      attachmentKind: 'cuff',
      attachmentOutcome: 'removed',
      attachmentRemovedBeforeCaecum: true,
      attachmentRemovalReason: 'narrowed-sigmoid',
      attachmentReinserted: true,
    },
  },
  {
    id: 'mucosal-injury',
    title: 'An injury of the mucosa, treated',
    resources: [
      observation('injury', ours('mucosal-injury'), {
        valueBoolean: true,
        bodySite: snomed('60184004'),
        component: [answer('mucosal-injury-treated', true)],
      }),
    ],
    gives: { mucosalInjury: true, mucosalInjurySite: 'sigmoid', mucosalInjuryTreated: true },
  },
]
