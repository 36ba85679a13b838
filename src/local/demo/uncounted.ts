import type { FhirResource, Procedure } from 'fhir/r4'
import { clockChanges, dateOf, firstDay, isWorkday, lastDay } from './calendar.ts'
import { newPatient } from './patients.ts'
import type { PatientPlan } from './plan.ts'
import type { Random } from './random.ts'
import { type DemoUnit, units } from './region.ts'
import { concept, fact, refer } from './resources/codes.ts'
import { writePatient } from './resources/patient.ts'
import type { TruthRow } from './truth-row.ts'

type Kind = 'not-done' | 'entered-in-error' | 'undated'

/** Procedures that count nowhere: not done, entered in error, or without a date. */
export function writeUncounted(random: Random): { resources: FhirResource[]; rows: TruthRow[] } {
  const kinds: Kind[] = [
    ...Array.from({ length: 58 }, () => 'not-done' as const),
    ...Array.from({ length: 17 }, () => 'entered-in-error' as const),
    ...Array.from({ length: 3 }, () => 'undated' as const),
  ]
  const resources: FhirResource[] = []
  const rows: TruthRow[] = []
  kinds.forEach((kind, position) => {
    const day = pickWorkday(random)
    const unit = random.pick(units)
    const patient = newPatient(random, `patient-u${String(position + 1).padStart(3, '0')}`, 'symptoms', day)
    const procedure = writeProcedure(
      kind,
      unit,
      day,
      patient,
      `${unit.prefix}-u${String(position + 1).padStart(3, '0')}`,
    )
    resources.push(...writePatient(patient), procedure)
    rows.push(emptyRow(kind, procedure, patient, day))
  })
  return { resources, rows }
}

function pickWorkday(random: Random): number {
  for (;;) {
    const day = random.between(firstDay, lastDay)
    if (isWorkday(day) && !clockChanges(day)) return day
  }
}

function writeProcedure(kind: Kind, unit: DemoUnit, day: number, patient: PatientPlan, id: string): Procedure {
  return {
    resourceType: 'Procedure',
    id,
    status: kind === 'undated' ? 'completed' : kind,
    ...(kind === 'not-done' && { statusReason: fact('inadequate-preparation') }),
    code: unit.id === 'quernford' ? concept('localProcedures', 'COL-1') : concept('snomed', '73761001'),
    subject: refer('Patient', patient.id),
    ...(kind !== 'undated' && { performedDateTime: dateOf(day) }),
    ...(unit.id === 'ellenby' && { location: refer('Location', 'room-ellenby') }),
  }
}

function emptyRow(kind: Kind, procedure: Procedure, patient: PatientPlan, day: number): TruthRow {
  return {
    procedure: `Procedure/${procedure.id}`,
    kind,
    patient: patient.id,
    ...(kind !== 'undated' && { date: dateOf(day) }),
    intent: 'complete',
    inflammatoryBowelDisease: false,
    hereditarySyndrome: false,
    earlierResection: false,
    stopped: false,
    photographs: [],
    polyps: [],
    randomBiopsies: 0,
    pathology: 'not-sent',
    confirmedAdenomas: 0,
  }
}
