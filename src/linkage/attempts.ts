import type { Colonoscopy } from '../record/colonoscopy.ts'
import { attempts } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import { elementOf, type Reading, type Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { wordOf, yesOrNo } from './told-value.ts'

type Attempt = (typeof attempts)[number]
type Attempts = Pick<Colonoscopy, 'ileum' | 'retroflexion'>

/**
 * Whether ileum and rectal retroflexion were attempted and done. What shows that a thing was done (an extent or photograph of
 * the ileum, a procedure code that says retroflexion) contradicts a statement that it was not: then it is not recorded.
 *
 * @param known the observations of the examination's course that are known by now
 * @param ileum what shows that the ileum was entered
 */
export function readAttempts(
  known: readonly Told[],
  ileum: Told | undefined,
  examination: Examination,
  reading: Reading,
): Attempts {
  let entered: Statement<Attempt>[] | undefined
  let turned: Statement<Attempt>[] | undefined
  for (const told of known) {
    const { fact } = told.code
    if (fact === 'ileal-intubation') entered = stated(entered, attemptOf('ileum', told, examination, reading), told)
    else if (fact === 'rectal-retroflexion')
      turned = stated(turned, attemptOf('retroflexion', told, examination, reading), told)
  }
  return {
    ileum: against('ileum', settle('ileum', entered, examination), ileum, examination),
    retroflexion: against(
      'retroflexion',
      settle('retroflexion', turned, examination),
      retroflexionCode(examination, reading),
      examination,
    ),
  }
}

/** A word, or yes. A mere no does not say whether it was attempted. */
function attemptOf(field: keyof Attempts, told: Told, examination: Examination, reading: Reading): Attempt | undefined {
  const { valueBoolean, valueCodeableConcept } = told.holder
  if (valueBoolean === undefined && reading.codes.fact(valueCodeableConcept) !== 'yes')
    return wordOf(field, told, attempts, examination, reading)
  const answer = yesOrNo(field, told, examination, reading)
  if (answer === false) examination.trail?.cannotRead(field, told.resource, elementOf(told, 'valueBoolean'))
  return answer === true ? 'done' : undefined
}

/** What is stated, against what shows that it was done. */
function against(
  field: keyof Attempts,
  said: Attempt | undefined,
  shown: Told | undefined,
  { trail }: Examination,
): Attempt | undefined {
  if (shown === undefined) return said
  if (said === undefined || said === 'done') {
    const isCode = shown.resource.resourceType === 'Procedure'
    trail?.note(
      field,
      shown.resource,
      isCode ? 'inferred from the procedure code' : 'inferred from the extent',
      isCode ? 'Procedure.code' : elementOf(shown, 'valueCodeableConcept'),
    )
    return 'done'
  }
  trail?.contradict('ileum or retroflexion said not to be done, but done', shown.resource)
  return undefined
}

/** Procedure whose own code says that retroflexion was done. */
function retroflexionCode({ all, children }: Examination, { codes }: Reading): Told | undefined {
  for (const resource of all) {
    const code = codes.of(resource.code)
    if (code.sets.has('retroflexion')) return { resource, holder: resource, code, rung: 'own element' }
  }
  return children.find(({ code }) => code.sets.has('retroflexion'))
}
