import { asObjects } from '../fhir/json.ts'
import { wholeNumberOf } from '../fhir/quantity.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { comfortAndSedation } from '../record/comfort-and-sedation.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import type { PersonKey } from './person-key.ts'
import { elementOf, type Reading, type Told, valueElementOf } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { componentOf, listUnread, wordOf } from './told-value.ts'

type Comfort = Pick<Colonoscopy, 'comfortScale' | 'comfortScore' | 'comfortScorer' | 'comfortOneToFive'>
type Scorer = NonNullable<Comfort['comfortScorer']>
type Scale = NonNullable<Comfort['comfortScale']>

interface Scored {
  readonly told: Told
  readonly scale: Scale
  readonly score: number
  scorer: Scorer | undefined
}

const scales: Readonly<Record<string, { readonly scale: Scale; readonly least: number; readonly most: number }>> = {
  'comfort-one-to-five': { scale: 'one-to-five', least: 1, most: 5 },
  'comfort-zero-to-four': { scale: 'zero-to-four', least: 0, most: 4 },
}
const scorers = comfortAndSedation.comfortScorer.values

/**
 * Comfort as scored. Where several people scored it, the patient's own score is taken, else the nurse's, else the
 * endoscopist's, else one of which nobody says whose it is: those who look on rate differently, so scores are never mixed. A
 * rule of ours; common practice, no source. Of one person's scores on both scales the one from 1 to 5 is taken.
 *
 * The scorer may be told by an observation of its own: it then speaks for the only score whose scorer is not told.
 *
 * A score from 0 to 4 becomes one from 1 to 5 only by the map that the source declares, and stays apart where that has no entry.
 *
 * @param operator key of the person who performed the examination, who is known to have scored it where the performer is the same
 */
export function readComfort(
  examination: Examination,
  reading: Reading,
  operator: string | undefined,
  personKey: PersonKey,
): Comfort {
  const scored: Scored[] = []
  let scorersAlone: Told[] | undefined
  for (const told of comfortParts(examination, reading)) {
    if (told.code.fact === 'comfort-scorer') {
      scorersAlone ??= []
      scorersAlone.push(told)
      continue
    }
    const scale = scales[told.code.fact ?? '']
    if (scale === undefined) continue
    const score = wholeNumberOf(told.holder)
    if (score === undefined) continue
    if (score === 'unreadable' || score < scale.least || score > scale.most) {
      listUnread('comfortScore', told, examination, reading)
      if (score !== 'unreadable') examination.trail?.doubt('score outside its scale', told.resource)
    } else {
      const scorer = scorerOf(told, operator, personKey, examination, reading)
      scored.push({ told, scale: scale.scale, score, scorer })
    }
  }
  if (scorersAlone !== undefined) hearScorers(scorersAlone, scored, examination, reading)
  const best = scored.length < 2 ? scored : foremost(scored)
  const [one] = best
  if (one === undefined)
    return { comfortScale: undefined, comfortScore: undefined, comfortScorer: undefined, comfortOneToFive: undefined }
  let statements: Statement<number>[] | undefined
  for (const { told, score } of best) statements = stated(statements, score, told)
  const score = settle('comfortScore', statements, examination)
  const { trail } = examination
  if (score !== undefined)
    for (const { told } of best) trail?.note('comfortScale', told.resource, told.rung, elementOf(told, 'code'))
  return {
    comfortScale: score === undefined ? undefined : one.scale,
    comfortScore: score,
    comfortScorer: score === undefined ? undefined : one.scorer,
    comfortOneToFive: onOneToFive(one.scale, score, one.told, examination, reading),
  }
}

/** The observations of comfort that are known by now, each followed by those of its components that are scores themselves. */
function comfortParts(examination: Examination, { codes, asOf, survey }: Reading): readonly Told[] {
  const parts: Told[] = []
  for (const told of examination.observations.comfort) {
    const { resource, holder } = told
    if (!isKnownYet(resource, asOf, examination.zone)) continue
    parts.push(told)
    if (holder !== resource || resource.component === undefined) continue
    for (const component of asObjects(resource.component)) {
      const code = codes.of(component.code)
      if (scales[code.fact ?? ''] !== undefined) parts.push(componentOf(told, component, code))
      else if (code.fact !== 'comfort-scorer')
        survey?.missed('Observation.component.code (comfort)', component.code, examination.patient)
    }
  }
  return parts
}

/** Scorers told apart from a score; those of a panel were read with the score that stands in it. */
function hearScorers(
  scorersAlone: readonly Told[],
  scored: readonly Scored[],
  examination: Examination,
  reading: Reading,
): void {
  const alone = scorersAlone.filter(({ resource }) => !scored.some(({ told }) => told.resource === resource))
  let statements: Statement<Scorer>[] | undefined
  for (const told of alone)
    statements = stated(statements, wordOf('comfortScorer', told, scorers, examination, reading), told)
  const [one, ...more] = scored.filter(({ scorer }) => scorer === undefined)
  if (one !== undefined && more.length === 0) one.scorer = settle('comfortScorer', statements, examination)
  else
    for (const { told } of statements ?? [])
      examination.trail?.cannotRead('comfortScorer', told.resource, valueElementOf(told))
}

/** The scores of the first scorer in the order above, on one scale. */
function foremost(scored: readonly Scored[]): readonly Scored[] {
  for (const scorer of [...scorers, undefined]) {
    const theirs = scored.filter((one) => one.scorer === scorer)
    if (theirs.length === 0) continue
    const onFirst = theirs.filter(({ scale }) => scale === 'one-to-five')
    return onFirst.length > 0 ? onFirst : theirs
  }
  return []
}

/** Who scored: as a component says, else the performer where that is the patient or the operator. */
function scorerOf(
  told: Told,
  operator: string | undefined,
  personKey: PersonKey,
  examination: Examination,
  reading: Reading,
): Scorer | undefined {
  const { resource, holder } = told
  const { trail } = examination
  if (resource.component !== undefined)
    for (const component of asObjects(resource.component)) {
      if (component === holder) continue
      const code = reading.codes.of(component.code)
      if (code.fact !== 'comfort-scorer') continue
      const part = componentOf(told, component, code)
      const scorer = wordOf('comfortScorer', part, scorers, examination, reading)
      if (scorer !== undefined)
        trail?.note('comfortScorer', resource, told.rung, elementOf(part, 'valueCodeableConcept'))
      return scorer
    }
  for (const performer of asObjects(resource.performer)) {
    const isPatient = referenceKey(performer)?.startsWith('Patient/') === true
    if (!isPatient && (operator === undefined || personKey(performer, resource) !== operator)) continue
    trail?.note('comfortScorer', resource, told.rung, 'Observation.performer')
    return isPatient ? 'patient' : 'endoscopist'
  }
  return undefined
}

function onOneToFive(
  scale: Scale,
  score: number | undefined,
  told: Told,
  { trail }: Examination,
  { source }: Reading,
): number | undefined {
  const mapped = score === undefined || scale === 'one-to-five' ? score : source.comfortMap?.[String(score)]
  if (mapped !== undefined) trail?.note('comfortOneToFive', told.resource, told.rung, elementOf(told, 'value[x]'))
  return mapped
}
