import type { TruthRow } from '../../src/local/demo/truth-row.ts'
import type { Colonoscopy, Polyp } from '../../src/record/colonoscopy.ts'

type Field = keyof Colonoscopy

/** Fields that a truth row names as the record does. */
const same = [
  'unit',
  'age',
  'sex',
  'setting',
  'operator',
  'operatorRole',
  'supervisor',
  'supervisorInRoom',
  'startTime',
  'takeover',
  'anaesthetistLed',
  'intent',
  'knownLesion',
  'inflammatoryBowelDisease',
  'inflammatoryBowelDiseaseActivity',
  'inflammatoryBowelDiseaseSeen',
  'hereditarySyndrome',
  'earlierResection',
  'resectedPart',
  'strictureKnown',
  'severeDiverticulosis',
  'pelvicSurgeryOrRadiotherapy',
  'earlierColorectalCancer',
  'antithrombotics',
  'serratedPolyposis',
  'familyHistoryOfColorectalCancer',
  'earlierAdenoma',
  'monthsSinceLastColonoscopy',
  'lastExaminationInadequate',
  'chronicDiarrhoea',
  'afterIncompleteExamination',
  'daysFromPositiveTest',
  'report',
  'ileum',
  'retroflexion',
  'insertionMinutes',
  'withdrawalMinutes',
  'instrument',
  'instrumentExchanged',
  'insufflation',
  'dye',
  'computerAidedDetection',
  'tattooPlaced',
  'preparationGrade',
  'comfortScorer',
  'patientExperience',
  'sedated',
  'midazolamMilligrams',
  'fentanylMicrograms',
  'pethidineMilligrams',
  'propofolMilligrams',
  'nitrousOxide',
  'antispasmodic',
  'reversalAgent',
  'attachment',
  'attachmentKind',
  'attachmentOutcome',
  'attachmentRemovedBeforeCaecum',
  'attachmentRemovalReason',
  'attachmentReinserted',
  'mucosalInjury',
  'mucosalInjurySite',
  'mucosalInjuryTreated',
  'knownLesionCount',
  'biopsiesRight',
  'biopsiesRightAtLeast',
  'biopsiesLeft',
  'biopsiesLeftAtLeast',
  'biopsiesRectum',
  'biopsiesRectumAtLeast',
  'largestAdenomaMillimetres',
  'villousAdenomaFound',
  'highGradeDysplasiaFound',
  'colitisDysplasiaFound',
  'eventCount',
  'bleedingDay',
  'bleedingSeverity',
  'perforationDay',
  'perforationSeverity',
  'cardiopulmonaryEvent',
  'cardiopulmonaryEventDay',
  'visits',
  'unplannedVisit',
  'unplannedVisitDay',
  'death',
  'deathDay',
  'advice',
  'advisedIntervalMonths',
  'adviceAfterPathology',
  'cancerWithinSixMonths',
  'laterColorectalCancer',
  'laterColorectalCancerDay',
] as const satisfies readonly (Field & keyof TruthRow)[]

/** Fields that follow from what a truth row says in other words. */
const derived: Readonly<Partial<Record<Field, (row: TruthRow) => unknown>>> = {
  examinationDate: ({ date }) => date,
  examinationMonth: ({ date }) => date?.slice(0, 7),
  referralReason: ({ reason }) => reason,
  reasonCount: ({ reasons }) => reasons?.length,
  reasons: ({ reasons }) => reasons && [...reasons].sort(),
  landmarkPhotographCount: ({ photographs, report }) =>
    photographs.length === 0 && report === 'preliminary' ? undefined : photographs.length,
  comfortScore: ({ comfort }) => comfort,
  // The region reads 0 to 4 as 1 to 5; the unit that scores so shows in the key of the examination.
  comfortOneToFive: ({ comfort, procedure }) =>
    comfort === undefined ? undefined : procedure.startsWith('Procedure/tar') ? comfort + 1 : comfort,
  polyps: ({ polyps }) => polyps.map(polypInWords).sort(),
  polypCount: ({ polyps }) => polyps.length,
  // Of a polyp of which nobody says what was done, nobody can say that nothing was sent either.
  pathology: ({ pathology, polyps }) =>
    pathology === 'not-sent' && polyps.some(({ handling }) => handling === undefined) ? undefined : pathology,
  polypsLeftCount: (row) => handled(row, 'left'),
  polypsNotFoundAgainCount: (row) => handled(row, 'not-found-again'),
  hospitalVisitCount: ({ visits }) => visits?.length,
}

/** Every field of which the truth has something to say. */
export const compared: readonly Field[] = [...same, ...(Object.keys(derived) as Field[])]

export function inTruth(field: Field, row: TruthRow): unknown {
  if (field === 'visits') return row.visits?.map(({ day, planned }) => [day, planned])
  const derive = derived[field]
  return derive === undefined ? row[field as keyof TruthRow] : derive(row)
}

export function inRecord(field: Field, record: Colonoscopy): unknown {
  if (field === 'reasons') return record.reasons?.map(({ reason }) => reason ?? '').sort()
  if (field === 'polyps') return record.polyps?.map(polypInWords).sort()
  if (field === 'visits') return record.visits?.map(({ day, planned }) => [day, planned])
  return record[field]
}

const parts = [
  'site',
  'sizeMillimetres',
  'shape',
  'handling',
  'tool',
  'resection',
  'retrieval',
  'tattooed',
  'predictedHistology',
  'suspectedCancer',
  'inaccessible',
  'removalAttempted',
  'sentForSurgery',
  'clearance',
  'histology',
  'dysplasia',
  'villous',
] as const satisfies readonly (keyof Polyp & keyof TruthRow['polyps'][number])[]

/** One polyp as a line, since polyps have no order. An exact size is its own bound. */
function polypInWords(polyp: Polyp | TruthRow['polyps'][number]): string {
  const atMost = polyp.sizeMillimetres ?? polyp.sizeAtMostMillimetres
  return [...parts.map((part) => `${part} ${polyp[part]}`), `at most ${atMost}`].join(', ')
}

const handled = ({ polyps }: TruthRow, how: string): number | undefined =>
  polyps.every(({ handling }) => handling !== undefined)
    ? polyps.filter(({ handling }) => handling === how).length
    : undefined
