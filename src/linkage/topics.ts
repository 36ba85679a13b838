import type { Meaning } from '../fhir/meaning.ts'

/** What an observation of an examination tells of: which reader it is for. */
export const topics = [
  'polyp',
  'polyp-size',
  'preparation',
  'course',
  'time',
  'comfort',
  'equipment',
  'attachment',
  'history',
  'people',
  'advice',
  'biopsies',
  'other',
] as const
export type Topic = (typeof topics)[number]

/** Topics of the facts that an observation's code can name. */
const ofFacts: Readonly<Record<string, Topic>> = {
  'landmark-photograph': 'course',
  'extent-reached': 'course',
  intent: 'course',
  'ileal-intubation': 'course',
  'rectal-retroflexion': 'course',
  'withdrawal-time': 'time',
  'insertion-time': 'time',
  'comfort-one-to-five': 'comfort',
  'comfort-zero-to-four': 'comfort',
  'comfort-scorer': 'comfort',
  'instrument-exchanged': 'equipment',
  insufflation: 'equipment',
  dye: 'equipment',
  'computer-aided-detection': 'equipment',
  'distal-attachment': 'attachment',
  'attachment-outcome': 'attachment',
  'attachment-removed-before-caecum': 'attachment',
  'attachment-removal-reason': 'attachment',
  'attachment-reinserted': 'attachment',
  'mucosal-injury': 'attachment',
  'mucosal-injury-treated': 'attachment',
  'inflammatory-activity': 'history',
  'inflammatory-bowel-disease': 'history',
  'hereditary-syndrome': 'history',
  'earlier-resection': 'history',
  stricture: 'history',
  'severe-diverticulosis': 'history',
  'pelvic-surgery-or-radiotherapy': 'history',
  'colorectal-cancer': 'history',
  'antithrombotic-use': 'history',
  'serrated-polyposis': 'history',
  'family-history-of-colorectal-cancer': 'history',
  'earlier-adenoma': 'history',
  'last-colonoscopy': 'history',
  'last-examination-inadequate': 'history',
  'chronic-diarrhoea': 'history',
  'after-incomplete-examination': 'history',
  'positive-test-date': 'history',
  'patient-experience': 'people',
  takeover: 'people',
  'anaesthetist-led': 'people',
  advice: 'advice',
  'advised-interval': 'advice',
  'biopsies-right': 'biopsies',
  'biopsies-left': 'biopsies',
  'biopsies-rectum': 'biopsies',
}

/** Topics of the value sets that an observation's code can be in. A colonoscopy code with a site as its value states extent. */
const ofSets: readonly (readonly [string, Topic])[] = [
  ['polyp-finding', 'polyp'],
  ['polyp-size', 'polyp-size'],
  ['boston-segment', 'preparation'],
  ['boston-total', 'preparation'],
  ['preparation-observation', 'preparation'],
  ['colonoscopy', 'course'],
]

/** What is said of one polyp: by itself, of no polyp, it can be read by nobody. */
const ofPolypsOnly: ReadonlySet<string | undefined> = new Set([
  ...['known-lesion-seen-again', 'polyp-handling', 'polyp-retrieval', 'polyp-shape', 'polyp-tool', 'polyp-resection'],
  ...['polyp-tattooed', 'predicted-histology', 'polyp-sent-for-surgery', 'polyp-removal-attempted'],
  ...['polyp-inaccessible', 'polyp-suspected-cancer', 'polyp-clearance'],
])

/** Whether an observation with such a code tells of a part of a thing that it does not name, so that no reader takes it. */
export const isPartOnly = ({ fact }: Meaning): boolean => ofPolypsOnly.has(fact)

const known = new WeakMap<Meaning, Topic>()

/** Topic of a code's meaning. A panel whose own code says nothing may carry any of them in its components: other. */
export function topicOf(meaning: Meaning): Topic {
  const before = known.get(meaning)
  if (before !== undefined) return before
  const byFact = meaning.fact === undefined ? undefined : ofFacts[meaning.fact]
  const topic = ofSets.find(([set]) => meaning.sets.has(set))?.[1] ?? byFact ?? 'other'
  known.set(meaning, topic)
  return topic
}
