import type { FhirResource, Observation, ObservationComponent } from 'fhir/r4'
import { base, resourcesOf } from '../../src/wiring/guide/examples/base.ts'
import type { Example } from '../../src/wiring/guide/examples/example.ts'
import { at, ours } from '../../src/wiring/guide/examples/resources.ts'

type Change = (resource: FhirResource) => readonly FhirResource[]

const encounter = at('Encounter/example-encounter')
const ofBase: ReadonlySet<string | undefined> = new Set(Object.values(base).map(({ id }) => id))
/** Linked with the examination by itself: what is of a report's specimen is not. */
const isLoose = (one: FhirResource): boolean => 'partOf' in one && one.partOf !== undefined

/** Ways to link the same resource: as it is, by its encounter, by patient and day. */
const links: readonly Change[] = [
  (one) => [one],
  (one) => {
    if (!isLoose(one)) return [one]
    if (one.resourceType === 'MedicationAdministration') return [{ ...without(one, 'partOf'), context: encounter }]
    if (one.resourceType === 'Observation' || one.resourceType === 'Procedure')
      return [{ ...without(one, 'partOf'), encounter }]
    return [one]
  },
  (one) => {
    if (!isLoose(one)) return [one]
    if (one.resourceType === 'MedicationAdministration') return [without(one, 'partOf')]
    if (one.resourceType === 'Observation')
      return [{ effectiveDateTime: '2026-03-10T09:20:00Z', ...without(one, 'partOf') }]
    return [one]
  },
]

/** Shapes of the same statement: an observation of its own, or components of a panel without a code. */
const shapes: readonly Change[] = [
  (one) => [one],
  (one) => {
    if (one.resourceType !== 'Observation' || one.code.coding === undefined || one.specimen !== undefined) return [one]
    const { code, component = [], ...rest } = one
    const [own, others] = splitValue(rest)
    const panel = { ...others, code: { text: 'Panel' }, component: [{ code, ...own }, ...component] }
    return [panel as Observation]
  },
]

type Holder = Pick<Observation, 'valueBoolean' | 'valueInteger' | 'valueQuantity' | 'valueCodeableConcept'>

/** Types of the same value. */
const values: readonly ((holder: Holder) => object | undefined)[] = [
  () => undefined,
  ({ valueBoolean }) =>
    valueBoolean === undefined ? undefined : { valueCodeableConcept: ours(valueBoolean ? 'yes' : 'no') },
  ({ valueCodeableConcept }) =>
    valueCodeableConcept?.coding?.[0]?.code === 'attempted' ? { valueBoolean: true } : undefined,
  ({ valueInteger }) => (valueInteger === undefined ? undefined : { valueQuantity: { value: valueInteger } }),
  ({ valueInteger }) =>
    valueInteger === undefined ? undefined : { valueCodeableConcept: ours(`boston-${valueInteger}`) },
  ({ valueInteger, valueQuantity }) => {
    if (valueInteger !== undefined) return { valueString: String(valueInteger) }
    return valueQuantity && { valueString: `${valueQuantity.value} ${valueQuantity.unit}` }
  },
  ({ valueQuantity }) => valueQuantity && { valueInteger: Math.ceil(valueQuantity.value ?? 0) },
  ({ valueQuantity }) =>
    valueQuantity && { valuePeriod: { start: '2026-03-10T09:10:00Z', end: '2026-03-10T09:18:00Z' } },
]

/** The same example in every link, shape and type of value. */
export function* variantsOf(example: Example): Generator<FhirResource[]> {
  const all = resourcesOf(example)
  for (const link of links)
    for (const shape of shapes)
      for (const value of values)
        yield all.flatMap((one) =>
          ofBase.has(one.id) ? [dated(one, link)] : link(withValue(one, value)).flatMap((linked) => shape(linked)),
        )
}

/** The colonoscopy with an instant instead of a period, where nothing but patient and day links. */
function dated(resource: FhirResource, link: Change): FhirResource {
  if (resource.resourceType !== 'Procedure' || link !== links.at(-1)) return resource
  return { ...without(resource, 'performedPeriod'), performedDateTime: '2026-03-10T09:00:00Z' }
}

function withValue(resource: FhirResource, change: (typeof values)[number]): FhirResource {
  if (resource.resourceType !== 'Observation' || resource.specimen !== undefined) return resource
  const changed = <Of extends Observation | ObservationComponent>(holder: Of): Of => {
    const value = change(holder)
    return value === undefined ? holder : ({ ...splitValue(holder)[1], ...value } as Of)
  }
  const { component } = resource
  return { ...changed(resource), ...(component && { component: component.map(changed) }) }
}

/** What holds the value of an observation, and the rest of it. */
function splitValue(holder: object): [object, object] {
  const isValue = ([name]: [string, unknown]) => name.startsWith('value') || name === 'dataAbsentReason'
  const all = Object.entries(holder)
  return [Object.fromEntries(all.filter(isValue)), Object.fromEntries(all.filter((one) => !isValue(one)))]
}

function without<Of extends object, Name extends keyof Of>(resource: Of, name: Name): Omit<Of, Name> & Of {
  const { [name]: _, ...rest } = resource
  return rest as Omit<Of, Name> & Of
}
