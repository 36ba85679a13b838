import type { Rung } from '../../linkage/rungs.ts'
import type { fieldGroups } from '../../record/fields.ts'

/** Codes that are understood in one element: any of the lists named, or any of the codes of ours. */
export interface CodesOn {
  /** Element that holds the code. */
  readonly on: string
  /** Ids of published value sets. */
  readonly valueSets?: readonly string[]
  /** Ids of published concept maps: their sources are understood. */
  readonly conceptMaps?: readonly string[]
  /** Codes of our own code system. */
  readonly ours?: readonly string[]
  /** Codes of FHIR's own vocabularies. */
  readonly fhir?: readonly { readonly system?: string; readonly code: string }[]
}

/** One way in which a fact may come. */
export interface Way {
  /** Elements that are read, the best first. */
  readonly elements: readonly string[]
  /** By which rungs, the strongest first; none for what is configuration. */
  readonly rungs: readonly Rung[]
  readonly codes?: readonly CodesOn[]
  readonly note?: string
}

type Groups = typeof fieldGroups

/** Names of the facts of some group, those of the elements of its lists as `polyps.site` among them. */
export type GuideFieldOf<Group> = {
  [Name in keyof Group & string]:
    | Name
    | (Group[Name] extends { readonly of: infer Of } ? `${Name}.${keyof Of & string}` : never)
}[keyof Group & string]

/** Name of any fact that the guide tells of. */
export type GuideField = { [Group in keyof Groups]: GuideFieldOf<Groups[Group]> }[keyof Groups]

/** The ways of every fact of a group; one without does not compile. */
export type WaysOf<Group> = Readonly<Record<GuideFieldOf<Group>, readonly Way[]>>
