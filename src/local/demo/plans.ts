import { dateOf, dayOf } from './calendar.ts'
import { takeCourse } from './course.ts'
import { makeFindings } from './findings.ts'
import { sendToPathology } from './pathology.ts'
import { knownBefore, recordedAge } from './patients.ts'
import type { Plan } from './plan.ts'
import type { Random } from './random.ts'
import {
  type DemoReason,
  type DemoUnit,
  type Endoscopist,
  endoscopists,
  practitionerKey,
  supervisors,
} from './region.ts'
import type { Slot } from './schedule.ts'
import type { TruthRow } from './truth-row.ts'

/** From this day on, some endoscopists have not finished their report yet. */
const firstUnfinished = dayOf('2026-06-20')

/** Decides everything that happened in one examination and how it was written down; events come afterwards. */
export function planExamination(random: Random, slot: Slot, number: number): Plan {
  const { unit, day, patient } = slot
  const date = dateOf(day)
  const key = `${unit.prefix}-${String(number).padStart(5, '0')}`
  const person = pickPerson(random, unit, slot.reason)
  const known = (kind: Parameters<typeof knownBefore>[1]) => knownBefore(patient, kind, day)
  const colitis = known('inflammatory-bowel-disease')
  const syndrome = known('hereditary-syndrome')
  const resected = known('earlier-resection')
  const course = takeCourse(random, slot, person, resected)
  const trueAge = recordedAge(patient.birthDate, date) ?? 0
  const attachment = pickAttachment(random, slot.reason)
  const condition = { plan: patient, age: trueAge, colitis, syndrome }
  const findings = makeFindings(random, slot, person, course, condition, attachment === 'before-insertion')
  const pathology = sendToPathology(random, unit, day, findings.jars)
  const form = chooseForm(random, slot, course.recorded.stopped)
  const removed = findings.polyps.some(({ handling }) => handling === 'removed')
  const report = pickReport(
    random,
    slot,
    course.recorded.stopped,
    removed,
    findings.polyps.length + findings.randomBiopsies,
  )
  const supervision = person.trainee && form.performer === 'person' ? supervise(random, unit) : undefined
  const age = recordedAge(patient.birthDateWritten, date)
  const attributed = form.performer === 'person'
  const reason = form.reasons[0]
  const row: TruthRow = {
    procedure: `Procedure/${key}`,
    kind: 'examination',
    patient: patient.id,
    ...(form.unitStated && { unit: unit.id }),
    ...(attributed && { operator: practitionerKey(person.number) }),
    ...(attributed && unit.id !== 'quernford' && { operatorRole: person.trainee ? 'trainee' : 'independent' }),
    ...(supervision && { supervisor: practitionerKey(supervision.number), supervisorInRoom: supervision.inRoom }),
    date,
    ...(age !== undefined && { age }),
    sex: patient.sex,
    ...(reason !== undefined && { reason }),
    ...(form.encounter && { setting: slot.setting }),
    inflammatoryBowelDisease: colitis,
    hereditarySyndrome: syndrome,
    earlierResection: resected,
    ...(report !== undefined && { report }),
    ...course.recorded,
    ...(random.chance(unit.attachmentRecorded) && {
      attachment,
      ...(attachment !== 'none' && { attachmentKind: random.chance(7500) ? 'cuff' : 'cap' }),
    }),
    polyps: findings.polyps,
    randomBiopsies: findings.randomBiopsies,
    pathology: pathology.state,
    confirmedAdenomas:
      pathology.state === 'final'
        ? findings.jars.reduce((sum, jar) => sum + (jar.nature === 'conventional-adenoma' ? jar.polyps.length : 0), 0)
        : 0,
  }
  return {
    row,
    key,
    unit,
    day,
    minute: slot.minute,
    length: random.between(18, 55),
    patient,
    person,
    ...(supervision && { supervisor: supervision.number }),
    form: { ...form, withdrawalAsBound: course.withdrawalAsBound },
    jars: findings.jars,
    pathology: { form: pathology.form, issuedDay: pathology.issuedDay },
    events: [],
  }
}

function pickPerson(random: Random, unit: DemoUnit, reason: DemoReason): Endoscopist {
  const lists = endoscopists.map((person) => {
    const share = person.lists[unit.id] ?? 0
    const suited = reason !== 'positive-screening-test' || person.screeningLists ? 4 : person.trainee ? 0 : 1
    return [person, share * (reason === 'positive-screening-test' ? suited : 4)] as const
  })
  return random.weighted(lists)
}

function supervise(random: Random, unit: DemoUnit): { number: string; inRoom: boolean } {
  return { number: random.pick(supervisors[unit.id] ?? []), inRoom: random.chance(8200) }
}

/** Chosen by list, not by chance: far more often after a positive screening test. */
function pickAttachment(random: Random, reason: DemoReason): 'before-insertion' | 'added-later' | 'none' {
  const share = reason === 'positive-screening-test' ? 66 : reason === 'surveillance' ? 30 : 18
  return random.weighted([
    ['before-insertion', share],
    ['added-later', 2],
    ['none', 98 - share],
  ] as const)
}

function chooseForm(random: Random, slot: Slot, stopped: boolean): Omit<Plan['form'], 'withdrawalAsBound'> {
  const { unit, reason, setting } = slot
  const encounter = unit.id !== 'ellenby' || setting !== 'outpatient' || !random.chance(90)
  const odd = random.chance(35)
  const date = slot.staged
    ? 'period'
    : random.weighted([
        ['period', 975],
        ['moment', 17],
        ['day', 8],
      ] as const)
  const byCode = reason === 'screening' && unit.id === 'ellenby' && random.chance(3000)
  const written = byCode || random.chance(unit.reasonRecorded)
  return {
    encounter,
    unitStated: !random.chance(unit.id === 'tarnhollow' ? 25 : 8),
    performer: !odd || unit.id === 'tarnhollow' ? 'person' : unit.id === 'ellenby' ? 'organisation' : 'two-people',
    date,
    // Far from midnight, so that the copy's later start lies on the same day.
    copy: random.chance(110) && date === 'period' && !stopped && slot.minute < 1380,
    gastroscopy: unit.id !== 'tarnhollow' && encounter && reason === 'symptoms' && random.chance(350),
    reasons: written ? withSecondReason(random, reason, byCode) : [],
    reasonBy: byCode ? 'procedure-code' : reason === 'screening' && random.chance(3500) ? 'icd' : 'fact-code',
    variant: random.below(100),
  }
}

/** The reason that goes before the other stands first; both are written. */
function withSecondReason(random: Random, reason: DemoReason, alone: boolean): DemoReason[] {
  const second = { surveillance: 'symptoms', 'positive-screening-test': 'symptoms', symptoms: 'screening' } as const
  const other = reason in second ? second[reason as keyof typeof second] : undefined
  return other !== undefined && !alone && random.chance(350) ? [reason, other] : [reason]
}

function pickReport(
  random: Random,
  slot: Slot,
  stopped: boolean,
  removed: boolean,
  tissue: number,
): TruthRow['report'] | undefined {
  if (slot.day >= firstUnfinished && removed && random.chance(900)) return 'preliminary'
  // Nothing found, carried through, and no report of its own ever written.
  if (slot.unit.id === 'ellenby' && tissue === 0 && !stopped && random.chance(110)) return undefined
  return 'final'
}
