import type { Plan } from '../plan.ts'
import { createStream } from '../random.ts'
import type { TruthDetails } from '../truth-details.ts'
import { detailAccessory } from './accessory.ts'
import { detailAdvice } from './advice.ts'
import { adviceAfterPathology, cancerWithinSixMonths } from './after.ts'
import { detailBefore } from './before.ts'
import { detailBiopsies } from './biopsies.ts'
import { detailComfort } from './comfort.ts'
import type { Added, Details } from './details.ts'
import { detailEquipment } from './equipment.ts'
import { detailEvents } from './events.ts'
import { detailHistory } from './history.ts'
import { detailOutcomes } from './outcomes.ts'
import { detailPatient } from './patients.ts'
import { detailPeople } from './people.ts'
import { detailPolyps } from './polyps.ts'
import { detailReasons } from './reasons.ts'
import { detailSedation } from './sedation.ts'
import { streams } from './streams.ts'
import { detailTissue } from './tissue.ts'
import { detailVisits } from './visits.ts'

/** Days after an examination within which another one of the patient could be what a visit came after. */
const entangled = 60

/**
 * Everything that is recorded beyond the facts of the first measures. Drawn from streams of their own, one for each patient
 * and each examination, so that it moves no fact that was there before.
 */
export function addDetails(plans: readonly Plan[]): Plan[] {
  const ofPatient = Map.groupBy(plans, ({ patient }) => patient)
  const patients = new Map([...ofPatient].map(([patient, own]) => [patient, detailPatient(patient, own)]))
  return plans.map((plan) => {
    const patient = patients.get(plan.patient) ?? plan.patient
    const isAlone =
      patient.death === undefined &&
      (ofPatient.get(plan.patient) ?? []).every(
        (other) => other === plan || other.day < plan.day || other.day > plan.day + entangled,
      )
    const others = (ofPatient.get(plan.patient) ?? []).filter((other) => other !== plan)
    return detailExamination({ ...plan, patient }, isAlone, others)
  })
}

function detailExamination(plan: Plan, isAlone: boolean, others: readonly Plan[]): Plan {
  const number = Number(plan.key.replace(/\D/g, ''))
  const random = createStream(streams.examinations, number)
  const later = createStream(streams.outcomes, number)
  const people = detailPeople(random, plan)
  const polyps = detailPolyps(random, plan)
  const tissue = detailTissue(random, plan, detailOutcomes(later, plan, polyps.polyps))
  const row = { ...plan.row, polyps: tissue.polyps }
  const parts: Added[] = [
    people,
    polyps,
    tissue,
    detailSedation(random, plan, people.byAnaesthetist, people.truth.anaesthetistLed),
    detailEquipment(random, plan),
    detailComfort(random, plan),
    detailAccessory(random, plan),
    detailAdvice(random, plan),
    detailVisits(random, plan, isAlone),
    detailEvents(random, plan),
    detailHistory(random, plan),
    detailBiopsies(later, plan),
    detailReasons(random, plan, (polyps.truth.knownLesionCount ?? 0) > 0),
    detailBefore(createStream(streams.before, number), plan, others),
  ]
  const truth: TruthDetails = Object.assign({}, ...parts.map((part) => part.truth), ends(plan))
  const details: Details = Object.assign({}, ...parts.map(({ written }) => written))
  const told = { ...row, ...truth }
  const afterwards: TruthDetails = {
    adviceAfterPathology: adviceAfterPathology(told, details.advice?.amended),
    cancerWithinSixMonths: cancerWithinSixMonths(plan),
  }
  return { ...plan, row: { ...told, ...afterwards }, details }
}

/** When it began, and whether and when the patient died. A death dated before it contradicts it. */
function ends({ day, minute, form, patient: { death } }: Plan): TruthDetails {
  const written = (part: number) => String(part).padStart(2, '0')
  const startTime = form.date === 'day' ? undefined : `${written(Math.trunc(minute / 60))}:${written(minute % 60)}`
  if (death === undefined) return { startTime, death: false }
  if (!death.dated) return { startTime, death: true }
  return death.day < day ? { startTime } : { startTime, death: true, deathDay: death.day - day }
}
