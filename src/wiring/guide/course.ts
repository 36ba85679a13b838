import { course } from '../../record/course.ts'
import { bowelSites } from '../../record/words.ts'
import { answerIn, asGiven, asObserved, asPart, observedIn, silence, wordIn } from './observed.ts'
import type { CodesOn, Way, WaysOf } from './way.ts'

const landmarks = ['appendix-orifice', 'ileocaecal-valve']
const site: CodesOn = {
  on: 'Observation.valueCodeableConcept',
  conceptMaps: ['bowel-site'],
  ours: [...bowelSites, ...landmarks],
}
const extentOrLandmark: CodesOn = {
  on: 'Observation.code',
  ours: ['extent-reached', 'landmark-photograph'],
  valueSets: ['colonoscopy'],
}
const siteOfPicture: CodesOn = { ...site, on: 'Media.bodySite' }
const note =
  'A picture of a landmark: in the media of the examination’s report, part of the examination, or of its encounter or day.'
const picture: Way = { elements: ['Media.bodySite'], rungs: asGiven, codes: [siteOfPicture], note }
const reachedByPicture: Way = { ...picture, rungs: ['inferred from the extent'] }
const byStatus = (note: string): Way => ({
  elements: ['Procedure.status'],
  rungs: ['inferred from the status'],
  note,
})
const stopReasons: CodesOn = {
  on: 'Procedure.statusReason',
  conceptMaps: ['stop-reason'],
  ours: course.stopReason.values,
}
const asUsed = (codes: Omit<CodesOn, 'on'>, note?: string): Way => ({
  elements: ['Procedure.usedCode', 'Procedure.usedReference', 'Procedure.focalDevice'],
  rungs: ['own element'],
  codes: [{ on: 'Procedure.usedCode, or Device.type of a device used', ...codes }],
  ...(note && { note }),
})
const minutes = (code: string): Way =>
  observedIn(['valueQuantity', 'valuePeriod', 'valueInteger', 'valueString'], {
    ours: [code],
    note: 'A quantity in min, s or h (UCUM); a bare number is minutes; a period is measured; a text must be a number with its unit.',
  })
const act = (...valueSets: string[]): readonly Way[] => [
  {
    elements: ['Procedure.code'],
    rungs: asPart,
    codes: [{ on: 'Procedure.code', valueSets }],
    note: 'A sub-procedure: partOf the colonoscopy, or of its encounter.',
  },
  {
    elements: ['Procedure.code'],
    rungs: ['inferred from the procedure code'],
    codes: [{ on: 'Procedure.code', valueSets }],
    note: 'The colonoscopy’s own code.',
  },
]

