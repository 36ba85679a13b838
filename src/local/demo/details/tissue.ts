import type { Jar, Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthDetails } from '../truth-details.ts'
import type { TruthPolyp } from '../truth-row.ts'
import type { Added, Tissue } from './details.ts'
import { habits } from './habits.ts'

/** Architecture and grade of what lies in the jars: the class of nothing changes with them. */
export function detailTissue(
  random: Random,
  plan: Plan,
  polyps: readonly TruthPolyp[],
): Added & { readonly polyps: readonly TruthPolyp[] } {
  const tissue = plan.jars.map((jar) => detailJar(random, plan, jar))
  return { truth: told(plan, polyps, tissue), written: { tissue }, polyps: withHistology(plan, polyps, tissue) }
}

/** Jars of which a report speaks that is final and known by now. */
function readJars({ row, jars, pathology }: Plan): readonly Jar[] {
  if (row.pathology === 'final') return jars
  return pathology.form === 'one-jar-outstanding' ? jars.slice(0, -1) : []
}

/** In one unit the reports name no jar, so that nothing is known of a single polyp. */
function withHistology(plan: Plan, polyps: readonly TruthPolyp[], tissue: readonly Tissue[]): readonly TruthPolyp[] {
  if (plan.unit.id === 'tarnhollow') return polyps
  const jars = readJars(plan)
  return polyps.map((polyp, position) => {
    const jar = jars.findIndex((one) => one.polyps.includes(position))
    const { dysplasia, villous } = tissue[jar] ?? {}
    if (jar < 0) return polyp
    return {
      ...polyp,
      histology: polyp.nature,
      ...(dysplasia !== undefined && { dysplasia }),
      ...(polyp.nature === 'conventional-adenoma' && villous !== undefined && { villous }),
    }
  })
}

function detailJar(random: Random, { unit, row }: Plan, { nature, polyps }: Jar): Tissue {
  const size = Math.max(0, ...polyps.map((position) => row.polyps[position]?.sizeMillimetres ?? 4))
  const villous = random.chance(size < 10 ? 300 : size < 20 ? 2200 : 4200)
  const high = random.chance(size < 10 ? 60 : size < 20 ? 600 : 1500)
  const isGraded = random.chance(habits[unit.id].dysplasia)
  const isDysplastic = random.chance(nature === 'other' ? (row.inflammatoryBowelDisease ? 350 : 0) : 700)
  // One unit's laboratory grades nothing but high-grade dysplasia, and names no jars.
  const isWritten = nature === 'conventional-adenoma' && isGraded && (unit.id !== 'tarnhollow' || high)
  return {
    villous: nature === 'conventional-adenoma' && villous,
    ...(isWritten && { dysplasia: high ? 'high-grade' : 'low-grade' }),
    dysplastic:
      isDysplastic &&
      (nature === 'sessile-serrated-lesion' || (nature === 'other' && polyps.length === 0 && unit.id !== 'tarnhollow')),
  }
}

/** What the reports that are final and known by now say of all of it. */
function told(plan: Plan, polyps: readonly TruthPolyp[], tissue: readonly Tissue[]): TruthDetails {
  const { row, jars, unit } = plan
  const isFinal = row.pathology === 'final'
  const read = readJars(plan).map((jar, position) => ({ jar, tissue: tissue[position] }))
  const adenomas = read.filter(({ jar }) => jar.nature === 'conventional-adenoma')
  const nothingSent =
    row.pathology === 'not-sent' &&
    polyps.every(({ handling }) => handling !== undefined) &&
    (polyps.length > 0 || row.report === 'final' || (row.report === undefined && !row.stopped))
  const noAdenoma = nothingSent || (isFinal && adenomas.length === 0)
  const any = (has: (one: Tissue) => boolean | undefined): boolean | undefined => {
    const said = adenomas.map((one) => one.tissue && has(one.tissue))
    if (said.includes(true)) return true
    return noAdenoma || (isFinal && said.every((one) => one === false)) ? false : undefined
  }
  const flat = read.filter(({ jar }) => jar.polyps.length === 0)
  return {
    villousAdenomaFound: any(({ villous }) => villous),
    highGradeDysplasiaFound: any(({ dysplasia }) => (dysplasia === undefined ? undefined : dysplasia === 'high-grade')),
    colitisDysplasiaFound: flat.some((one) => one.tissue?.dysplastic) ? true : isFinal ? false : undefined,
    largestAdenomaMillimetres: isFinal && unit.id !== 'tarnhollow' ? largest(polyps, jars) : undefined,
  }
}

/** Known only where no adenoma without a size can be larger. */
function largest(polyps: readonly TruthPolyp[], jars: readonly Jar[]): number | undefined {
  const adenomas = jars
    .filter(({ nature }) => nature === 'conventional-adenoma')
    .flatMap((jar) => jar.polyps.flatMap((position) => polyps[position] ?? []))
  const sizes = adenomas.flatMap(({ sizeMillimetres }) => sizeMillimetres ?? [])
  const most = Math.max(...sizes)
  const mayBeLarger = adenomas.some(
    ({ sizeMillimetres, sizeAtMostMillimetres: atMost }) =>
      sizeMillimetres === undefined && (atMost === undefined || atMost > most),
  )
  return sizes.length === 0 || mayBeLarger ? undefined : most
}
