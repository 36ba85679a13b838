import type { Course } from './course.ts'
import type { Jar, PatientPlan } from './plan.ts'
import type { Random } from './random.ts'
import type { DemoReason, DemoUnit, Endoscopist } from './region.ts'
import type { Slot } from './schedule.ts'
import type { TruthPolyp } from './truth-row.ts'
import type { Handling, Nature, Retrieval, Site } from './truth-words.ts'

export interface Findings {
  readonly polyps: readonly TruthPolyp[]
  readonly randomBiopsies: number
  readonly jars: readonly Jar[]
}

/** Chance in 10,000 that an average endoscopist finds an adenoma in an average patient. */
const adenomaChance: Readonly<Record<DemoReason, number>> = {
  'known-lesion': 8600,
  'site-check': 2600,
  'positive-screening-test': 5000,
  surveillance: 4150,
  'symptoms-positive-test': 3600,
  symptoms: 2350,
  screening: 3250,
}
const cancerChance: Readonly<Partial<Record<DemoReason, number>>> = {
  'positive-screening-test': 480,
  'symptoms-positive-test': 460,
  symptoms: 220,
  screening: 60,
}
const sites: readonly (readonly [Site, number])[] = [
  ['rectum', 16],
  ['sigmoid', 28],
  ['descending', 12],
  ['splenic-flexure', 4],
  ['transverse', 14],
  ['hepatic-flexure', 6],
  ['ascending', 13],
  ['caecum', 7],
]
const leftSites = sites.slice(0, 3)

export function makeFindings(
  random: Random,
  slot: Slot,
  person: Endoscopist,
  course: Course,
  patient: { readonly plan: PatientPlan; readonly age: number; readonly colitis: boolean; readonly syndrome: boolean },
  attached: boolean,
): Findings {
  const natures = [
    ...adenomas(random, slot, person, course, patient, attached),
    ...some(random, 'sessile-serrated-lesion', 420),
    ...some(random, 'traditional-serrated-adenoma', 60),
    ...some(random, 'hyperplastic', 1700),
    ...some(random, 'cancer', cancerChance[slot.reason] ?? 0),
    ...some(random, 'other', 260),
  ]
  const polyps = natures.map((nature) => onePolyp(random, slot.unit, nature, course))
  const wantsBiopsies = patient.colitis ? 7500 : slot.reason === 'symptoms' ? 1500 : 60
  const randomBiopsies = random.chance(wantsBiopsies) ? random.between(1, 3) : 0
  const only = polyps[0]
  // Now and then a polyp is named and nothing more is said of it.
  if (only !== undefined && polyps.length === 1 && randomBiopsies === 0 && random.chance(160))
    return { polyps: [{ site: only.site, nature: only.nature }], randomBiopsies, jars: [] }
  return { polyps, randomBiopsies, jars: fillJars(random, slot.unit, polyps, randomBiopsies) }
}

function adenomas(
  random: Random,
  slot: Slot,
  person: Endoscopist,
  course: Course,
  patient: { readonly plan: PatientPlan; readonly age: number; readonly colitis: boolean; readonly syndrome: boolean },
  attached: boolean,
): Nature[] {
  const thousandths = [
    person.finding,
    course.clean ? 1000 : 600,
    course.reached ? 1030 : 450,
    patient.age < 45 ? 500 : patient.age > 69 ? 1150 : 1000,
    patient.plan.sex === 'male' ? 1180 : 850,
    patient.colitis ? 400 : 1000,
    patient.syndrome ? 1500 : 1000,
    attached ? 1060 : 1000,
  ]
  const parts = thousandths.reduce((left, factor) => Math.trunc((left * factor) / 1000), adenomaChance[slot.reason])
  const found: Nature[] = []
  if (random.chance(parts)) {
    found.push('conventional-adenoma')
    while (found.length < 9 && random.chance(patient.syndrome ? 6500 : 3700)) found.push('conventional-adenoma')
  }
  return found
}

function some(random: Random, nature: Nature, parts: number): Nature[] {
  if (!random.chance(parts)) return []
  return random.chance(1800) ? [nature, nature] : [nature]
}

function onePolyp(random: Random, unit: DemoUnit, nature: Nature, course: Course): TruthPolyp {
  const size = random.weighted([
    [random.between(2, 5), 62],
    [random.between(6, 9), 24],
    [random.between(10, 30), nature === 'hyperplastic' ? 2 : 14],
  ] as const)
  const handling = handlingOf(random, nature)
  const retrieval =
    handling === 'removed' ? retrievalOf(random, unit, size) : handling === 'biopsied' ? 'retrieved' : undefined
  return {
    site: random.weighted(course.reached ? sites : leftSites),
    ...(random.chance(9600) && { sizeMillimetres: size }),
    handling,
    ...(retrieval !== undefined && { retrieval }),
    nature,
  }
}

function handlingOf(random: Random, nature: Nature): Handling {
  if (nature === 'cancer') return 'biopsied'
  if (nature === 'hyperplastic')
    return random.weighted([
      ['removed', 62],
      ['left', 32],
      ['biopsied', 6],
    ] as const)
  return random.weighted([
    ['removed', 95],
    ['left', 2],
    ['biopsied', 3],
  ] as const)
}

function retrievalOf(random: Random, unit: DemoUnit, size: number): Retrieval {
  // Only one unit has a declared protocol for discarding the smallest polyps.
  if (unit.id === 'ellenby' && size <= 5 && random.chance(500)) return 'discarded-under-protocol'
  return random.chance(350) ? 'not-retrieved' : 'retrieved'
}

/** One unit puts several alike polyps into one jar; the others use a jar for each. */
function fillJars(random: Random, unit: DemoUnit, polyps: readonly TruthPolyp[], randomBiopsies: number): Jar[] {
  const jars: Jar[] = []
  polyps.forEach(({ retrieval, nature }, position) => {
    if (retrieval !== 'retrieved') return
    const shared = unit.id === 'ellenby' ? jars.find((jar) => jar.nature === nature) : undefined
    if (shared && random.chance(6000)) shared.polyps.push(position)
    else jars.push({ nature, polyps: [position] })
  })
  for (let pot = 0; pot < randomBiopsies; pot++) jars.push({ nature: 'other', polyps: [] })
  return jars
}