export const courseAccepted: WaysOf<typeof course> = {
  report: [
    { elements: ['DiagnosticReport.status'], rungs: ['direct reference'], note: 'Of the report in Procedure.report.' },
    {
      elements: ['DiagnosticReport.status'],
      rungs: ['shared encounter'],
      codes: [{ on: 'DiagnosticReport.code', valueSets: ['endoscopy-report'] }],
    },
  ],
  completion: [
    {
      elements: ['Observation.valueCodeableConcept'],
      rungs: ['inferred from the extent'],
      codes: [extentOrLandmark, site],
      note: 'Caecum, ileum or anastomosis reached outranks a status of stopped; an anastomosis only where no other extent is stated or photographed.',
    },
    reachedByPicture,
    { elements: ['Procedure.status'], rungs: ['own element'], note: 'completed or stopped.' },
  ],
  stopReason: [{ elements: ['Procedure.statusReason'], rungs: ['own element'], codes: [stopReasons] }],
  extent: [
    { elements: ['Observation.valueCodeableConcept'], rungs: asObserved, codes: [extentOrLandmark, site] },
    picture,
  ],
  extentEvidence: [
    {
      elements: ['Observation.code'],
      rungs: asObserved,
      codes: [extentOrLandmark],
      note: 'A landmark photograph is evidence; anything else is a statement.',
    },
    picture,
  ],
  caecumReached: [
    {
      elements: ['Observation.valueCodeableConcept'],
      rungs: ['inferred from the extent'],
      codes: [extentOrLandmark, site],
    },
    reachedByPicture,
    byStatus('False for a stopped examination without any extent: none that cannot be read, either.'),
  ],
  completionPhotographed: [
    {
      elements: ['Observation.valueCodeableConcept'],
      rungs: asObserved,
      codes: [{ on: 'Observation.code', ours: ['landmark-photograph'] }, site],
    },
    picture,
    {
      elements: ['Observation.code'],
      rungs: ['inferred from the findings'],
      note: 'False where there is no such photograph: a fact about the record. Not recorded where a photograph’s landmark cannot be read.',
    },
  ],
  landmarkPhotographCount: [
    observedIn(['valueCodeableConcept'], {
      ours: ['landmark-photograph'],
      words: [...bowelSites, ...landmarks],
      conceptMaps: ['bowel-site'],
      note: 'One observation for each photograph; a landmark photographed twice counts once.',
    }),
    picture,
    silence('Observation.code', '0 where the source declares a complete feed of photographs.'),
  ],
  impassableStricture: [
    { elements: ['Procedure.statusReason'], rungs: ['own element'], codes: [stopReasons] },
    byStatus('False for a completed examination.'),
  ],
  ileum: [
    observedIn(['valueCodeableConcept', 'valueBoolean'], {
      ours: ['ileal-intubation'],
      words: [...course.ileum.values, 'yes'],
      note: 'A bare yes means done; a bare no does not say whether it was attempted, and is not read.',
    }),
    {
      elements: ['Observation.valueCodeableConcept', 'Observation.component.valueCodeableConcept'],
      rungs: ['inferred from the extent'],
      codes: [extentOrLandmark, { on: 'valueCodeableConcept', conceptMaps: ['bowel-site'], ours: ['ileum'] }],
    },
  ],
  retroflexion: [
    observedIn(['valueCodeableConcept', 'valueBoolean'], {
      ours: ['rectal-retroflexion'],
      words: [...course.retroflexion.values, 'yes'],
      note: 'A bare yes means done; a bare no does not say whether it was attempted, and is not read.',
    }),
    {
      elements: ['Procedure.code'],
      rungs: ['inferred from the procedure code'],
      codes: [{ on: 'Procedure.code', valueSets: ['retroflexion'] }],
    },
  ],
  insertionMinutes: [minutes('insertion-time')],
  withdrawalMinutes: [minutes('withdrawal-time')],
  tissueTakenOrTreated: [
    ...act('polypectomy', 'tissue-taken-or-treated', 'biopsy', 'tattoo'),
    {
      elements: ['DiagnosticReport'],
      rungs: ['inferred from pathology'],
      note: 'A specimen or a pathology report of the examination.',
    },
    {
      elements: ['Observation.component'],
      rungs: ['inferred from the findings'],
      codes: [{ on: 'Observation.component.code', ours: ['polyp-handling', 'polyp-tattooed'] }],
      note: 'A polyp that was removed, biopsied or tattooed.',
    },
    {
      ...observedIn(['valueInteger', 'valueQuantity', 'valueString'], {
        ours: ['biopsies-right', 'biopsies-left', 'biopsies-rectum'],
      }),
      note: 'A number of biopsies that is not 0.',
    },
    silence('Procedure.partOf', 'False where the source declares a complete feed of polyps.'),
  ],
  tattooPlaced: [
    ...act('tattoo'),
    {
      elements: ['Observation.component.valueBoolean'],
      rungs: ['inferred from the findings'],
      codes: [{ on: 'Observation.component.code', ours: ['polyp-tattooed'] }],
    },
  ],
  instrument: [
    asUsed({ conceptMaps: ['instrument'] }, 'One kind of colonoscope: of two nobody can say with which it began.'),
  ],
  instrumentExchanged: [
    answerIn('instrument-exchanged'),
    asUsed({ conceptMaps: ['instrument'] }, 'Two kinds of colonoscope.'),
  ],
  insufflation: [wordIn('insufflation', course.insufflation.values)],
  dye: [answerIn('dye'), asUsed({ ours: ['dye'] })],
  computerAidedDetection: [answerIn('computer-aided-detection'), asUsed({ ours: ['computer-aided-detection'] })],
}
