import type { FhirResource } from 'fhir/r4'
import type { Rung } from '../../linkage/rungs.ts'
import type { FeedKind, Field } from '../../record/field.ts'
import { fieldGroups } from '../../record/fields.ts'
import { accepted } from './accepted.ts'
import { type Chapter, chapters } from './chapters.ts'
import { type CodeList, CodeLists, type GuideCodes } from './code-lists.ts'
import { base, baseSource } from './examples/base.ts'
import type { Example, ExampleChanges, ExampleSettings } from './examples/example.ts'
import { exampleOf, examples } from './examples/examples.ts'
import type { Way } from './way.ts'

export interface GuideWay {
  /** Elements that are read, the best first. */
  readonly elements: readonly string[]
  /** By which rungs of the ladder, the strongest first; none for what is configuration. */
  readonly rungs: readonly Rung[]
  readonly codes: readonly GuideCodes[]
  readonly note?: string
}

/** All that the guide says of one fact. */
export interface GuideEntry {
  /** Name of the fact; `polyps.site` for a fact of a list's elements. */
  readonly field: string
  readonly type: Field['type']
  readonly short: string
  readonly filledBy: string
  /** UCUM unit. */
  readonly unit?: string
  readonly words?: readonly string[]
  /** Kind of feed whose declared completeness lets absence mean none. */
  readonly feed?: FeedKind
  /** The strongest first. */
  readonly ways: readonly GuideWay[]
  /** Id of the example that fills it. */
  readonly example: string
}

export interface GuideExample {
  readonly id: string
  readonly title: string
  /** Elements that change in resources of the base, by their reference. */
  readonly changes: Readonly<Record<string, object>>
  readonly resources: readonly object[]
  readonly settings?: ExampleSettings
  /** What the record then says. */
  readonly gives: object
}

export interface WiringGuide {
  readonly chapters: readonly Chapter[]
  /** Source and resources that every example stands beside. */
  readonly base: { readonly source: object; readonly resources: readonly object[] }
  readonly groups: readonly { readonly name: string; readonly fields: readonly GuideEntry[] }[]
  readonly examples: readonly GuideExample[]
  readonly lists: readonly CodeList[]
}

/**
 * The wiring guide: what to send so that every fact of the record is filled, made from the tables by which linkage and criteria
 * work.
 *
 * @param published the value sets, concept maps and code systems of `measures/`
 * @throws {Error} where the guide names a list, a code or an example that does not exist
 */
export function wiringGuide(published: readonly FhirResource[]): WiringGuide {
  const codeLists = new CodeLists(published)
  const used = new Set<string>()
  const wayOf = ({ codes = [], ...rest }: Way): GuideWay => {
    const expanded = codes.flatMap((one) => codeLists.of(one))
    for (const { list } of expanded) if (list !== undefined) used.add(list)
    return { ...rest, codes: expanded }
  }
  const groups = Object.entries(fieldGroups).map(([name, ofGroup]) => ({
    name,
    fields: Object.entries<Field>(ofGroup).flatMap(([field, definition]) => [
      entryOf(field, definition, wayOf),
      ...Object.entries(definition.of ?? {}).map(([inner, one]) => entryOf(`${field}.${inner}`, one, wayOf)),
    ]),
  }))
  return {
    chapters,
    base: { source: baseSource, resources: Object.values(base) },
    groups,
    examples: examples.map(shownExample),
    lists: [...used].sort().map((id) => codeLists.at(id)),
  }
}

const ways: Readonly<Record<string, readonly Way[]>> = accepted

function entryOf(field: string, definition: Field, wayOf: (way: Way) => GuideWay): GuideEntry {
  const { type, short, filledBy, unit, values, feed } = definition
  const example = exampleOf(field)
  if (example === undefined) throw new Error(`The wiring guide has no example of ${field}.`)
  return {
    field,
    type,
    short,
    filledBy,
    ...(unit && { unit }),
    ...(values && { words: values }),
    ...(feed && { feed }),
    ways: (ways[field] ?? []).map(wayOf),
    example: example.id,
  }
}

function shownExample({ id, title, changes = {}, resources = [], settings, gives }: Example): GuideExample {
  return { id, title, changes: byReference(changes), resources, ...(settings && { settings }), gives }
}

function byReference({ procedure, encounter, patient, report }: ExampleChanges): Record<string, object> {
  const name = ({ resourceType, id }: { resourceType: string; id: string }) => `${resourceType}/${id}`
  return {
    ...(patient && { [name(base.patient)]: patient }),
    ...(encounter && { [name(base.encounter)]: encounter }),
    ...(procedure && { [name(base.procedure)]: procedure }),
    ...(report && { [name(base.report)]: report }),
  }
}
