import type { ConceptMap } from 'fhir/r4'
import * as z from 'zod'
import type { Source } from '../config.ts'
import { feedKinds } from '../record/field.ts'

/** A FHIR base address: http or https, no user name, no query; given back without its trailing slash. */
export const baseAddress = z.string().transform((text, context) => {
  const url = URL.parse(text.trim())
  const fault =
    url?.protocol !== 'http:' && url?.protocol !== 'https:'
      ? 'must be an http or https address, such as https://fhir.example.org/r4'
      : url.username !== '' || url.password !== ''
        ? 'must not hold a user name or password'
        : /[?#]/.test(text)
          ? 'must be a base address, without a query or fragment'
          : undefined
  if (url === null || fault !== undefined) {
    context.addIssue({ code: 'custom', message: fault ?? 'must be an address' })
    return z.NEVER
  }
  return `${url.origin}${url.pathname}`.replace(/\/+$/, '')
})

/** A time zone by its IANA name. Fixed offsets are refused: they are wrong for half of the year in most places. */
export const zoneName = z.string().refine(isZone, 'must be an IANA time zone, such as Europe/Dublin or UTC')

function isZone(name: string): boolean {
  if (!/^[A-Za-z]/.test(name)) return false
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }) !== undefined
  } catch {
    return false // Intl knows no such zone.
  }
}

export const feedKind = z.enum(feedKinds, `must be one of ${feedKinds.join(', ')}`)

export const lagDays = z
  .int('must be a whole number of days')
  .min(0, 'must not be negative')
  .max(3650, 'must be 3650 days at most')

const knownBy = ['own-hospital', 'call-back', 'register', 'not-stated'] as const satisfies Source['eventsKnownBy'][]
export const eventsKnownBy = z.enum(knownBy, `must be one of ${knownBy.join(', ')}`)

const name = z.string().trim().min(1, 'must not be empty')
const names = z.array(name)

const unit = z.strictObject({
  // A unit's id is written into addresses (x-unit=) and into Organization references.
  id: z.string().regex(/^[A-Za-z0-9.-]{1,64}$/, 'must be 1 to 64 letters, digits, dots or hyphens'),
  name,
  zone: zoneName.exactOptional(),
  match: z.strictObject({
    procedureLocation: names.exactOptional(),
    encounterLocation: names.exactOptional(),
    serviceProvider: names.exactOptional(),
    onBehalfOf: names.exactOptional(),
  }),
})

/** Only a target that says what the code means needs a code: `unmatched` is complete without one (R4, ConceptMap). */
const mapTarget = z
  .looseObject({ code: z.string().optional(), equivalence: z.string() })
  .refine(({ code, equivalence }) => code !== undefined || equivalence === 'unmatched' || equivalence === 'disjoint')

/** As much of a ConceptMap as is used; the rest is left as it is. */
const conceptMapShape = z.looseObject({
  resourceType: z.literal('ConceptMap'),
  status: z.string(),
  group: z.array(
    z.looseObject({
      source: z.string(),
      target: z.string(),
      element: z.array(
        z.looseObject({
          code: z.string(),
          target: z.array(mapTarget).optional(),
        }),
      ),
    }),
  ),
})
const conceptMap = z.custom<ConceptMap>(
  (json) => conceptMapShape.safeParse(json).success,
  'must be a FHIR R4 ConceptMap with status and groups, each with source, target and elements',
)

const comfortScore = z
  .int('must be a whole number')
  .min(1, 'must be from 1 to 5')
  .max(5, 'must be from 1 to 5')
  .exactOptional()

/** Scores 0 to 4 to scores 1 to 5. On both scales higher is worse, so a map that falls has mistaken one of them. */
const comfortMap = z
  .strictObject({ '0': comfortScore, '1': comfortScore, '2': comfortScore, '3': comfortScore, '4': comfortScore })
  .refine((map) => isRising(Object.entries(map)), 'must not map a worse score to a better one: higher is worse on both')

/** Whether values never fall from one key to the next; keys of one digit are in order. */
const isRising = (entries: readonly (readonly [string, number])[]): boolean =>
  entries.every(([, value], index) => index === 0 || value >= (entries[index - 1]?.[1] ?? 0))

const source = z.strictObject({
  id: z.string().regex(/^[A-Za-z0-9.-]{1,64}$/, 'must be 1 to 64 letters, digits, dots or hyphens'),
  baseUrl: baseAddress,
  zone: zoneName,
  units: z.array(unit).default([]),
  practitionerSystem: name.exactOptional(),
  completeFeeds: z.array(feedKind).default([]),
  pathologyLagDays: lagDays.default(60),
  eventLagDays: lagDays.default(0),
  eventsKnownBy: eventsKnownBy.default('not-stated'),
  readsText: z.boolean('must be true or false').exactOptional(),
  comfortMap: comfortMap.exactOptional(),
  conceptMaps: z.array(conceptMap).default([]),
})

/** The list of sources as the variable SOURCES holds it: the properties of `Source`, with its defaults. */
export const sourceList = z
  .array(source)
  .min(1, 'must name at least one source')
  .superRefine((sources, context) => {
    const report = (message: string): void => context.addIssue({ code: 'custom', message })
    for (const id of repeated(sources.map(({ id }) => id))) report(`two sources have the id ${id}`)
    // Figures are added up by unit id, so one id for two units would pool them in silence.
    for (const id of repeated(sources.flatMap(({ units }) => units.map(({ id }) => id))))
      report(`two units have the id ${id}`)
  })

function repeated(ids: readonly string[]): Set<string> {
  return new Set(ids.filter((id, index) => ids.indexOf(id) !== index))
}
