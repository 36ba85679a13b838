import { batches } from './batches.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { idsPerList, readAll } from './reading.ts'
import { type Resource, referencesAt, targetOf } from './references.ts'

/** Elements whose targets are read by id where they did not arrive otherwise: by type, element, and types of the target. */
const named: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  Procedure: {
    encounter: ['Encounter'],
    subject: ['Patient'],
    performer: ['Practitioner', 'PractitionerRole'],
    basedOn: ['ServiceRequest'],
    reasonReference: ['Condition', 'Observation'],
    report: ['DiagnosticReport'],
    complicationDetail: ['Condition'],
    partOf: ['Procedure'],
    usedReference: ['Device'],
    focalDevice: ['Device'],
  },
  Patient: { link: ['Patient'] },
  Encounter: { participant: ['Practitioner', 'PractitionerRole'] },
  PractitionerRole: { practitioner: ['Practitioner'] },
  ServiceRequest: { reasonReference: ['Condition', 'Observation'] },
  DiagnosticReport: { basedOn: ['ServiceRequest'], result: ['Observation'], specimen: ['Specimen'], media: ['Media'] },
  Observation: { hasMember: ['Observation'], specimen: ['Specimen'] },
  Specimen: { request: ['ServiceRequest'], parent: ['Specimen'] },
  AdverseEvent: { resultingCondition: ['Condition'], suspectEntity: ['Procedure'] },
  MedicationAdministration: { medicationReference: ['Medication'] },
}

/** Steps from an examination along references; the longest chain that means something has six. */
const mostSteps = 10

/**
 * Reads by `_id` what the gathered resources name and what is still missing, step by step until nothing new is named. Only
 * this source is asked: references to other servers are counted and not followed.
 */
export async function readNamed(connection: Connection, collected: Collected): Promise<void> {
  const { source } = connection
  const asked = new Set<string>()
  const unfollowed = new Set<string>()
  for (let step = 1; ; step += 1) {
    const missing = new Map<string, Set<string>>()
    let promoted = false
    for (const resource of collected.resources.all()) {
      for (const target of targetsOf(resource, unfollowed)) {
        if (asked.has(target) || collected.resources.has(target)) continue
        if (collected.promote(target)) {
          promoted = true
          continue
        }
        const type = target.slice(0, target.indexOf('/'))
        const keys = missing.get(type) ?? new Set()
        missing.set(type, keys.add(target))
      }
    }
    if (missing.size === 0 && !promoted) break
    if (step > mostSteps) {
      collected.incomplete.add(`Source ${source.id}: references were followed for ${mostSteps} steps and no further.`)
      break
    }
    await Promise.all(
      [...missing].map(async ([type, keys]) => {
        for (const key of keys) asked.add(key)
        await readById(connection, collected, type, [...keys].sort())
      }),
    )
  }
  tellMissing(collected, asked)
  if (unfollowed.size > 0) {
    collected.notes.add(
      `Source ${source.id}: ${unfollowed.size} references name something outside this source, or not by its id, and were not followed.`,
    )
  }
}

function targetsOf(resource: Resource, unfollowed: Set<string>): string[] {
  const elements = named[resource.resourceType]
  if (!elements) return []
  return Object.entries(elements).flatMap(([element, types]) =>
    referencesAt(resource, element).flatMap((reference) => {
      if (reference.startsWith('#')) return []
      const target = targetOf(reference)
      if (target === undefined) unfollowed.add(reference)
      return target !== undefined && types.some((type) => target.startsWith(`${type}/`)) ? [target] : []
    }),
  )
}

/** Reads resources of one type by their keys (Type/id). */
export async function readById(
  connection: Connection,
  collected: Collected,
  resourceType: string,
  keys: readonly string[],
): Promise<void> {
  const ids = keys.map((key) => key.slice(resourceType.length + 1))
  const rest = `${connection.source.baseUrl}/${resourceType}?_id=&_count=${connection.pageSize}`.length
  const queries = batches(ids, rest, idsPerList).map((list) => {
    const wanted = new Set<unknown>(list)
    return { resourceType, parameters: { _id: list.join(',') }, allows: ({ id }: Resource) => wanted.has(id) }
  })
  await readAll(connection, collected, queries, { asked: `${resourceType} by _id` })
}

function tellMissing(collected: Collected, asked: ReadonlySet<string>): void {
  const counts = new Map<string, number>()
  for (const key of asked) {
    if (collected.resources.has(key)) continue
    const type = key.slice(0, key.indexOf('/'))
    counts.set(type, (counts.get(type) ?? 0) + 1)
  }
  for (const [type, count] of counts) {
    collected.incomplete.add(
      `Source ${collected.sourceId}: ${count} ${type} resources that other records name were not found.`,
    )
  }
}
