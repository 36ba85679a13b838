import { readFileSync } from 'node:fs'
import type { Measure } from 'fhir/r4'
import { parseCriterion } from '../../src/criteria/parse.ts'
import { type CompiledMeasure, compileMeasure } from '../../src/measures/compiled-measure.ts'
import { readMeasure } from '../../src/measures/read-measure.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { fields } from '../../src/record/fields.ts'
import type { Answer } from '../../src/tally/answer.ts'
import { answerOf } from '../../src/tally/answer-of.ts'

const known = new Map<string, CompiledMeasure>()

/** A measure as its published file states it. */
export function measureOf(id: string): CompiledMeasure {
  const found = known.get(id)
  if (found) return found
  const resource = JSON.parse(readFileSync(`measures/Measure-${id}.json`, 'utf8')) as Measure
  const made = compileMeasure(readMeasure(resource, (expression, want) => parseCriterion(expression, want, fields)))
  known.set(id, made)
  return made
}

/** An ordinary examination: a screening outpatient of 60, complete, well prepared, nothing found or taken, all of it recorded. */
export const ordinary = {
  procedure: 'Procedure/1',
  source: 'northmoor',
  age: 60,
  setting: 'outpatient',
  report: 'final',
  operatorRole: 'independent',
  referralReason: 'screening',
  referredForKnownLesion: false,
  afterIncompleteExamination: false,
  chronicDiarrhoea: false,
  intent: 'complete',
  completion: 'completed',
  extent: 'caecum',
  caecumReached: true,
  completionPhotographed: true,
  landmarkPhotographCount: 2,
  impassableStricture: false,
  inflammatoryBowelDisease: false,
  inflammatoryBowelDiseaseSeen: false,
  earlierResection: false,
  ileum: 'done',
  retroflexion: 'done',
  insertionMinutes: 8,
  withdrawalMinutes: 9,
  tissueTakenOrTreated: false,
  polypCount: 0,
  knownLesionCount: 0,
  preparationScale: 'boston',
  preparationRight: 3,
  preparationTransverse: 3,
  preparationLeft: 3,
  segmentsAllAtLeast2: true,
  stoppedForPreparation: false,
  comfortScale: 'one-to-five',
  comfortScore: 1,
  pathology: 'not-sent',
} as const satisfies Colonoscopy

/** Facts that differ from the ordinary ones; undefined takes one away. */
export type Facts = Partial<Colonoscopy>

const longAgo = { day: 20_000, asOfDay: 21_000, pathologyLagDays: 60, eventLagDays: 0 }

/** What an examination that is ordinary but for some facts answers to a measure, long after it. */
export const answerTo = (id: string, facts: Facts): Answer =>
  answerOf(measureOf(id), { ...ordinary, ...facts }, longAgo)
