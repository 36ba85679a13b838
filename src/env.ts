import * as z from 'zod'
import type { Source } from './config.ts'
import { ReportableError } from './errors.ts'
import { isCalendarDate } from './fhir/dates.ts'
import { baseAddress, eventsKnownBy, feedKind, lagDays, sourceList, zoneName } from './source/source-schema.ts'

/** The worker's variables and secrets, as the platform hands them over: text, or absent. Empty text counts as absent. */
export interface Env {
  /** Base address of the one FHIR server that is read; else SOURCES. */
  readonly FHIR_BASE_URL?: string
  /** IANA zone in which that server's civil dates are decided; demanded with FHIR_BASE_URL. */
  readonly TIME_ZONE?: string
  /** Comma list of the kinds of fact of which that server sends every one, so that absence means none. */
  readonly FEEDS?: string
  /** Identifier system that tells its practitioners apart. */
  readonly PRACTITIONER_SYSTEM?: string
  /** How events become known there: own-hospital, call-back, register, not-stated. */
  readonly EVENTS_KNOWN_BY?: string
  /** Days after which histology that has not come is missing; 60 by default. */
  readonly PATHOLOGY_LAG_DAYS?: string
  /** Days after its window within which an event may still reach the record; 0 by default. */
  readonly EVENT_LAG_DAYS?: string
  /** 'true' where the free text of that server's pathology reports and reasons may be read; it is not by default. */
  readonly READ_FREE_TEXT?: string
  /** JSON list of sources, with the properties of `Source`. */
  readonly SOURCES?: string
  /** Date or instant as of which everything is read; the present by default. */
  readonly AS_OF?: string
  /** Secret that callers present as a bearer token. */
  readonly ACCESS_TOKEN?: string
  /** 'true' under the local start command alone, which serves this machine only. */
  readonly LOCAL_START?: string
}

export interface Configuration {
  readonly sources: readonly Source[]
  readonly asOf?: string
  readonly accessToken?: string
  readonly localStart: boolean
}

const wholeNumber = z
  .string()
  .regex(/^\d{1,9}$/, 'must be a whole number of days')
  .transform(Number)
  .pipe(lagDays)

const commaList = z.string().transform((text) =>
  text
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== ''),
)

/** Variables that describe the one source of FHIR_BASE_URL. */
const oneSource = {
  TIME_ZONE: zoneName,
  FEEDS: commaList.pipe(z.array(feedKind)).default([]),
  PRACTITIONER_SYSTEM: z.string().exactOptional(),
  EVENTS_KNOWN_BY: eventsKnownBy.default('not-stated'),
  PATHOLOGY_LAG_DAYS: wholeNumber.default(60),
  EVENT_LAG_DAYS: wholeNumber.default(0),
  READ_FREE_TEXT: z.enum(['true', 'false'], "must be 'true' or 'false'").default('false'),
}

const always = {
  AS_OF: z
    .union(
      [z.iso.datetime({ offset: true }), z.iso.date()],
      'must be a date such as 2026-08-15, or an instant with its zone',
    )
    .refine((text) => isCalendarDate(text.slice(0, 10)), 'must be a day of the calendar')
    .exactOptional(),
  // The characters of a bearer token, RFC 6750, 2.1: with any other no request could ever match.
  ACCESS_TOKEN: z
    .string()
    .regex(/^[A-Za-z0-9\-._~+/]+=*$/, 'must consist of letters, digits and - . _ ~ + / only')
    .exactOptional(),
  LOCAL_START: z.enum(['true', 'false'], "must be 'true' or 'false'").default('false'),
}

const fromVariables = z.object({ ...always, FHIR_BASE_URL: baseAddress, ...oneSource })
const fromList = z.object({ ...always, SOURCES: jsonText().pipe(sourceList) })

/**
 * The configuration, read from the environment once.
 * @throws {ReportableError} configuration, naming every fault at once; no value is repeated, as some are secret
 */
export function readConfiguration(env: Env): Configuration {
  const given = withoutBlanks(env)
  const faults: string[] = []
  const read = <Shape extends z.ZodType>(schema: Shape): z.output<Shape> | undefined => {
    const result = schema.safeParse(given)
    if (!result.success) faults.push(...result.error.issues.map((issue) => describe(issue, given)))
    return result.data
  }
  let sources: readonly Source[] = []
  let rest: z.output<z.ZodObject<typeof always>> | undefined
  if (given.SOURCES !== undefined) {
    for (const name of ['FHIR_BASE_URL', ...Object.keys(oneSource)]) {
      if (given[name] !== undefined) faults.push(`${name}: cannot be given together with SOURCES; put it into the list`)
    }
    const settings = read(fromList)
    sources = settings?.SOURCES ?? []
    rest = settings
  } else {
    const settings = read(fromVariables)
    if (settings) sources = [sourceOf(settings)]
    rest = settings
  }
  if (rest === undefined || faults.length > 0) {
    throw new ReportableError('configuration', `The configuration cannot be used. ${faults.join('; ')}.`)
  }
  return {
    sources,
    ...(rest.AS_OF !== undefined && { asOf: rest.AS_OF }),
    ...(rest.ACCESS_TOKEN !== undefined && { accessToken: rest.ACCESS_TOKEN }),
    localStart: rest.LOCAL_START === 'true',
  }
}

function sourceOf(settings: z.output<typeof fromVariables>): Source {
  return {
    id: 'source',
    baseUrl: settings.FHIR_BASE_URL,
    zone: settings.TIME_ZONE,
    units: [],
    ...(settings.PRACTITIONER_SYSTEM !== undefined && { practitionerSystem: settings.PRACTITIONER_SYSTEM }),
    completeFeeds: settings.FEEDS,
    pathologyLagDays: settings.PATHOLOGY_LAG_DAYS,
    eventLagDays: settings.EVENT_LAG_DAYS,
    eventsKnownBy: settings.EVENTS_KNOWN_BY,
    readsText: settings.READ_FREE_TEXT === 'true',
    conceptMaps: [],
  }
}

function withoutBlanks(env: Env): Readonly<Record<string, unknown>> {
  const blank = (value: unknown): boolean => value === undefined || (typeof value === 'string' && value.trim() === '')
  return Object.fromEntries(Object.entries(env).filter(([, value]) => !blank(value)))
}

function jsonText() {
  return z.string('must be JSON text').transform((text, context): unknown => {
    try {
      return JSON.parse(text)
    } catch {
      context.addIssue({ code: 'custom', message: 'must be JSON text' })
      return z.NEVER
    }
  })
}

/** One fault in words: where, and what it should be. */
function describe(issue: z.core.$ZodIssue, given: Readonly<Record<string, unknown>>): string {
  const [variable, ...path] = issue.path
  const place = path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${String(step)}`)).join('')
  const absent = path.length === 0 && given[String(variable)] === undefined
  const choice = variable === 'FHIR_BASE_URL' ? 'not given; give it with TIME_ZONE, or give SOURCES' : 'not given'
  return `${String(variable)}${place}: ${absent ? choice : issue.message}`
}
