import { dayOf } from '../calendar.ts'
import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { UnitId } from '../region.ts'
import type { Attempt } from '../truth-details.ts'
import type { Added } from './details.ts'
import { habits } from './habits.ts'

const gases: Readonly<Record<UnitId, readonly (readonly ['air' | 'carbon-dioxide' | 'water', number])[]>> = {
  ellenby: [
    ['carbon-dioxide', 82],
    ['water', 17],
    ['air', 1],
  ],
  tarnhollow: [
    ['carbon-dioxide', 90],
    ['water', 4],
    ['air', 6],
  ],
  quernford: [
    ['carbon-dioxide', 62],
    ['air', 38],
  ],
}

/** From this day on, one unit has computer-aided detection in some of its rooms. */
const detectionFrom = dayOf('2025-10-01')

/** Ileum, retroflexion, gas, instrument and aids, and times that nobody can read. */
export function detailEquipment(random: Random, plan: Plan): Added {
  const ends = [ileum(random, plan), retroflexion(random, plan), instrument(random, plan), aids(random, plan)]
  const { unit, row, form } = plan
  const gas = random.weighted(gases[unit.id])
  const isGasSaid = random.chance(habits[unit.id].insufflation)
  const toTheEnd = row.extent === 'caecum' || row.extent === 'ileum'
  const inWords = toTheEnd && row.insertionMinutes === undefined && unit.id === 'tarnhollow' && random.chance(160)
  const isZero =
    toTheEnd &&
    row.withdrawalMinutes === undefined &&
    !form.withdrawalAsBound &&
    unit.id === 'quernford' &&
    random.chance(500)
  const ungraded = unit.id === 'tarnhollow' && row.preparation === undefined && !row.stopped && random.chance(5000)
  return {
    truth: Object.assign({}, ...ends.map(({ truth }) => truth), {
      insufflation: isGasSaid ? gas : undefined,
      preparationGrade: ungraded ? random.pick(['excellent', 'good', 'good', 'fair', 'poor'] as const) : undefined,
    }),
    written: Object.assign({}, ...ends.map(({ written }) => written), {
      insertionText: inWords ? random.pick(['>6', 'approx. ten', '5 or so']) : undefined,
      withdrawalZero: isZero || undefined,
      unmappedTerm: (unit.id === 'quernford' && random.chance(300)) || undefined,
    }),
  }
}

/** An extent or a photograph of the ileum shows that it was entered; now and then the answer beside it says otherwise. */
function ileum(random: Random, { row, unit }: Plan): Added {
  const shown = row.extent === 'ileum' || row.photographs.includes('ileum')
  const tried: Attempt = shown
    ? 'done'
    : random.weighted([
        ['not-attempted', 72],
        ['attempted', 28],
      ] as const)
  const isSaid = (shown || row.extent === 'caecum') && random.chance(habits[unit.id].ileum)
  if (isSaid && shown && random.chance(25)) return { truth: {}, written: { ileumSaid: 'not-attempted' } }
  return {
    truth: { ileum: shown || isSaid ? tried : undefined },
    written: { ileumSaid: isSaid ? tried : undefined },
  }
}

/** One unit answers yes or no; its mere no does not say whether it was attempted. */
function retroflexion(random: Random, { row, unit }: Plan): Added {
  const tried = random.weighted<Attempt>([
    ['done', 84],
    ['not-attempted', 12],
    ['attempted', 4],
  ])
  if (row.stopped || !random.chance(habits[unit.id].retroflexion)) return { truth: {}, written: {} }
  const isReadable = unit.id !== 'tarnhollow' || tried === 'done'
  return { truth: { retroflexion: isReadable ? tried : undefined }, written: { retroflexionSaid: tried } }
}

/** An exchange is told by two instruments in one unit, and by an answer in the others; then nobody knows which came first. */
function instrument(random: Random, { unit }: Plan): Added {
  const first = random.chance(1800) ? 'paediatric' : 'adult'
  const isExchanged = random.chance(120)
  const isSaid = random.chance(habits[unit.id].instrument)
  const isUnmapped = unit.id === 'quernford' && random.chance(300)
  const answers = unit.id === 'quernford' && random.chance(5000)
  if (unit.id === 'ellenby') {
    if (!isSaid) return { truth: {}, written: {} }
    if (isExchanged) return { truth: { instrumentExchanged: true }, written: { instruments: ['adult', 'paediatric'] } }
    return { truth: { instrument: first }, written: { instruments: [first] } }
  }
  const exchangeSaid = isExchanged ? true : answers ? false : undefined
  return {
    truth: {
      instrument: isSaid && !isUnmapped && !isExchanged ? first : undefined,
      instrumentExchanged: exchangeSaid,
    },
    written: { instruments: isSaid ? [isUnmapped ? 'unmapped' : first] : [], exchangeSaid },
  }
}

/** Dye is for the surveillance of colitis; one unit says so when it was not used there. */
function aids(random: Random, { unit, row, day }: Plan): Added {
  const forColitis = row.inflammatoryBowelDisease && row.reason === 'surveillance'
  const dyed = random.chance(forColitis ? 3500 : 120)
  const isOn = random.chance(unit.id === 'ellenby' ? 5500 : 1000)
  const isAnswered = random.chance(9000)
  const detects =
    unit.id === 'ellenby'
      ? day >= detectionFrom && isAnswered
        ? isOn
        : undefined
      : unit.id === 'quernford' && isOn
        ? true
        : undefined
  return {
    truth: {
      dye: dyed ? true : forColitis && unit.id === 'ellenby' ? false : undefined,
      computerAidedDetection: detects,
    },
    written: {},
  }
}
