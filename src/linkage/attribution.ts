import type { Colonoscopy } from '../record/colonoscopy.ts'
import { whoWhenWhere } from '../record/who-when-where.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import { operatorOf } from './operator.ts'
import { isOperator, isSupervisor, onlyPerson, type Performer, readPerformers } from './performers.ts'
import type { PersonKey } from './person-key.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { wordOf, yesOrNo } from './told-value.ts'

// linkWindow takes both from here.

type Attribution = Pick<
  Colonoscopy,
  'operator' | 'operatorRole' | 'supervisor' | 'supervisorInRoom' | 'takeover' | 'anaesthetistLed'
>

const functionElement = 'Procedure.performer.function'

/**
 * Who performed an examination, in which role, who supervised, whether anybody took over, and whether an anaesthetist led. Two
 * persons with the function of one are neither split nor doubled: nobody is named.
 */
export function attribute(examination: Examination, reading: Reading, personKey: PersonKey): Attribution {
  const performers = readPerformers(examination, reading, personKey)
  const operators = performers.filter(isOperator)
  const operator = operatorOf(performers, operators, examination, reading, personKey)
  const supervisors = performers.filter((one) => isSupervisor(one) && one.person !== operator)
  const supervisor = onlyPerson(supervisors, examination)
  const { people } = examination.observations
  return {
    operator,
    operatorRole: operatorRole(operators, operator, examination),
    supervisor,
    supervisorInRoom: inRoom(supervisors, supervisor, examination),
    takeover: people.length === 0 ? undefined : readTakeover(people, examination, reading),
    anaesthetistLed: readAnaesthetistLed(performers, people, examination, reading),
  }
}

/** Role of the operator, or of the nameless one who operated; one who is said to be both is in neither role. */
function operatorRole(
  operators: readonly Performer[],
  operator: string | undefined,
  { trail }: Examination,
): Attribution['operatorRole'] {
  const own = operators.filter(({ person }) => person === operator)
  const [first] = own
  // Nobody chosen among several named: the role of one of them would be a guess.
  if (first === undefined || (operator === undefined && own.length < operators.length)) return undefined
  if (own.some(({ role }) => role !== first.role)) {
    trail?.contradict('one person with two functions', ...own.map(({ procedure }) => procedure))
    return undefined
  }
  trail?.note('operatorRole', first.procedure, 'own element', functionElement)
  return first.role === 'operator' ? 'independent' : 'trainee'
}

function inRoom(
  supervisors: readonly Performer[],
  supervisor: string | undefined,
  { trail }: Examination,
): boolean | undefined {
  const own = supervisor === undefined ? [] : supervisors.filter(({ person }) => person === supervisor)
  const [first] = own
  if (first === undefined) return undefined
  trail?.note('supervisor', first.procedure, 'own element', functionElement)
  if (own.some(({ role }) => role !== first.role)) {
    trail?.contradict('one person with two functions', ...own.map(({ procedure }) => procedure))
    return undefined
  }
  trail?.note('supervisorInRoom', first.procedure, 'own element', functionElement)
  return first.role === 'supervisor-in-room'
}

/** What an observation of the takeover says; of several that differ the latest final one stands. */
function readTakeover(people: readonly Told[], examination: Examination, reading: Reading): Attribution['takeover'] {
  let said: Statement<NonNullable<Attribution['takeover']>>[] | undefined
  for (const told of people)
    if (told.code.fact === 'takeover' && isKnownYet(told.resource, reading.asOf, examination.zone))
      said = stated(said, wordOf('takeover', told, whoWhenWhere.takeover.values, examination, reading), told)
  return settle('takeover', said, examination)
}

/** Whether an anaesthetist led: by function or by observation. Where one says so and the other denies it, it is not recorded. */
function readAnaesthetistLed(
  performers: readonly Performer[],
  people: readonly Told[],
  examination: Examination,
  reading: Reading,
): boolean | undefined {
  const { trail, zone } = examination
  let said: Statement<boolean>[] | undefined
  for (const told of people)
    if (told.code.fact === 'anaesthetist-led' && isKnownYet(told.resource, reading.asOf, zone))
      said = stated(said, yesOrNo('anaesthetistLed', told, examination, reading), told)
  const byFunction = performers.find(({ role }) => role === 'anaesthetist')
  if (byFunction === undefined) return settle('anaesthetistLed', said, examination)
  const denial = said?.find(({ value }) => !value)
  if (denial !== undefined) {
    trail?.contradict('an anaesthetist performed, but did not lead', byFunction.procedure, denial.told.resource)
    return undefined
  }
  trail?.note('anaesthetistLed', byFunction.procedure, 'own element', functionElement)
  return true
}
