import type { Example } from './example.ts'
import { at, observation, ours, part, quantity, snomed } from './resources.ts'

export const course: readonly Example[] = [
  {
    id: 'stopped',
    title: 'Stopped in the sigmoid at a stricture',
    changes: { procedure: { status: 'stopped', statusReason: ours('impassable-stricture') } },
    resources: [observation('extent', ours('extent-reached'), { valueCodeableConcept: snomed('60184004') })],
    gives: {
      completion: 'stopped',
      stopReason: 'impassable-stricture',
      impassableStricture: true,
      extent: 'sigmoid',
      extentEvidence: 'stated',
      caecumReached: false,
    },
  },
  {
    id: 'photographs',
    title: 'The caecum, with two landmarks photographed',
    resources: [
      observation('photograph-1', ours('landmark-photograph'), { valueCodeableConcept: ours('appendix-orifice') }),
      observation('photograph-2', ours('landmark-photograph'), { valueCodeableConcept: ours('ileocaecal-valve') }),
    ],
    gives: {
      extent: 'caecum',
      extentEvidence: 'photograph',
      caecumReached: true,
      completionPhotographed: true,
      landmarkPhotographCount: 2,
    },
  },
  {
    id: 'picture',
    title: 'A landmark photographed, as a picture of its own',
    resources: [
      {
        resourceType: 'Media',
        id: 'example-picture',
        status: 'completed',
        partOf: [at('Procedure/example-colonoscopy')],
        subject: at('Patient/example-patient'),
        bodySite: ours('ileocaecal-valve'),
        content: { contentType: 'image/jpeg', url: 'https://pictures.example/1' },
      },
    ],
    gives: { extent: 'caecum', completionPhotographed: true, landmarkPhotographCount: 1 },
  },
  {
    id: 'open-report',
    title: 'A report that is not signed yet',
    changes: { report: { status: 'preliminary' } },
    gives: { report: 'preliminary' },
  },
  {
    id: 'attempts',
    title: 'Ileum attempted, retroflexion done',
    resources: [
      observation('ileum', ours('ileal-intubation'), { valueCodeableConcept: ours('attempted') }),
      observation('retroflexion', ours('rectal-retroflexion'), { valueBoolean: true }),
    ],
    gives: { ileum: 'attempted', retroflexion: 'done' },
  },
  {
    id: 'times',
    title: 'Insertion and withdrawal times',
    resources: [
      observation('insertion', ours('insertion-time'), { valueQuantity: quantity(7.5, 'min') }),
      observation('withdrawal', ours('withdrawal-time'), { valueQuantity: quantity(540, 's') }),
    ],
    gives: { insertionMinutes: 7.5, withdrawalMinutes: 9 },
  },
  {
    id: 'sub-procedures',
    title: 'A biopsy and a tattoo, as sub-procedures',
    resources: [part('biopsy', snomed('76164006')), part('tattoo', ours('tattoo'))],
    gives: { tissueTakenOrTreated: true, tattooPlaced: true },
  },
  {
    id: 'equipment',
    title: 'Colonoscope, insufflation and aids',
    changes: { procedure: { usedCode: [ours('adult-colonoscope'), ours('computer-aided-detection')] } },
    resources: [
      observation('insufflation', ours('insufflation'), { valueCodeableConcept: ours('carbon-dioxide') }),
      observation('dye', ours('dye'), { valueBoolean: false }),
      observation('exchange', ours('instrument-exchanged'), { valueBoolean: false }),
    ],
    gives: {
      instrument: 'adult',
      instrumentExchanged: false,
      insufflation: 'carbon-dioxide',
      dye: false,
      computerAidedDetection: true,
    },
  },
]
