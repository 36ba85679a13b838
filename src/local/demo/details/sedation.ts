import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthDetails } from '../truth-details.ts'
import type { Added, Dose, Drug } from './details.ts'

type Regimen = readonly Drug[]

const regimens: readonly (readonly [Regimen, number])[] = [
  [['midazolam', 'fentanyl'], 52],
  [['midazolam', 'pethidine'], 11],
  [['midazolam'], 6],
  [['fentanyl'], 4],
  [['nitrous-oxide'], 9],
  [['nitrous-oxide', 'fentanyl'], 3],
  [[], 15],
]

/** Drugs given, each dose of which is sent; a few in millilitres, or with a code that nobody mapped. */
export function detailSedation(
  random: Random,
  plan: Plan,
  byAnaesthetist: boolean,
  anaesthetistLed: boolean | undefined,
): Added {
  const doses: Dose[] = []
  const regimen = byAnaesthetist ? (['propofol'] as const) : random.weighted(regimens)
  for (const drug of regimen) {
    const first = doseOf(random, drug)
    const inMillilitres = plan.unit.id === 'tarnhollow' && first !== undefined && random.chance(60)
    doses.push({ drug, after: 1, ...(first !== undefined && { amount: first }), ...(inMillilitres && volume) })
    const again = random.chance(drug === 'propofol' ? 7000 : 2400)
    if (again && first !== undefined) doses.push({ drug, amount: drug === 'midazolam' ? 1 : first / 2, after: 9 })
  }
  if (random.chance(1900)) {
    const isUnmapped = plan.unit.id === 'quernford' && random.chance(900)
    doses.push({ drug: 'antispasmodic', amount: 20, after: 6, ...(isUnmapped && unmapped) })
  }
  if (regimen.includes('midazolam') && random.chance(25)) doses.push({ drug: 'flumazenil', amount: 0.2, after: 14 })
  if (regimen.includes('fentanyl') && random.chance(8)) doses.push({ drug: 'naloxone', amount: 0.4, after: 14 })
  return { truth: told(doses, plan.row.report === 'preliminary', anaesthetistLed), written: { doses } }
}

const volume = { spoilt: 'volume' } as const
const unmapped = { spoilt: 'unmapped' } as const

function doseOf(random: Random, drug: Drug): number | undefined {
  switch (drug) {
    case 'midazolam':
      return random.pick([1, 1.5, 2, 2, 2.5, 3])
    case 'fentanyl':
      return random.pick([50, 50, 75, 100])
    case 'pethidine':
      return random.pick([25, 25, 50])
    case 'propofol':
      return random.between(8, 24) * 10
    default:
      return undefined
  }
}

/** What the records say in all: silence means none, unless the report is open or a drug has a name that nobody knows. */
function told(doses: readonly Dose[], isOpen: boolean, anaesthetistLed: boolean | undefined): TruthDetails {
  const named = doses.filter(({ spoilt }) => spoilt !== 'unmapped')
  const isSilent = !isOpen && named.length === doses.length
  const of = (...drugs: Drug[]) => named.filter(({ drug }) => drugs.includes(drug))
  const sum = (drug: Drug): number | undefined => {
    const given = of(drug)
    if (given.length === 0) return isSilent ? 0 : undefined
    return given.some(({ spoilt }) => spoilt) ? undefined : given.reduce((so, { amount = 0 }) => so + amount, 0)
  }
  const given = (...drugs: Drug[]): boolean | undefined =>
    of(...drugs).length > 0 ? true : isSilent ? false : undefined
  return {
    sedated: anaesthetistLed === true ? true : given('midazolam', 'fentanyl', 'pethidine', 'propofol'),
    midazolamMilligrams: sum('midazolam'),
    fentanylMicrograms: sum('fentanyl'),
    pethidineMilligrams: sum('pethidine'),
    propofolMilligrams: sum('propofol'),
    nitrousOxide: given('nitrous-oxide'),
    antispasmodic: given('antispasmodic'),
    reversalAgent: given('flumazenil', 'naloxone'),
  }
}
