import type { Meaning } from '../fhir/codes.ts'

/** What an observation of an examination tells of: which reader it is for. */
export type Topic = 'polyp' | 'polyp-size' | 'preparation' | 'course' | 'measurement'

/** Topics of the facts that an observation's code can name. */
const ofFacts: ReadonlyMap<string, Topic> = new Map<string, Topic>([
  ['landmark-photograph', 'course'],
  ['extent-reached', 'course'],
  ['intent', 'course'],
])

/** Topics of the value sets that an observation's code can be in. A colonoscopy code with a site as its value states extent. */
const ofSets: readonly (readonly [string, Topic])[] = [
  ['polyp-finding', 'polyp'],
  ['polyp-size', 'polyp-size'],
  ['boston-segment', 'preparation'],
  ['boston-total', 'preparation'],
  ['preparation-observation', 'preparation'],
  ['colonoscopy', 'course'],
]

const known = new WeakMap<Meaning, Topic>()

/** Topic of a code's meaning; anything else may carry a measurement, itself or in a component. */
export function topicOf(meaning: Meaning): Topic {
  const before = known.get(meaning)
  if (before !== undefined) return before
  const byFact = meaning.fact === undefined ? undefined : ofFacts.get(meaning.fact)
  const topic = ofSets.find(([set]) => meaning.sets.has(set))?.[1] ?? byFact ?? 'measurement'
  known.set(meaning, topic)
  return topic
}
