import type { history } from '../record/history.ts'

/** A kind of thing that may have been known before an examination. */
export interface HistoryKind {
  readonly field: Exclude<
    keyof typeof history,
    | 'inflammatoryBowelDiseaseActivity'
    | 'inflammatoryBowelDiseaseSeen'
    | 'resectedPart'
    | 'monthsSinceLastColonoscopy'
    | 'lastExaminationInadequate'
  >
  /** Value set of its codes; an observation that answers yes or no has the code of ours of the same name. */
  readonly set: string
  /** Value set of codes that speak of the past only: they tell of it whenever they are recorded, if not since when. */
  readonly pastSet?: string
  /** Code of ours of a narrower question: a yes to it tells of this kind too. */
  readonly narrower?: string
  /** Told by completed procedures too. */
  readonly byProcedure?: boolean
  /** A suspicion is enough. */
  readonly suspected?: boolean
  /** What has ended before the examination no longer counts. */
  readonly mustLast?: boolean
}

export const historyKinds: readonly HistoryKind[] = [
  { field: 'inflammatoryBowelDisease', set: 'inflammatory-bowel-disease' },
  { field: 'hereditarySyndrome', set: 'hereditary-syndrome', narrower: 'serrated-polyposis' },
  { field: 'earlierResection', set: 'earlier-resection', byProcedure: true },
  { field: 'strictureKnown', set: 'stricture', suspected: true },
  { field: 'severeDiverticulosis', set: 'severe-diverticulosis' },
  { field: 'pelvicSurgeryOrRadiotherapy', set: 'pelvic-surgery-or-radiotherapy', byProcedure: true },
  { field: 'earlierColorectalCancer', set: 'colorectal-cancer', pastSet: 'past-colorectal-cancer' },
  { field: 'antithrombotics', set: 'antithrombotic-use', mustLast: true },
  { field: 'serratedPolyposis', set: 'serrated-polyposis' },
  {
    field: 'familyHistoryOfColorectalCancer',
    set: 'family-history-of-colorectal-cancer',
    pastSet: 'family-history-of-colorectal-cancer',
  },
  { field: 'earlierAdenoma', set: 'earlier-adenoma', pastSet: 'past-adenoma' },
]

/** Kinds by the value sets that hold their codes. */
export const kindOfSet: ReadonlyMap<string, HistoryKind> = new Map(
  historyKinds.flatMap((kind) =>
    [kind.set, kind.pastSet].flatMap((set) => (set === undefined ? [] : [[set, kind] as const])),
  ),
)
